#include "engine/model/bounds.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "engine/document/shown.hpp"
#include "engine/units/print_quantity.hpp"

namespace packproof::model {
namespace {

using units::Interval;

class Bounds {
  public:
    Bounds(const units::Unit& unit, const Field& field, std::string_view written)
        : unit_(unit.gauge || unit.dimension != field.unit.dimension ? field.unit : unit),
          field_(field),
          written_(written) {}

    std::string number(Number& value) const {
        Interval& range = value.range;
        if (below(range.high) || above(range.low)) return no_sense();
        const bool open_low = range.low == -HUGE_VAL;
        const bool open_high = range.high == HUGE_VAL;
        if (!open_low && below(range.low)) return reaches("down to " + text(range.low));
        if (!open_high && above(range.high)) return reaches("up to " + text(range.high));
        range.low = std::max(range.low, field_.least);
        range.high = std::min(range.high, field_.most);
        return {};
    }

    std::string range(const Range& value) const {
        for (const double end : {value.lower.low, value.upper.high})
            if (std::isfinite(end) && (below(end) || above(end))) return no_sense();
        return {};
    }

  private:
    // A hair beyond a bound is rounding, unless the bound itself is not allowed.
    [[nodiscard]] bool below(double x) const {
        if (units::same_number(x, field_.least) || x == field_.least) return field_.least_open;
        return x < field_.least;
    }
    [[nodiscard]] bool above(double x) const {
        return x > field_.most && !units::same_number(x, field_.most);
    }

    [[nodiscard]] std::string text(double x) const {
        if (field_.form == Field::Form::count) return fmt::format("{:.0f}", x);
        return units::print_number(x, unit_, field_.absolute, 6);
    }

    [[nodiscard]] std::string allowed() const {
        const bool from = std::isfinite(field_.least);
        const std::string low =
            from ? (field_.least_open ? "more than " : "at least ") + text(field_.least) : "";
        const std::string high = std::isfinite(field_.most) ? "at most " + text(field_.most) : "";
        return low + (low.empty() || high.empty() ? "" : " and ") + high;
    }

    [[nodiscard]] std::string no_sense() const {
        if (field_.form == Field::Form::count)
            return fmt::format("{} = {} makes no sense; it must be {}", field_.name,
                               document::shown(written_), allowed());
        return fmt::format("{} of {} makes no sense; it must be {}", with_article(field_.name),
                           document::shown(written_), allowed());
    }

    [[nodiscard]] std::string reaches(const std::string& where) const {
        return fmt::format("the tolerance of {} reaches {}; {} must be {}", document::shown(written_), where,
                           with_article(field_.name), allowed());
    }

    const units::Unit& unit_;
    const Field& field_;
    std::string_view written_;
};

}  // namespace

std::string with_article(std::string_view name) {
    const bool vowel =
        !name.empty() && std::string_view("aeiou").find(name.front()) != std::string_view::npos;
    std::string result = vowel ? "an " : "a ";
    result += name;
    std::replace(result.begin(), result.end(), '_', ' ');
    return result;
}

bool is_rate(const Value& value, const units::Unit& unit, const Field& field) {
    if (field.rate_of.empty() || (value.number() == nullptr && value.range() == nullptr)) return false;
    return unit.dimension != field.unit.dimension;
}

std::string keep_within_bounds(Value& value, const units::Unit& unit, const Field& field,
                               std::string_view written) {
    const Bounds bounds(unit, field, written);
    if (auto* number = std::get_if<Number>(&value.content)) return bounds.number(*number);
    if (const auto* range = value.range()) return bounds.range(*range);
    return {};
}

}  // namespace packproof::model
