#include "engine/units/coverage_factor.hpp"

#include <cmath>
#include <limits>
#include <numbers>

namespace packproof::units {

namespace {

constexpr double many_degrees = 1e6;  // beyond: expansion about the normal factor, its error below 1e-12

/// Γ(a + 1/2) / Γ(a), a > 0. For large a the series in 1/a of its logarithm: a difference of two large
/// logarithms would lose digits.
double gamma_ratio(double a) {
    if (a < 20.0) return std::tgamma(a + 0.5) / std::tgamma(a);
    const double y = 1.0 / (a * a);
    const double series =
        (-1.0 / 8 + y * (1.0 / 192 + y * (-1.0 / 640 + y * (17.0 / 14336 - y * 31.0 / 18432)))) / a;
    return std::sqrt(a) * std::exp(series);
}

/// The continued fraction of the incomplete beta function by Lentz' method; converges fast for
/// x < (a + 1) / (a + b + 2).
double continued_fraction(double x, double a, double b) {
    constexpr double tiny = 1e-300;
    constexpr double enough = 1e-16;
    const auto guarded = [](double value) { return std::fabs(value) < tiny ? tiny : value; };
    double c = 1.0;
    double d = 1.0 / guarded(1.0 - (a + b) * x / (a + 1.0));
    double fraction = d;
    for (double m = 1.0; m < 10000.0; m += 1.0) {
        const double even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        d = 1.0 / guarded(1.0 + even * d);
        c = guarded(1.0 + even / c);
        fraction *= d * c;
        const double odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        d = 1.0 / guarded(1.0 + odd * d);
        c = guarded(1.0 + odd / c);
        fraction *= d * c;
        if (std::fabs(d * c - 1.0) <= enough) break;
    }
    return fraction;
}

/// P(|T| > t), t > 0: the incomplete beta function of x = degrees / (degrees + t²) with a = degrees / 2 and
/// b = 1/2.
double tail(double t, double degrees) {
    const double a = 0.5 * degrees;
    const double x = 1.0 / (1.0 + t * t / degrees);
    const double rest = 1.0 / (1.0 + degrees / (t * t));  // 1 - x without cancellation
    // x^a (1 - x)^(1/2) / B(a, 1/2); log1p keeps the digits of x^a for many degrees
    const double front = std::exp(-a * std::log1p(t * t / degrees)) * std::sqrt(rest) * gamma_ratio(a) /
                         std::sqrt(std::numbers::pi);
    if (x < (a + 1.0) / (a + 2.5)) return front * continued_fraction(x, a, 0.5) / a;
    return 1.0 - front * continued_fraction(rest, 0.5, a) / 0.5;
}

/// The t at which a falling tail is `outside`.
template <typename Tail>
double where(const Tail& tail_at, double outside) {
    double low = 0.0;
    double high = 1.0;
    while (tail_at(high) > outside && high < 1e300) {
        low = high;
        high *= 2.0;
    }
    for (;;) {
        const double middle = 0.5 * (low + high);
        if (middle <= low || middle >= high) return middle;
        (tail_at(middle) > outside ? low : high) = middle;
    }
}

double normal_factor(double outside) {
    return where([](double z) { return std::erfc(z / std::numbers::sqrt2); }, outside);
}

}  // namespace

std::optional<double> coverage_factor(double p, double degrees) {
    if (!(p > 0.0 && p < 1.0) || !(degrees >= 1.0)) return std::nullopt;
    const double outside = 1.0 - p;
    if (degrees <= many_degrees) return where([&](double t) { return tail(t, degrees); }, outside);
    const double z = normal_factor(outside);
    if (std::isinf(degrees)) return z;
    const double z2 = z * z;
    return z + z * ((z2 + 1.0) / 4.0 + ((5.0 * z2 + 16.0) * z2 + 3.0) / (96.0 * degrees)) / degrees;
}

}  // namespace packproof::units
