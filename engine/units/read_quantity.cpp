#include "engine/units/read_quantity.hpp"

#include <algorithm>
#include <cmath>
#include <forward_list>
#include <utility>

#include <fmt/format.h>

#include "engine/units/dimension_table.hpp"
#include "engine/units/gauge.hpp"
#include "engine/units/quantity_text.hpp"

namespace packproof::units {

namespace {

using Form = WrittenQuantity::Form;

/// Numbers in SI units, before a quantity or a permitted range is made of them.
struct Resolved {
    double low = 0.0;
    double high = 0.0;
    double nominal = 0.0;
    const Unit* unit = nullptr;
    bool absolute = false;
    bool guess = false;
};

/// Reads one text; holds the first thing that is wrong with it.
class Reading {
  public:
    Reading(std::string_view text, const Expected& expected, UnitMemory* memory)
        : text_(text), expected_(expected), memory_(memory) {}

    /// What is wrong; nothing: `resolved` holds the numbers.
    std::optional<ReadError> read() {
        auto form = read_form(text_);
        if (auto* error = std::get_if<ReadError>(&form)) {
            if (error->hint.empty()) error->hint = example_hint();
            return *std::move(error);
        }
        written_ = std::get<WrittenQuantity>(form);
        resolved_.guess = written_.guess;
        resolve();
        if (!error_) check_absolute_zero();
        return std::move(error_);
    }

    const Resolved& resolved() const { return resolved_; }

  private:
    std::string_view text_;
    const Expected& expected_;
    UnitMemory* memory_;
    std::forward_list<Unit> own_;  ///< units that no memory keeps
    WrittenQuantity written_;
    Resolved resolved_;
    std::optional<ReadError> error_;

    void fail(std::size_t begin, std::size_t end, std::string text, std::string hint) {
        if (!error_) error_ = ReadError{begin, end, std::move(text), std::move(hint)};
    }
    std::string_view piece(std::size_t begin, std::size_t end) const {
        return text_.substr(begin, end - begin);
    }
    std::string_view unit_text(const WrittenNumber& number) const {
        return piece(number.unit_begin, number.unit_end);
    }
    std::string_view whole(const WrittenNumber& number) const {
        return piece(begin_of(number), std::max(end_of_number(number), number.unit_end));
    }
    std::size_t begin_of(const WrittenNumber& number) const {
        return written_.bracketed ? text_.find('(') : number.begin;
    }
    /// Where a unit follows.
    std::size_t end_of_number(const WrittenNumber& number) const {
        return written_.bracketed ? text_.find(')') + 1 : number.end;
    }

    // What to write instead.

    std::string example_unit() const {
        const auto units = units_of(expected_.dimension);
        if (!units.empty()) return std::string{units.front()};
        return base_units(expected_.dimension);
    }
    std::string example_hint() const {
        return fmt::format("write for example \"{}\"", with_unit("12", example_unit()));
    }
    static std::string with_unit(std::string_view number, std::string_view unit) {
        return unit.empty() ? std::string{number} : fmt::format("{} {}", number, unit);
    }
    /// The text as it stands with another unit in the place of this one.
    std::string repaired(const WrittenNumber& number, std::string_view unit) const {
        if (number.gauge) return with_unit("12", unit);
        const std::size_t end = end_of_number(number);
        std::string result{text_.substr(0, end)};
        if (!unit.empty()) result += fmt::format(" {}", unit);
        result += text_.substr(std::max(end, number.unit_end));
        return result;
    }

    // Units.

    static Unit charge_rate() {
        Unit unit;
        unit.symbol = "C";
        unit.dimension.exponent[Dimension::time] = -1;
        unit.factor = 1.0 / 3600.0;
        unit.scale = {1, 3600, 0, 0};
        return unit;
    }

    bool fits(const Unit& unit) const {
        return unit.dimension == expected_.dimension || (expected_.rate_allowed && unit.symbol == "C");
    }

    const Unit* known_unit(std::string_view spelling) {
        const Unit* unit = memory_ == nullptr ? nullptr : memory_->find(spelling);
        if (unit != nullptr) return unit;
        const auto read = read_unit(spelling);
        if (!read) return nullptr;
        if (memory_ != nullptr) unit = memory_->keep(spelling, *read);
        return unit != nullptr ? unit : &own_.emplace_front(*read);
    }

    /// A unit that stands in the text and fits what the field wants; null after a failure.
    const Unit* unit_of(const WrittenNumber& number) {
        static const Unit none;
        static const Unit rate = charge_rate();
        if (!number.has_unit()) {
            if (expected_.dimension.none()) return &none;
            fail(number.begin, number.end, fmt::format("\"{}\" has no unit", whole(number)),
                 fmt::format("write for example \"{}\"", repaired(number, example_unit())));
            return nullptr;
        }
        if (expected_.rate_allowed && unit_text(number) == "C") return &rate;
        const Unit* unit = known_unit(unit_text(number));
        if (unit == nullptr) {
            refuse_unknown_unit(number);
            return nullptr;
        }
        if (!fits(*unit)) {
            refuse_dimension(number, unit->dimension);
            return nullptr;
        }
        return unit;
    }

    void refuse_unknown_unit(const WrittenNumber& number) {
        const std::string_view unit = unit_text(number);
        const std::size_t word = unit.find(' ');
        if (word != std::string_view::npos && read_unit(unit.substr(0, word)))
            return fail(number.unit_begin + word, number.unit_end,
                        fmt::format("\"{}\" is more than a number and a unit", whole(number)),
                        fmt::format("write only \"{}\"", repaired(number, unit.substr(0, word))));
        const std::string near = nearest_unit(unit, expected_.dimension);
        fail(number.unit_begin, number.unit_end, fmt::format("the unit \"{}\" is not known", unit),
             near.empty() ? fmt::format("write for example \"{}\"", repaired(number, example_unit()))
                          : fmt::format("did you mean \"{}\"?", repaired(number, near)));
    }

    static std::string described(const Dimension& dimension) {
        if (find_dimension(dimension) == nullptr) return "a quantity in " + base_units(dimension);
        return with_article(dimension_name(dimension));
    }

    void refuse_dimension(const WrittenNumber& number, const Dimension& found) {
        const std::string near = nearest_unit(unit_text(number), expected_.dimension);
        const bool likely = !near.empty();
        fail(begin_of(number), std::max(number.end, number.unit_end),
             fmt::format("\"{}\" is {}, but {} is due", whole(number), described(found),
                         described(expected_.dimension)),
             fmt::format("{} \"{}\"{}", likely ? "did you mean" : "write for example",
                         repaired(number, likely ? near : example_unit()), likely ? "?" : ""));
    }

    // Numbers.

    /// An absolute temperature counts from absolute zero, still in its own degrees.
    Decimal counted(const Decimal& value, const Unit& unit) const {
        if (!is_absolute(unit) || unit.offset == 0.0) return value;
        const Decimal offset{static_cast<WideInteger>(std::llround(unit.offset * 100.0)), -2};
        const auto sum = add(value, offset);
        return sum ? *sum : value;
    }
    bool is_absolute(const Unit& unit) const { return expected_.absolute && unit.temperature; }
    double si_value(const WrittenNumber& number, const Unit& unit) const {
        if (number.gauge) return gauge_area(*number.gauge);
        return to_double(counted(number.value, unit), unit.scale);
    }

    void set_unit(const Unit& unit) {
        resolved_.unit = &unit;
        resolved_.absolute = is_absolute(unit);
    }
    void set_point(double value) { resolved_.low = resolved_.high = resolved_.nominal = value; }

    void resolve() {
        switch (written_.form) {
            case Form::single:
            case Form::at_most:
            case Form::at_least:
                return resolve_one();
            case Form::ends:
                return resolve_ends();
            case Form::tolerance:
                return resolve_tolerance();
            case Form::deviations:
                return resolve_deviations();
        }
    }

    void resolve_one() {
        const Unit* unit = unit_of(written_.first);
        if (unit == nullptr) return;
        set_unit(*unit);
        set_point(si_value(written_.first, *unit));
        if (written_.form == Form::at_most) resolved_.low = -unbounded;
        if (written_.form == Form::at_least) resolved_.high = unbounded;
    }

    void resolve_ends() {
        WrittenNumber& first = written_.first;
        const WrittenNumber& second = written_.second;
        if (!second.has_unit() && first.has_unit()) return refuse_late_unit(second, first);
        const Unit* const high_unit = unit_of(second);
        const Unit* const low_unit = first.has_unit() || !high_unit ? unit_of(first) : high_unit;
        if (!high_unit || !low_unit) return;
        if (low_unit->dimension != high_unit->dimension)
            return fail(first.begin, second.unit_end, "one end is a rate and the other is not",
                        "write both ends in one unit");
        set_unit(*high_unit);
        resolved_.low = si_value(first, *low_unit);
        resolved_.high = si_value(second, *high_unit);
        if (first.gauge && resolved_.low > resolved_.high) std::swap(resolved_.low, resolved_.high);
        if (resolved_.low > resolved_.high)
            return fail(first.begin, std::max(second.end, second.unit_end),
                        "the range begins at its upper end", fmt::format("write \"{}\"", turned_round()));
        resolved_.nominal = resolved_.low + (resolved_.high - resolved_.low) / 2.0;
    }

    std::string turned_round() const {
        const WrittenNumber& first = written_.first;
        const WrittenNumber& second = written_.second;
        const std::string_view low = piece(second.begin, second.end);
        const std::string_view high = piece(first.begin, first.end);
        if (!first.has_unit()) return with_unit(fmt::format("{} .. {}", low, high), unit_text(second));
        return fmt::format("{} .. {}", whole(second), whole(first));
    }

    void refuse_late_unit(const WrittenNumber& bare, const WrittenNumber& with) {
        fail(bare.begin, bare.end, fmt::format("\"{}\" has no unit", whole(bare)),
             fmt::format("write \"{}\"", repaired(bare, unit_text(with))));
    }

    bool is_percent(const WrittenNumber& number) const { return unit_text(number) == "%"; }

    void resolve_tolerance() {
        const WrittenNumber& first = written_.first;
        const WrittenNumber& second = written_.second;
        if (is_percent(second) && !is_percent(first) && !written_.bracketed) return resolve_relative();
        if (!second.has_unit() && first.has_unit()) return refuse_late_unit(second, first);
        const Unit* const tolerance_unit = unit_of(second);
        const Unit* const unit = first.has_unit() || !tolerance_unit ? unit_of(first) : tolerance_unit;
        if (!unit || !tolerance_unit) return;
        set_unit(*unit);
        resolved_.nominal = si_value(first, *unit);
        set_deviations(*unit, second.value, second.value, *tolerance_unit);
    }

    void resolve_deviations() {
        const WrittenNumber& first = written_.first;
        const WrittenNumber& third = written_.third;
        if (!third.has_unit() && first.has_unit()) return refuse_late_unit(third, first);
        if (is_percent(third) && !is_percent(first))
            return fail(third.unit_begin, third.unit_end, "deviations are not given in percent here",
                        "write them in the unit of the value");
        const Unit* const deviation_unit = unit_of(third);
        const Unit* const unit = first.has_unit() || !deviation_unit ? unit_of(first) : deviation_unit;
        if (!unit || !deviation_unit) return;
        set_unit(*unit);
        resolved_.nominal = si_value(first, *unit);
        set_deviations(*unit, written_.second.value, negative(third.value), *deviation_unit);
    }

    /// One rounding where both stand in one unit, so that "12 ± 0.2 mm" has the ends of "11.8 .. 12.2 mm".
    void set_deviations(const Unit& unit, Decimal up, Decimal down, const Unit& deviation_unit) {
        const Decimal middle = counted(written_.first.value, unit);
        const auto high = add(middle, up);
        const auto low = add(middle, negative(down));
        const bool same_unit = deviation_unit.scale == unit.scale;
        resolved_.high = same_unit && high ? to_double(*high, unit.scale)
                                           : resolved_.nominal + to_double(up, deviation_unit.scale);
        resolved_.low = same_unit && low ? to_double(*low, unit.scale)
                                         : resolved_.nominal - to_double(down, deviation_unit.scale);
    }

    void resolve_relative() {
        const WrittenNumber& first = written_.first;
        const Decimal percent{written_.second.value.mantissa, written_.second.value.exponent - 2};
        const Unit* const unit = unit_of(first);
        if (!unit) return;
        if (is_absolute(*unit) && unit->offset != 0.0)
            return fail(
                written_.second.begin, written_.second.unit_end,
                fmt::format("a percentage of a temperature in {} says nothing", unit->symbol),
                fmt::format("write for example \"{} ± 2 {}\"", piece(first.begin, first.end), unit->symbol));
        if (!first.has_unit() && !only_relative(percent)) return refuse_two_readings();
        set_unit(*unit);
        resolved_.nominal = si_value(first, *unit);
        const double ends[] = {relative_end(*unit, percent), relative_end(*unit, negative(percent))};
        resolved_.low = std::min(ends[0], ends[1]);
        resolved_.high = std::max(ends[0], ends[1]);
    }

    double relative_end(const Unit& unit, Decimal part) const {
        const auto share = add(Decimal{1, 0}, part);
        const auto end = share ? multiply(written_.first.value, *share) : std::nullopt;
        if (end) return to_double(*end, unit.scale);
        return resolved_.nominal + resolved_.nominal * to_double(part);
    }

    /// "0.20 ± 35 %" cannot be (0.20 ± 35) %, so the percentage is of the value; "50 ± 5 %" could be either.
    bool only_relative(const Decimal& percent) const {
        return std::fabs(to_double(written_.first.value)) <
               to_double({percent.mantissa, percent.exponent + 2});
    }

    void refuse_two_readings() {
        const std::string_view value = piece(written_.first.begin, written_.first.end);
        const std::string_view tolerance = piece(written_.second.begin, written_.second.end);
        fail(written_.first.begin, written_.second.unit_end, fmt::format("\"{}\" reads two ways", text_),
             fmt::format("write \"({0} ± {1}) %\", or \"{0} +D/-D\" with the deviation D as a number", value,
                         tolerance));
    }

    void check_absolute_zero() {
        if (!resolved_.absolute || resolved_.nominal >= 0.0) return;
        fail(written_.first.begin, std::max(written_.first.end, written_.first.unit_end),
             fmt::format("\"{}\" lies below absolute zero", whole(written_.first)),
             "check the sign and the unit");
    }
};

}  // namespace

std::variant<Quantity, ReadError> read_quantity(std::string_view text, const Expected& expected,
                                                UnitMemory* memory) {
    Reading reading{text, expected, memory};
    if (auto error = reading.read()) return *std::move(error);
    const Resolved& resolved = reading.resolved();
    std::variant<Quantity, ReadError> result;
    Quantity& quantity = std::get<Quantity>(result);
    quantity.range = {resolved.low, resolved.high};
    quantity.nominal = resolved.nominal;
    quantity.unit = *resolved.unit;
    quantity.absolute = resolved.absolute;
    quantity.guess = resolved.guess;
    return result;
}

std::variant<PermittedRange, ReadError> read_range(std::string_view text, const Expected& expected,
                                                   UnitMemory* memory) {
    Reading reading{text, expected, memory};
    if (auto error = reading.read()) return *std::move(error);
    const Resolved& resolved = reading.resolved();
    if (resolved.guess)
        return ReadError{0, text.size(), "a permitted range is not a guess", "leave out the \"~\""};
    return PermittedRange{resolved.low, resolved.high, *resolved.unit, resolved.absolute};
}

}  // namespace packproof::units
