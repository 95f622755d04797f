#include "engine/units/interval.hpp"

namespace packproof::units {

namespace {

/// x to the n, x not negative, n at least 1, by repeated squaring with every step rounded one way.
template <double (*multiply)(double, double)>
double raise(double x, unsigned n) {
    while ((n & 1U) == 0U) {
        x = multiply(x, x);
        n >>= 1U;
    }
    double result = x;
    for (n >>= 1U; n != 0U; n >>= 1U) {
        x = multiply(x, x);
        if ((n & 1U) != 0U) result = multiply(result, x);
    }
    return result;
}

double raise_down(double x, unsigned n) {
    return raise<rounded::multiply_down>(x, n);
}
double raise_up(double x, unsigned n) {
    return raise<rounded::multiply_up>(x, n);
}

double odd_down(double x, unsigned n) {
    return x >= 0.0 ? raise_down(x, n) : -raise_up(-x, n);
}

double root_down(double x) {
    const double root = std::sqrt(x);
    if (x == 0.0 || std::isinf(x)) return root;
    if (!rounded::splits(x)) return step_down(root);
    return rounded::rest_of(x, root, root) >= 0.0 ? root : step_down(root);
}

double root_up(double x) {
    const double root = std::sqrt(x);
    if (x == 0.0 || std::isinf(x)) return root;
    if (!rounded::splits(x)) return step_up(root);
    return rounded::rest_of(x, root, root) <= 0.0 ? root : step_up(root);
}

Interval two_ulp_out(double low, double high) {
    return {step_down(step_down(low)), step_up(step_up(high))};
}

}  // namespace

Interval square_root(Interval a) {
    return {root_down(std::max(a.low, 0.0)), root_up(std::max(a.high, 0.0))};
}

Interval power(Interval a, int n) {
    if (n == 0) return Interval::point(1.0);
    const bool negative = n < 0;
    const unsigned size = negative ? 0U - static_cast<unsigned>(n) : static_cast<unsigned>(n);
    Interval result;
    if (size % 2U == 0U) {
        const Interval base = absolute(a);
        result = {raise_down(base.low, size), raise_up(base.high, size)};
    } else {
        result = {odd_down(a.low, size), -odd_down(-a.high, size)};
    }
    return negative ? Interval::point(1.0) / result : result;
}

Interval exponential(Interval a) {
    Interval result = two_ulp_out(std::exp(a.low), std::exp(a.high));
    result.low = std::max(result.low, 0.0);
    if (a.low == 0.0) result.low = 1.0;
    if (a.high == 0.0) result.high = 1.0;
    if (a.low == unbounded) result.low = unbounded;
    if (a.high == -unbounded) result.high = 0.0;
    return result;
}

Interval logarithm(Interval a) {
    if (!(a.high > 0.0)) return Interval::all();
    Interval result = two_ulp_out(a.low > 0.0 ? std::log(a.low) : -unbounded, std::log(a.high));
    if (a.low == 1.0) result.low = 0.0;
    if (a.high == 1.0) result.high = 0.0;
    if (a.low == unbounded) result.low = unbounded;
    return result;
}

}  // namespace packproof::units
