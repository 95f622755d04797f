#include "engine/units/print_quantity.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>

#include <fmt/format.h>

#include "engine/units/dimension_table.hpp"
#include "engine/units/gauge.hpp"

namespace packproof::units {

namespace {

constexpr int most_digits = 15;  ///< a double keeps fifteen decimal digits, always
constexpr int tolerance_digits = 2;
constexpr double widest_tolerance = 0.2;  ///< beyond this share of the value its ends say more than ±

/// A decimal number as printed: digits without trailing zeros, value 0.DIGITS × 10^point.
struct Digits {
    bool negative = false;
    std::string digits;
    int point = 0;
};

Digits rounded_to(double value, int count) {
    Digits result;
    if (value == 0.0) return result;
    const std::string text = fmt::format("{:.{}e}", value, std::clamp(count, 1, 17) - 1);
    const std::size_t mark = text.find('e');
    for (const char c : text.substr(0, mark))
        if (c >= '0' && c <= '9') result.digits.push_back(c);
    while (!result.digits.empty() && result.digits.back() == '0')
        result.digits.pop_back();
    result.negative = text.front() == '-';
    int exponent = 0;
    for (const char c : text.substr(mark + 2))
        exponent = exponent * 10 + (c - '0');
    result.point = (text[mark + 1] == '-' ? -exponent : exponent) + 1;
    return result;
}

std::string print_digits(const Digits& number) {
    if (number.digits.empty()) return "0";
    const std::string sign = number.negative ? "-" : "";
    const int count = static_cast<int>(number.digits.size());
    if (number.point > 7 || number.point < -3) {
        const std::string rest = count > 1 ? "." + number.digits.substr(1) : "";
        return fmt::format("{}{}{}e{}", sign, number.digits[0], rest, number.point - 1);
    }
    if (number.point <= 0)
        return fmt::format("{}0.{}{}", sign, std::string(static_cast<std::size_t>(-number.point), '0'),
                           number.digits);
    if (number.point >= count)
        return fmt::format("{}{}{}", sign, number.digits,
                           std::string(static_cast<std::size_t>(number.point - count), '0'));
    const auto before = static_cast<std::size_t>(number.point);
    return fmt::format("{}{}.{}", sign, number.digits.substr(0, before), number.digits.substr(before));
}

std::string print_bare(double value, int digits) {
    if (std::isinf(value)) return value > 0.0 ? "unlimited" : "-unlimited";
    return print_digits(rounded_to(value, digits));
}

double in_unit(double si_value, const Unit& unit, bool absolute) {
    return si_value / unit.factor - (absolute ? unit.offset : 0.0);
}

std::string with_symbol(std::string_view number, std::string_view symbol) {
    if (symbol.empty()) return std::string{number};
    const bool joined = symbol == "°" || symbol == "C";  // an angle, a rate: the customary form
    return fmt::format("{}{}{}", number, joined ? "" : " ", symbol);
}

/// Gauges are names of areas; an area between two of them is printed as an area.
Unit shown_unit(const Unit& unit, std::initializer_list<double> si_values) {
    if (!unit.gauge) return unit;
    for (const double value : si_values)
        if (!std::isinf(value) && !gauge_of(value)) return *read_unit("mm²");
    return unit;
}

std::string print_one(double si_value, const Unit& unit, bool absolute, int digits) {
    if (unit.gauge && !std::isinf(si_value)) return gauge_name(*gauge_of(si_value)) + " AWG";
    return with_symbol(print_bare(in_unit(si_value, unit, absolute), digits), unit.symbol);
}

/// Digits enough to show both ends apart and, where one is short, whole.
int digits_for(double low, double high, const Unit& unit, bool absolute, int digits) {
    return unit.gauge ? digits : digits_to_tell_apart(low, high, unit, absolute, digits);
}

/// The decimal place of the last digit printed: 0 units, -1 tenths.
int last_place(const Digits& number) {
    return number.point - static_cast<int>(number.digits.size());
}

double read_back(const Digits& digits) {
    const std::string text = print_digits(digits);
    double value = 0.0;
    std::from_chars(text.data(), text.data() + text.size(), value);
    return value;
}

/// A tolerance as printed and the decimal place to which it is known.
struct Doubt {
    Digits digits;
    int place = 0;
};

/// As stated if it is short, else two digits, rounded up; `slack` is what subtraction has blurred.
Doubt doubt_of(double tolerance, double slack, int digits) {
    const Digits stated = rounded_to(tolerance, std::max(digits, tolerance_digits + 1));
    if (std::fabs(read_back(stated) - tolerance) <= slack) return {stated, last_place(stated)};
    const Digits nearest = rounded_to(tolerance, tolerance_digits);
    const int place = nearest.point - tolerance_digits;
    if (read_back(nearest) >= tolerance - slack) return {nearest, place};
    return {rounded_to(read_back(nearest) + std::pow(10.0, place), tolerance_digits), place};
}

/// A value to the place of its tolerance, or with all its digits if they are few.
Digits value_of(double value, int place, int digits) {
    const Digits whole = rounded_to(value, most_digits - 1);
    if (static_cast<int>(whole.digits.size()) <= std::max(digits, whole.point)) return whole;
    return rounded_to(value, std::clamp(whole.point - place, digits, most_digits));
}

std::string print_symmetric(double nominal, double tolerance, const Unit& unit, bool absolute, int digits) {
    const double shown = in_unit(nominal, unit, absolute);
    const double shown_tolerance = tolerance / unit.factor;
    const double slack = 1e-9 * shown_tolerance + 1e-15 * std::fabs(nominal / unit.factor);
    const Doubt doubt = doubt_of(shown_tolerance, slack, digits);
    const Digits value = value_of(shown, doubt.place, digits);
    const std::string both = fmt::format("{} ± {}", print_digits(value), print_digits(doubt.digits));
    return unit.symbol.empty() ? both : with_symbol("(" + both + ")", unit.symbol);
}

bool is_symmetric(Interval range, double nominal, double scale) {
    const double up = range.high - nominal;
    const double down = nominal - range.low;
    return up > 0.0 && down > 0.0 && std::fabs(up - down) <= 1e-9 * up + 1e-14 * scale;
}

}  // namespace

Unit display_unit(const Dimension& dimension, const Unit& preferred, double size, bool absolute) {
    const bool fits = preferred.dimension == dimension && (dimension.none() || !preferred.symbol.empty());
    if (fits && preferred.gauge) return shown_unit(preferred, {size});
    if (fits) return preferred;
    const DimensionEntry* entry = find_dimension(dimension);
    Unit unit;
    unit.dimension = dimension;
    unit.symbol = base_units(dimension);
    if (entry == nullptr) return unit;
    std::string_view symbol = entry->units.front();
    if (dimension.exponent[Dimension::temperature] == 1 && symbol == "°C" && !absolute) symbol = "K";
    for (const Rung& rung : entry->ladder)
        if (rung.from == 0.0 || std::fabs(size) >= rung.from * (1.0 - 1e-12)) symbol = rung.unit;
    if (size == 0.0) symbol = entry->units.front();
    return *read_unit(symbol);
}

std::string print_number(double si_value, const Unit& unit, bool absolute, int digits) {
    return print_one(si_value, shown_unit(unit, {si_value}), absolute, digits);
}

std::string print_interval(Interval range, const Unit& unit, bool absolute, int digits) {
    const Unit shown = shown_unit(unit, {range.low, range.high});
    const bool open_below = std::isinf(range.low);
    const bool open_above = std::isinf(range.high);
    if (open_below && open_above) return "any value";
    if (open_below) return "at most " + print_one(range.high, shown, absolute, digits);
    if (open_above) return "at least " + print_one(range.low, shown, absolute, digits);
    if (same_number(range.low, range.high)) return print_one(range.high, shown, absolute, digits);
    const int enough = digits_for(range.low, range.high, shown, absolute, digits);
    return fmt::format("{} to {}", print_one(range.low, shown, absolute, enough),
                       print_one(range.high, shown, absolute, enough));
}

std::string print_value(Interval range, double nominal, const Unit& unit, bool absolute, int digits) {
    const bool open = std::isinf(range.low) || std::isinf(range.high);
    if (open || same_number(range.low, range.high)) return print_interval(range, unit, absolute, digits);
    const Unit shown = shown_unit(unit, {range.low, range.high, nominal});
    const double tolerance = range.high - nominal;
    const double size = std::max(std::fabs(range.low), std::fabs(range.high));
    const double written = in_unit(nominal, shown, absolute) * shown.factor;
    if (!shown.gauge && is_symmetric(range, nominal, size) &&
        tolerance <= widest_tolerance * std::fabs(written))
        return print_symmetric(nominal, tolerance, shown, absolute, digits);
    const std::string ends = print_interval(range, shown, absolute, digits);
    const int enough = std::max(digits_for(nominal, range.low, shown, absolute, digits),
                                digits_for(nominal, range.high, shown, absolute, digits));
    return fmt::format(
        "{} ({})",
        print_one(nominal, shown, absolute, nominal == range.low || nominal == range.high ? digits : enough),
        ends);
}

std::string print_range(double lower, double upper, const Unit& unit, bool absolute, int digits) {
    if (std::isinf(lower) && std::isinf(upper)) return "no limit";
    return print_interval({lower, upper}, unit, absolute, digits);
}

int digits_to_tell_apart(double value, double limit, const Unit& unit, bool absolute, int digits) {
    if (value == limit || std::isinf(value) || std::isinf(limit)) return digits;
    const Unit shown = shown_unit(unit, {value, limit});
    if (shown.gauge) return digits;
    const double a = in_unit(value, shown, absolute);
    const double b = in_unit(limit, shown, absolute);
    while (digits < most_digits && print_bare(a, digits) == print_bare(b, digits))
        ++digits;
    return digits;
}

}  // namespace packproof::units
