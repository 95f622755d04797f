// Closed intervals with outward rounding: every operation encloses each result that points of the operands
// can give. Results that are exact in double are not widened (error-free transformations tell), so that
// 1.25 × 160 A is 200 A and not a hair around it. Ends may be infinite (one-sided values); no end is NaN.
// 0 × infinity counts as 0: the infinite end means "unbounded", not a number.
#pragma once

namespace packproof::units {

struct Interval {
    double low = 0.0;
    double high = 0.0;

    [[nodiscard]] static constexpr Interval point(double x) { return {x, x}; }
    [[nodiscard]] static Interval all(); ///< (-inf, inf)
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
[[nodiscard]] Interval power(Interval a, int n); ///< tight for even n
[[nodiscard]] Interval absolute(Interval a);
[[nodiscard]] Interval lesser(Interval a, Interval b);  ///< {min(x, y)}
[[nodiscard]] Interval greater(Interval a, Interval b); ///< {max(x, y)}
[[nodiscard]] Interval hull(Interval a, Interval b);
/// Natural exponential and logarithm, outward by two ulp.
[[nodiscard]] Interval exponential(Interval a);
[[nodiscard]] Interval logarithm(Interval a);

/// The next double towards -inf / +inf by stepping the bit pattern.
[[nodiscard]] double step_down(double x);
[[nodiscard]] double step_up(double x);

/// Two numbers that decimal input cannot tell apart: equal to 12 significant digits. Comparisons of the
/// rule language count such numbers as equal, so that a value written at its limit meets it.
[[nodiscard]] bool same_number(double a, double b);

} // namespace packproof::units
