#include "engine/units/read_printed.hpp"

#include <algorithm>
#include <cmath>

namespace packproof::units {

namespace {

constexpr int fewest_digits = 4;  // to which reports round

std::string_view trimmed(std::string_view text) {
    while (text.starts_with(' '))
        text.remove_prefix(1);
    while (text.ends_with(' '))
        text.remove_suffix(1);
    return text;
}

/// The most significant digits that a number in the text has.
int digits_in(std::string_view text) {
    int most = 0;
    int count = 0;
    bool inside = false;
    for (const char c : text) {
        const bool digit = c >= '0' && c <= '9';
        if (digit && (count > 0 || c != '0')) ++count;
        inside = digit || (inside && c == '.');
        if (!inside) count = 0;
        most = std::max(most, count);
    }
    return most;
}

/// Half a unit of the last digit that is printed of an SI value, in SI.
double half_a_digit(double value, const Quantity& read, int digits) {
    const double written = value / read.unit.factor - (read.absolute ? read.unit.offset : 0.0);
    if (written == 0.0 || !std::isfinite(written) || read.unit.gauge) return 0.0;
    const double place = std::floor(std::log10(std::fabs(written))) + 1.0 - digits;
    return 0.5 * std::pow(10.0, place) * read.unit.factor;
}

std::variant<Printed, ReadError> read_one(std::string_view text, const Expected& expected) {
    const auto read = read_quantity(text, expected);
    if (const auto* error = std::get_if<ReadError>(&read)) return *error;
    const auto& quantity = std::get<Quantity>(read);
    const int digits = std::max(fewest_digits, digits_in(text));
    const Interval range = quantity.range;
    const double below = half_a_digit(range.low, quantity, digits);
    const double above = half_a_digit(range.high, quantity, digits);
    return Printed{{range.low - below, range.high + above}, {range.low + below, range.high - above}};
}

std::variant<Printed, ReadError> read_span(std::string_view text, const Expected& expected) {
    constexpr std::string_view most = "at most ";
    constexpr std::string_view least = "at least ";
    constexpr std::string_view to = " to ";
    if (text == "any value" || text == "no limit") return Printed{Interval::all(), Interval::all()};
    const bool below = text.starts_with(most);
    const bool above = text.starts_with(least);
    if (below || above) {
        auto end = read_one(text.substr(below ? most.size() : least.size()), expected);
        if (auto* read = std::get_if<Printed>(&end))
            for (Interval* range : {&read->widest, &read->narrowest})
                (below ? range->low : range->high) = below ? -unbounded : unbounded;
        return end;
    }
    const std::size_t between = text.find(to);
    if (between == std::string_view::npos) return read_one(text, expected);
    auto low = read_one(text.substr(0, between), expected);
    if (std::holds_alternative<ReadError>(low)) return low;
    auto high = read_one(text.substr(between + to.size()), expected);
    if (std::holds_alternative<ReadError>(high)) return high;
    const Printed& first = std::get<Printed>(low);
    const Printed& last = std::get<Printed>(high);
    if (first.widest.low > last.widest.high)
        return ReadError{0, text.size(), "the ends of the range are reversed", "write the smaller one first"};
    return Printed{{first.widest.low, last.widest.high}, {first.narrowest.low, last.narrowest.high}};
}

}  // namespace

std::variant<Printed, ReadError> read_printed(std::string_view text, const Expected& expected) {
    text = trimmed(text);
    const std::size_t open = text.rfind(" (");
    if (!text.ends_with(')') || open == std::string_view::npos) return read_span(text, expected);
    // In brackets stands the span, or what the value is of: of those the report prints the span first.
    const std::string_view before = trimmed(text.substr(0, open));
    const std::string_view inside = text.substr(open + 2, text.size() - open - 3);
    auto span = read_span(inside, expected);
    if (std::holds_alternative<ReadError>(span)) return read_printed(before, expected);
    const auto value = read_span(before, expected);
    if (std::holds_alternative<ReadError>(value)) return value;
    return span;
}

}  // namespace packproof::units
