// Exact decimals: one rounding, at the end.
#include <string>

#include <doctest/doctest.h>

#include "engine/units/decimal.hpp"

using namespace packproof::units;

namespace {

Decimal of(long long mantissa, int exponent) {
    return {mantissa, exponent};
}

}  // namespace

TEST_CASE("a decimal number becomes the double that the compiler makes of it") {
    CHECK(to_double(of(1, -1)) == 0.1);
    CHECK(to_double(of(254, -4)) == 0.0254);
    CHECK(to_double(of(123456789012345678, -17)) == 1.23456789012345678);
    CHECK(to_double(of(-5, -324)) == -5e-324);
    CHECK(to_double(of(9007199254740993, 0)) == 9007199254740992.0);  // 2^53 + 1, a tie: to even
    CHECK(to_double(of(9007199254740995, 0)) == 9007199254740996.0);
    CHECK(to_double(of(1, 23)) == 1e23);
    CHECK(to_double(of(0, 5)) == 0.0);
}

TEST_CASE("a scale is applied before the rounding, not after") {
    CHECK(to_double(of(254, -1), {1, 1, -3, 0}) == 0.0254);  // 25.4 × 0.001 in doubles is not 0.0254
    CHECK(to_double(of(1, 0), {254, 1, -4, 0}) == 0.0254);
    CHECK(to_double(of(3600, 0), {1, 3600, 0, 0}) == 1.0);
    CHECK(to_double(of(7, 0), {1, 3, 0, 0}) == 7.0 / 3.0);
    CHECK(to_double(of(45967, -2), {5, 9, 0, 0}) == doctest::Approx(255.3722222222222).epsilon(1e-15));
    CHECK(to_double(of(180, 0), {1, 180, 0, 1}) == 3.14159265358979323846);
    CHECK(to_double(of(1, 0), {1, 1, 0, -1}) == doctest::Approx(0.318309886183790672).epsilon(1e-15));
}

TEST_CASE("long numbers take the slow way to the same place") {
    // 123456789.123456789 × 44482216152605 / 10^13 = 549163157.92961793..., by Python's fractions
    CHECK(to_double(of(123456789123456789, -9), {44482216152605, 1, -13, 0}) == 549163157.9296179);
}

TEST_CASE("scales multiply without losing digits and say when they would") {
    const Scale inch{254, 1, -4, 0};
    const Scale pound_force{44482216152605, 1, -13, 0};
    CHECK(*multiply(inch, pound_force) == Scale{1129848290276167, 1, -16, 0});  // 0.1129848290276167 N·m
    CHECK(*power(inch, 2) == Scale{64516, 1, -8, 0});                           // 645.16 mm²
    CHECK(to_double(of(1, 0), *power(inch, -1)) == 1.0 / 0.0254);
    CHECK(*multiply({60, 1, 0, 0}, {1, 60, 0, 0}) == Scale{});
    CHECK_FALSE(power(pound_force, 2).has_value());
}

TEST_CASE("sums and products are exact or refused") {
    CHECK(to_double(*add(of(12, 0), of(-2, -1))) == 11.8);
    CHECK(to_double(*add(of(7, 2), of(5, -3))) == 700.005);
    CHECK(to_double(*multiply(of(25, 1), of(95, -2))) == 237.5);  // 250 × 0.95
    CHECK(to_double(*add(of(0, 0), of(5, 0))) == 5.0);
    CHECK_FALSE(add(of(1, 30), of(1, -30)).has_value());
    CHECK_FALSE(
        multiply(of(123456789012345679, 0), *multiply(of(123456789012345679, 0), of(11, 0))).has_value());
}
