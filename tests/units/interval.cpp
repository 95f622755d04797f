// Interval arithmetic: exact results stay exact, edges give what the header promises.
#include <cmath>
#include <limits>

#include <doctest/doctest.h>

#include "engine/units/interval.hpp"

using namespace packproof::units;

namespace {

Interval at(double x) {
    return Interval::point(x);
}
constexpr double largest = std::numeric_limits<double>::max();
constexpr double smallest = std::numeric_limits<double>::denorm_min();

}  // namespace

TEST_CASE("a result that is exact in double is not widened") {
    CHECK(at(1.25) * at(160.0) == at(200.0));  // 1.25 × 160 = 200
    CHECK(at(0.5) + at(0.25) == at(0.75));
    CHECK(at(896.0) / at(3.5) == at(256.0));  // 3.5 × 256 = 896
    CHECK(at(10.0) - at(2.5) == at(7.5));
    CHECK(square_root(at(6.25)) == at(2.5));
    CHECK(power(at(-1.5), 3) == at(-3.375));  // 1.5³ = 3.375
    CHECK(power(at(2.0), -2) == at(0.25));
    CHECK(at(3.0) / at(-1.5) == at(-2.0));
    CHECK(exponential(at(0.0)) == at(1.0));
    CHECK(logarithm(at(1.0)) == at(0.0));
}

TEST_CASE("a result that is not exact lies between two neighbouring doubles") {
    const Interval sum = at(0.1) + at(0.2);
    CHECK(step_up(sum.low) == sum.high);
    const Interval product = at(0.1) * at(0.1);
    CHECK(step_up(product.low) == product.high);
    const Interval third = at(1.0) / at(3.0);
    CHECK(step_up(third.low) == third.high);
    CHECK(third.contains(1.0 / 3.0));
    const Interval root = square_root(at(2.0));
    CHECK(step_up(root.low) == root.high);
    const Interval negative = at(-1.0) / at(3.0);
    CHECK(negative == -third);
}

TEST_CASE("steps go to the neighbouring double, also around zero and at the ends") {
    CHECK(step_up(0.0) == smallest);
    CHECK(step_up(-0.0) == smallest);
    CHECK(step_down(0.0) == -smallest);
    CHECK(step_up(-smallest) == 0.0);
    CHECK(step_up(largest) == unbounded);
    CHECK(step_down(-largest) == -unbounded);
    CHECK(step_up(unbounded) == unbounded);
    CHECK(step_down(unbounded) == largest);
    CHECK(step_up(-unbounded) == -largest);
    for (const double x : {1.0, -1.0, 0.1, 1e-300, -1e300, 2.0, 0x1p-1022}) {
        CHECK(step_up(x) == std::nextafter(x, unbounded));
        CHECK(step_down(x) == std::nextafter(x, -unbounded));
    }
}

TEST_CASE("zero times an unbounded end counts as zero") {
    CHECK(at(0.0) * Interval::all() == at(0.0));
    CHECK(Interval{0.0, 2.0} * Interval{1.0, unbounded} == Interval{0.0, unbounded});
    CHECK(Interval{-1.0, 0.0} * Interval{0.0, unbounded} == Interval{-unbounded, 0.0});
}

TEST_CASE("an unbounded end less an unbounded end leaves the result unbounded") {
    const Interval open{5.0, unbounded};
    CHECK(open - open == Interval::all());
    CHECK(open + Interval{-unbounded, 1.0} == Interval::all());
    CHECK(at(unbounded) - at(unbounded) == Interval::all());
    CHECK(open - at(1.0) == Interval{4.0, unbounded});
    CHECK(at(1.0) - open == Interval{-unbounded, -4.0});
}

TEST_CASE("a divisor with zero at its end gives a one-sided result, with zero inside any value") {
    CHECK(Interval{1.0, 2.0} / Interval{0.0, 4.0} == Interval{0.25, unbounded});
    CHECK(Interval{1.0, 2.0} / Interval{-4.0, 0.0} == Interval{-unbounded, -0.25});
    CHECK(Interval{-2.0, -1.0} / Interval{0.0, 4.0} == Interval{-unbounded, -0.25});
    CHECK(Interval{-2.0, -1.0} / Interval{-4.0, 0.0} == Interval{0.25, unbounded});
    CHECK(Interval{-1.0, 1.0} / Interval{0.0, 4.0} == Interval::all());
    CHECK(Interval{1.0, 2.0} / Interval{-1.0, 1.0} == Interval::all());
    CHECK(at(1.0) / at(0.0) == Interval::all());
    CHECK(at(0.0) / at(0.0) == Interval::all());
}

TEST_CASE("dividing by or into an unbounded end stays without NaN") {
    CHECK(Interval{10.0, unbounded} / Interval{2.0, 5.0} == Interval{2.0, unbounded});
    CHECK(at(10.0) / Interval{2.0, unbounded} == Interval{0.0, 5.0});
    CHECK(Interval{1.0, unbounded} / Interval{1.0, unbounded} == Interval{0.0, unbounded});
    CHECK(Interval::all() / Interval{1.0, unbounded} == Interval::all());
    CHECK(at(unbounded) / at(unbounded) == Interval{0.0, unbounded});
    CHECK(at(-unbounded) / at(unbounded) == Interval{-unbounded, 0.0});
}

TEST_CASE("overflow goes to the unbounded end on one side and to the largest number on the other") {
    CHECK(at(largest) + at(largest) == Interval{largest, unbounded});
    CHECK(at(-largest) + at(-largest) == Interval{-unbounded, -largest});
    CHECK(at(1e200) * at(1e200) == Interval{largest, unbounded});
    CHECK(at(-1e200) * at(1e200) == Interval{-unbounded, -largest});
    CHECK(at(1e300) / at(1e-300) == Interval{largest, unbounded});
    CHECK(power(at(1e200), 2) == Interval{largest, unbounded});
}

TEST_CASE("underflow encloses the true value, which is not zero") {
    const Interval product = at(1e-200) * at(1e-200);
    CHECK(product.low <= 0.0);
    CHECK(product.high > 0.0);
    const Interval quotient = at(1e-300) / at(1e300);
    CHECK(quotient.low <= 0.0);
    CHECK(quotient.high > 0.0);
}

TEST_CASE("an even power is never negative and an odd one keeps the sign") {
    CHECK(power({-3.0, 2.0}, 2) == Interval{0.0, 9.0});
    CHECK(power({-3.0, -2.0}, 2) == Interval{4.0, 9.0});
    CHECK(power({-2.0, 3.0}, 3) == Interval{-8.0, 27.0});
    CHECK(power({2.0, 3.0}, 1) == Interval{2.0, 3.0});
    CHECK(power({2.0, 3.0}, 0) == at(1.0));
    CHECK(power({2.0, 4.0}, -1) == Interval{0.25, 0.5});
    CHECK(power({-1.0, 1.0}, -1) == Interval::all());
    CHECK(power({-1.0, 2.0}, -2) == Interval{0.25, unbounded});
    CHECK(power(Interval::all(), 2) == Interval{0.0, unbounded});
}

TEST_CASE("a square root takes the part that is not negative") {
    CHECK(square_root({-4.0, 9.0}) == Interval{0.0, 3.0});
    CHECK(square_root({-4.0, -1.0}) == at(0.0));
    CHECK(square_root({4.0, unbounded}) == Interval{2.0, unbounded});
}

TEST_CASE("a logarithm takes the part that is positive") {
    CHECK(logarithm({0.0, 1.0}) == Interval{-unbounded, 0.0});
    CHECK(logarithm({-5.0, 1.0}) == Interval{-unbounded, 0.0});
    CHECK(logarithm({-5.0, 0.0}) == Interval::all());
    CHECK(logarithm({1.0, unbounded}) == Interval{0.0, unbounded});
    CHECK(exponential({-unbounded, 0.0}) == Interval{0.0, 1.0});
    CHECK(exponential({0.0, unbounded}) == Interval{1.0, unbounded});
}

TEST_CASE("size, lesser, greater and hull work end by end") {
    CHECK(absolute({-3.0, 2.0}) == Interval{0.0, 3.0});
    CHECK(absolute({-3.0, -2.0}) == Interval{2.0, 3.0});
    CHECK(absolute({1.0, 2.0}) == Interval{1.0, 2.0});
    CHECK(lesser({1.0, 5.0}, {2.0, 3.0}) == Interval{1.0, 3.0});
    CHECK(greater({1.0, 5.0}, {2.0, 3.0}) == Interval{2.0, 5.0});
    CHECK(hull({1.0, 2.0}, {4.0, 5.0}) == Interval{1.0, 5.0});
    CHECK(-Interval{1.0, 2.0} == Interval{-2.0, -1.0});
    CHECK_FALSE(std::signbit((-at(0.0)).low));
}

TEST_CASE("numbers are the same when twelve digits do not tell them apart") {
    CHECK(same_number(0.1 + 0.2, 0.3));
    CHECK(same_number(1.0, 1.0 + 1e-13));
    CHECK_FALSE(same_number(1.0, 1.0 + 1e-11));
    CHECK(same_number(0.0, -0.0));
    CHECK_FALSE(same_number(0.0, 1e-300));  // relative only: a tiny length is not none
    CHECK(same_number(unbounded, unbounded));
    CHECK_FALSE(same_number(unbounded, -unbounded));
    CHECK_FALSE(same_number(unbounded, 1e308));
    CHECK(same_number(-1e-20, -1e-20 * (1.0 + 5e-13)));
    CHECK_FALSE(same_number(1e-20, -1e-20));
}
