// Closed intervals with outward rounding: every operation encloses each result that points of the operands
// can give. Results that are exact in double are not widened (error-free transformations tell), so that
// 1.25 × 160 A is 200 A and not a hair around it. Ends may be infinite (one-sided values); no end is NaN.
// 0 × infinity counts as 0: the infinite end means "unbounded", not a number.
#pragma once

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>
#include <limits>

namespace packproof::units {

struct Interval {
    double low = 0.0;
    double high = 0.0;

    [[nodiscard]] static constexpr Interval point(double x) { return {x, x}; }
    [[nodiscard]] static constexpr Interval all();  ///< (-inf, inf)
    [[nodiscard]] constexpr bool is_point() const { return low == high; }
    [[nodiscard]] constexpr bool contains(double x) const { return low <= x && x <= high; }
    [[nodiscard]] constexpr double width() const { return high - low; }
    friend constexpr bool operator==(const Interval&, const Interval&) = default;
};

[[nodiscard]] Interval operator+(Interval a, Interval b);
[[nodiscard]] Interval operator-(Interval a, Interval b);
[[nodiscard]] Interval operator-(Interval a);
[[nodiscard]] Interval operator*(Interval a, Interval b);
/// A divisor that contains zero gives the tightest enclosure that one interval can: one-sided if zero is an
/// end of it, else (-inf, inf).
[[nodiscard]] Interval operator/(Interval a, Interval b);
/// Square root of the part that is not negative; the caller reports a wholly negative operand.
[[nodiscard]] Interval square_root(Interval a);
[[nodiscard]] Interval power(Interval a, int n);  ///< tight for even n
[[nodiscard]] Interval absolute(Interval a);
[[nodiscard]] Interval lesser(Interval a, Interval b);   ///< {min(x, y)}
[[nodiscard]] Interval greater(Interval a, Interval b);  ///< {max(x, y)}
[[nodiscard]] Interval hull(Interval a, Interval b);
/// Natural exponential and logarithm, outward by two ulp.
[[nodiscard]] Interval exponential(Interval a);
/// Logarithm of the part that is positive; the caller reports an operand without one (which gives all()).
[[nodiscard]] Interval logarithm(Interval a);

/// The next double towards -inf / +inf by stepping the bit pattern.
[[nodiscard]] double step_down(double x);
[[nodiscard]] double step_up(double x);

/// Two numbers that decimal input cannot tell apart: equal to 12 significant digits. Comparisons of the
/// rule language count such numbers as equal, so that a value written at its limit meets it.
[[nodiscard]] bool same_number(double a, double b);

// What follows stands in the header because evaluation spends its time here.

inline constexpr double unbounded = std::numeric_limits<double>::infinity();

constexpr Interval Interval::all() {
    return {-unbounded, unbounded};
}

inline double step_up(double x) {
    if (x == 0.0) return std::numeric_limits<double>::denorm_min();
    if (!(x < unbounded)) return x;
    const auto bits = std::bit_cast<std::uint64_t>(x);
    return std::bit_cast<double>(x > 0.0 ? bits + 1U : bits - 1U);
}
inline double step_down(double x) {
    return -step_up(-x);
}

namespace rounded {

/// What a rounded result lacks of the true one (TwoSum; Knuth, The Art of Computer Programming 2, 4.2.2).
inline double sum_error(double a, double b, double sum) {
    const double part = sum - a;
    return (a - (sum - part)) + (b - part);
}

/// Between these magnitudes the error of a product is itself a double, and splitting does not overflow.
inline bool splits(double x) {
    const double size = std::fabs(x);
    return size > 0x1p-400 && size < 0x1p400;
}

#if defined(__FAST_MATH__)
#error "intervals need exact floating point: build without -ffast-math"
#endif

#if defined(__FP_FAST_FMA)  // one instruction; the other way would break if the compiler fused parts of it

/// a·b = product + result.
inline double product_error(double a, double b, double product) {
    return std::fma(a, b, -product);
}

/// Sign of total - a·b, where a·b is within a rounding of total.
inline double rest_of(double total, double a, double b) {
    return std::fma(-a, b, total);
}

#else  // fma is a library call on the baseline processor: Dekker's product instead

inline double product_error(double a, double b, double product) {
    constexpr double splitter = 134217729.0;  // 2^27 + 1
    const double a_scaled = splitter * a;
    const double b_scaled = splitter * b;
    const double a_head = a_scaled - (a_scaled - a);
    const double b_head = b_scaled - (b_scaled - b);
    const double a_tail = a - a_head;
    const double b_tail = b - b_head;
    return ((a_head * b_head - product) + a_head * b_tail + a_tail * b_head) + a_tail * b_tail;
}

inline double rest_of(double total, double a, double b) {
    const double product = a * b;
    return (total - product) - product_error(a, b, product);
}

#endif

/// A rounded number, one step down where `below` says that the true one lies below. Without a branch, since
/// nobody can predict the sign of a rounding error. The number is neither zero nor -inf.
inline double lowered(double number, bool below) {
    const std::uint64_t step = below ? 1U : 0U;
    const auto bits = std::bit_cast<std::uint64_t>(number);
    return std::bit_cast<double>(number > 0.0 ? bits - step : bits + step);
}

// An error that cannot be told (overflow, underflow) comes out as NaN or is not asked for; then we widen.

inline double add_down(double a, double b) {
    const double sum = a + b;
    const double error = sum_error(a, b, sum);  // NaN after an overflow or with an infinite operand
    if (sum != 0.0 && error == error) return lowered(sum, error < 0.0);
    if (std::isinf(a) || std::isinf(b)) return std::isnan(sum) ? -unbounded : sum;
    return error == 0.0 ? sum : step_down(sum);
}

inline double add_up(double a, double b) {
    return 0.0 - add_down(-a, -b);
}

inline double multiply_down(double a, double b) {
    const double product = a * b;
    if (splits(a) && splits(b)) return lowered(product, product_error(a, b, product) < 0.0);
    if (a == 0.0 || b == 0.0) return 0.0;
    if (std::isinf(a) || std::isinf(b)) return product;
    return step_down(product);
}
inline double multiply_up(double a, double b) {
    return 0.0 - multiply_down(-a, b);
}

/// The divisor is positive.
inline double divide_down(double a, double b) {
    const double quotient = a / b;
    if (splits(a) && splits(b) && splits(quotient)) {
        return lowered(quotient, rest_of(a, quotient, b) < 0.0);
    }
    if (a == 0.0) return 0.0;
    if (std::isinf(a) && std::isinf(b)) return a > 0.0 ? 0.0 : -unbounded;
    if (std::isinf(a) || std::isinf(b)) return quotient;
    return step_down(quotient);
}
inline double divide_up(double a, double b) {
    return 0.0 - divide_down(-a, b);
}

}  // namespace rounded

inline Interval operator-(Interval a) {
    return {0.0 - a.high, 0.0 - a.low};
}

inline Interval operator+(Interval a, Interval b) {
    return {rounded::add_down(a.low, b.low), rounded::add_up(a.high, b.high)};
}

inline Interval operator-(Interval a, Interval b) {
    return {rounded::add_down(a.low, -b.high), rounded::add_up(a.high, -b.low)};
}

inline Interval operator*(Interval a, Interval b) {
    using rounded::multiply_down, rounded::multiply_up;
    if (a.low >= 0.0 && b.low >= 0.0) return {multiply_down(a.low, b.low), multiply_up(a.high, b.high)};
    return {std::min({multiply_down(a.low, b.low), multiply_down(a.low, b.high), multiply_down(a.high, b.low),
                      multiply_down(a.high, b.high)}),
            std::max({multiply_up(a.low, b.low), multiply_up(a.low, b.high), multiply_up(a.high, b.low),
                      multiply_up(a.high, b.high)})};
}

namespace rounded {

inline Interval divide_by_positive(Interval a, Interval b) {
    return {divide_down(a.low, a.low >= 0.0 ? b.high : b.low),
            divide_up(a.high, a.high >= 0.0 ? b.low : b.high)};
}

/// Divisor [0, high], high > 0.
inline Interval divide_by_zero_up(Interval a, double high) {
    if (a.low >= 0.0) return {divide_down(a.low, high), unbounded};
    if (a.high <= 0.0) return {-unbounded, divide_up(a.high, high)};
    return Interval::all();
}

}  // namespace rounded

inline Interval operator/(Interval a, Interval b) {
    if (b.low > 0.0) return rounded::divide_by_positive(a, b);
    if (b.high < 0.0) return rounded::divide_by_positive(-a, -b);
    if (b.low == 0.0 && b.high > 0.0) return rounded::divide_by_zero_up(a, b.high);
    if (b.high == 0.0 && b.low < 0.0) return rounded::divide_by_zero_up(-a, -b.low);
    return Interval::all();
}

inline Interval absolute(Interval a) {
    if (a.low >= 0.0) return a;
    if (a.high <= 0.0) return -a;
    return {0.0, std::max(-a.low, a.high)};
}

inline Interval lesser(Interval a, Interval b) {
    return {std::min(a.low, b.low), std::min(a.high, b.high)};
}
inline Interval greater(Interval a, Interval b) {
    return {std::max(a.low, b.low), std::max(a.high, b.high)};
}
inline Interval hull(Interval a, Interval b) {
    return {std::min(a.low, b.low), std::max(a.high, b.high)};
}

inline bool same_number(double a, double b) {
    if (a == b) return true;
    const double size = std::max(std::fabs(a), std::fabs(b));
    return size < unbounded && std::fabs(a - b) <= 1e-12 * size;
}

}  // namespace packproof::units
