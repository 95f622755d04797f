#include "engine/language/arithmetic.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace packproof::language {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr Interval zero{0.0, 0.0};
constexpr Interval rising_steps{0.0, infinity};

Number made(Interval range, double nominal, Slopes slopes = {}) {
    // A nominal value that is no number (0 / 0) stands in the middle of what is possible.
    if (std::isnan(nominal))
        nominal = std::isfinite(range.low) ? range.low : std::isfinite(range.high) ? range.high : 0.0;
    return {range, nominal, std::move(slopes)};
}

Interval slope(const Slopes& slopes, std::size_t i) {
    return i < slopes.size() ? slopes[i] : zero;
}

/// Slope by slope; both lists empty (plain evaluation) costs nothing.
template <typename Rule>
Slopes combine(const Slopes& a, const Slopes& b, Rule rule) {
    Slopes all(std::max(a.size(), b.size()));
    for (std::size_t i = 0; i < all.size(); ++i)
        all[i] = rule(slope(a, i), slope(b, i));
    return all;
}

Slopes scale(const Slopes& slopes, Interval factor) {
    Slopes all(slopes.size());
    for (std::size_t i = 0; i < all.size(); ++i)
        all[i] = slopes[i] == zero ? zero : slopes[i] * factor;
    return all;
}

Interval times(Interval slope_of, Interval value) {
    return slope_of == zero ? zero : slope_of * value;
}

bool same(const Number& a, const Number& b) {
    return a.range == b.range && a.range.is_point() && std::isfinite(a.range.low);
}

double whole_near(double x) {
    return std::isfinite(x) ? std::round(x) : x;
}
double up(double x) {
    return units::same_number(x, whole_near(x)) ? whole_near(x) : std::ceil(x);
}
double down(double x) {
    return units::same_number(x, whole_near(x)) ? whole_near(x) : std::floor(x);
}

}  // namespace

Number constant(double value) {
    return {Interval::point(value), value, {}};
}

Slopes add_slopes(const Slopes& a, const Slopes& b) {
    return combine(a, b, [](Interval x, Interval y) { return x + y; });
}

Slopes unbounded_slopes(std::size_t inputs) {
    return Slopes(inputs, Interval::all());
}

Number add(const Number& a, const Number& b) {
    return made(a.range + b.range, a.nominal + b.nominal, add_slopes(a.slopes, b.slopes));
}

Number subtract(const Number& a, const Number& b) {
    return made(a.range - b.range, a.nominal - b.nominal,
                combine(a.slopes, b.slopes, [](Interval x, Interval y) { return x - y; }));
}

Number multiply(const Number& a, const Number& b) {
    return made(a.range * b.range, a.nominal * b.nominal,
                combine(a.slopes, b.slopes,
                        [&](Interval x, Interval y) { return times(x, b.range) + times(y, a.range); }));
}

Number negate(const Number& a) {
    return made(-a.range, -a.nominal, scale(a.slopes, Interval::point(-1.0)));
}

// (a / b)' = (a' - (a / b) b') / b. Where b may be zero nothing is said, also where zero is its end: nobody
// must take b there to find a bound.
std::optional<Number> divide(const Number& a, const Number& b) {
    if (b.range == zero) return std::nullopt;
    const Interval quotient = a.range / b.range;
    const bool through_zero = b.range.contains(0.0);
    return made(quotient, a.nominal / b.nominal, combine(a.slopes, b.slopes, [&](Interval x, Interval y) {
                    if (x == zero && y == zero) return zero;
                    return through_zero ? Interval::all() : (x - times(y, quotient)) / b.range;
                }));
}

std::optional<Number> power(const Number& a, int exponent) {
    if (exponent < 0) {
        const auto positive = power(a, -exponent);
        return positive ? divide(constant(1.0), *positive) : std::nullopt;
    }
    if (exponent == 0) return constant(1.0);
    const Interval derivative = Interval::point(exponent) * units::power(a.range, exponent - 1);
    return made(units::power(a.range, exponent), std::pow(a.nominal, exponent), scale(a.slopes, derivative));
}

std::optional<Number> square_root(const Number& a) {
    if (a.range.high < 0.0) return std::nullopt;
    const Interval root = units::square_root(a.range);
    const double steepest =
        root.low > 0.0 ? (Interval::point(0.5) / Interval::point(root.low)).high : infinity;
    const double flattest = root.high < infinity && root.high > 0.0
                                ? (Interval::point(0.5) / Interval::point(root.high)).low
                                : 0.0;
    return made(root, std::sqrt(a.nominal), scale(a.slopes, {flattest, steepest}));
}

Number exponential(const Number& a) {
    const Interval value = units::exponential(a.range);
    return made(value, std::exp(a.nominal), scale(a.slopes, value));
}

std::optional<Number> logarithm(const Number& a) {
    if (a.range.high <= 0.0) return std::nullopt;
    const double steepest =
        a.range.low > 0.0 ? (Interval::point(1.0) / Interval::point(a.range.low)).high : infinity;
    const double flattest =
        a.range.high < infinity ? (Interval::point(1.0) / Interval::point(a.range.high)).low : 0.0;
    return made(units::logarithm(a.range), std::log(a.nominal), scale(a.slopes, {flattest, steepest}));
}

Number absolute(const Number& a) {
    if (a.range.low >= 0.0) return a;
    if (a.range.high <= 0.0) return negate(a);
    return made(units::absolute(a.range), std::abs(a.nominal), scale(a.slopes, {-1.0, 1.0}));
}

Number lesser(const Number& a, const Number& b) {
    Slopes slopes = a.range.high < b.range.low   ? a.slopes
                    : b.range.high < a.range.low ? b.slopes
                                                 : combine(a.slopes, b.slopes, units::hull);
    return made(units::lesser(a.range, b.range), std::min(a.nominal, b.nominal), std::move(slopes));
}

Number greater(const Number& a, const Number& b) {
    Slopes slopes = a.range.low > b.range.high   ? a.slopes
                    : b.range.low > a.range.high ? b.slopes
                                                 : combine(a.slopes, b.slopes, units::hull);
    return made(units::greater(a.range, b.range), std::max(a.nominal, b.nominal), std::move(slopes));
}

Number between(const Number& a, const Number& b) {
    return made(units::hull(a.range, b.range), 0.5 * (a.nominal + b.nominal),
                combine(a.slopes, b.slopes, units::hull));
}

Number round_up(const Number& a) {
    return made({up(a.range.low), up(a.range.high)}, up(a.nominal), scale(a.slopes, rising_steps));
}

Number round_down(const Number& a) {
    return made({down(a.range.low), down(a.range.high)}, down(a.nominal), scale(a.slopes, rising_steps));
}

Number hull(const Number& a, const Number& b, std::size_t inputs) {
    if (same(a, b)) return made(a.range, a.nominal, combine(a.slopes, b.slopes, units::hull));
    return made(units::hull(a.range, b.range), a.nominal, unbounded_slopes(inputs));
}

Slopes step_slopes(const model::Value& key, bool rising, bool falling) {
    const Number* number = key.number();
    if (number == nullptr) return {};
    const Interval steps = rising && !falling   ? rising_steps
                           : falling && !rising ? Interval{-infinity, 0.0}
                                                : Interval::all();
    return scale(number->slopes, steps);
}

}  // namespace packproof::language
