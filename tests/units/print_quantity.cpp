// Quantities as text. Expected texts follow the SI Brochure (9th edition, 5.4) and NIST SP 811 (7.7): a space
// before the unit, a zero before the point, each number with its unit, "to" for a range.
#include <cmath>
#include <string>

#include <doctest/doctest.h>

#include "engine/units/print_quantity.hpp"

using namespace packproof::units;

namespace {

Unit unit(const char* text) {
    return *read_unit(text);
}
std::string number(double value, const char* in, int digits = 4) {
    return print_number(value, unit(in), false, digits);
}
std::string value(Interval range, double nominal, const char* in) {
    return print_value(range, nominal, unit(in), false);
}

}  // namespace

TEST_CASE("a number has a space before its unit and no trailing zeros") {
    CHECK(number(187.5, "A") == "187.5 A");
    CHECK(number(200.0, "A") == "200 A");
    CHECK(number(0.012, "mm") == "12 mm");
    CHECK(number(0.0, "mm") == "0 mm");
    CHECK(number(-0.0, "mm") == "0 mm");
    CHECK(number(-0.003, "mm") == "-3 mm");
    CHECK(number(0.05, "%") == "5 %");
    CHECK(number(0.2, "") == "0.2");
    CHECK(number(3.14159265358979, "°") == "180°");
}

TEST_CASE("a number is rounded to its digits, halves by the exact binary value") {
    CHECK(number(1.0 / 3.0, "A") == "0.3333 A");
    CHECK(number(2.0 / 3.0, "A") == "0.6667 A");
    CHECK(number(99999.0, "A") == "100000 A");
    CHECK(number(12345.0, "A") == "12340 A");  // a tie: to even, as IEEE 754 rounds
    CHECK(number(12345.0, "A", 5) == "12345 A");
    CHECK(number(0.00012345678, "A", 3) == "0.000123 A");
}

TEST_CASE("there is no exponent between 1e-4 and 1e7") {
    CHECK(number(1e-4, "A") == "0.0001 A");
    CHECK(number(9999999.0, "A", 7) == "9999999 A");
    CHECK(number(1234567.0, "A", 7) == "1234567 A");
    CHECK(number(1.7e-5, "1/K") == "1.7e-5 1/K");
    CHECK(number(2.5e8, "A") == "2.5e8 A");
    CHECK(number(-1e-9, "A") == "-1e-9 A");
}

TEST_CASE("a temperature shows in its own degrees, a difference without the offset") {
    CHECK(print_number(353.15, unit("°C"), true) == "80 °C");
    CHECK(print_number(353.15, unit("°F"), true) == "176 °F");  // 80 × 1.8 + 32
    CHECK(print_number(10.0, unit("°C"), false) == "10 °C");
    CHECK(print_number(10.0, unit("K"), false) == "10 K");
    CHECK(print_number(273.15, unit("°C"), true) == "0 °C");
}

TEST_CASE("an interval names both ends with their unit, or the one that it has") {
    CHECK(print_interval({2500.0, 3500.0}, unit("kN"), false) == "2.5 kN to 3.5 kN");
    CHECK(print_interval(Interval::point(200.0), unit("A"), false) == "200 A");
    CHECK(print_interval({-unbounded, 0.00025}, unit("mΩ"), false) == "at most 0.25 mΩ");
    CHECK(print_interval({1e4, unbounded}, unit("kA"), false) == "at least 10 kA");
    CHECK(print_interval(Interval::all(), unit("A"), false) == "any value");
    CHECK(print_interval({1.0, step_up(1.0)}, unit("A"), false) == "1 A");  // a hair of rounding is none
}

TEST_CASE("ends that differ print differently") {
    CHECK(print_interval({1.00001, 1.00002}, unit("A"), false) == "1.00001 A to 1.00002 A");
}

TEST_CASE("a symmetrical tolerance prints with the plus-minus sign and brackets") {
    CHECK(value({0.0712, 0.0722}, 0.0717, "mm") == "(71.7 ± 0.5) mm");
    CHECK(value({237.5, 262.5}, 250.0, "A") == "(250 ± 12.5) A");
    CHECK(value({0.45, 0.55}, 0.5, "%") == "(50 ± 5) %");
    CHECK(value({0.45, 0.55}, 0.5, "") == "0.5 ± 0.05");
    CHECK(print_value({293.15, 303.15}, 298.15, unit("°C"), true) == "(25 ± 5) °C");
}

TEST_CASE("a computed value keeps the digits that its tolerance justifies, the tolerance rounded up") {
    CHECK(value({10.0 - 0.123456, 10.0 + 0.123456}, 10.0, "A") == "(10 ± 0.13) A");
    CHECK(value({12.3456789 - 0.0234567, 12.3456789 + 0.0234567}, 12.3456789, "A") == "(12.346 ± 0.024) A");
    CHECK(value({1234.56789 - 0.0999999, 1234.56789 + 0.0999999}, 1234.56789, "A") == "(1234.57 ± 0.1) A");
}

TEST_CASE("a wide or lopsided tolerance prints its ends") {
    CHECK(value({1625.0, 3375.0}, 2500.0, "N") == "2500 N (1625 N to 3375 N)");  // 2500 N ± 35 %
    CHECK(value({0.0117, 0.0121}, 0.012, "mm") == "12 mm (11.7 mm to 12.1 mm)");
    CHECK(value({0.0117, 0.012}, 0.012, "mm") == "12 mm (11.7 mm to 12 mm)");
    CHECK(value({-unbounded, 0.00025}, 0.00025, "mΩ") == "at most 0.25 mΩ");
    CHECK(value(Interval::point(6.0), 6.0, "N·m") == "6 N·m");
}

TEST_CASE("a permitted range prints its limits") {
    CHECK(print_range(2500.0, 3500.0, unit("kN"), false) == "2.5 kN to 3.5 kN");
    CHECK(print_range(-unbounded, 353.15, unit("°C"), true) == "at most 80 °C");
    CHECK(print_range(1e4, unbounded, unit("kA"), false) == "at least 10 kA");
    CHECK(print_range(0.006, 0.006, unit("mm"), false) == "6 mm");
    CHECK(print_range(-unbounded, unbounded, unit("mm"), false) == "no limit");
}

TEST_CASE("the unit that fits is taken, else a common one of fitting size") {
    const auto shown = [](const char* kind, double size, const Unit& preferred = {}, bool absolute = false) {
        return display_unit(read_unit(kind)->dimension, preferred, size, absolute).symbol;
    };
    CHECK(shown("A", 0.5, unit("A")) == "A");
    CHECK(shown("A", 0.5, unit("mm")) == "mA");
    CHECK(shown("A", 5.0) == "A");
    CHECK(shown("A", 1000.0) == "kA");
    CHECK(shown("A", 999.0) == "A");
    CHECK(shown("Ω", 0.00025) == "µΩ");
    CHECK(shown("Ω", 0.012) == "mΩ");
    CHECK(shown("m", 0.00005) == "mm");
    CHECK(shown("m", 2.5) == "mm");
    CHECK(shown("m", 0.0) == "mm");
    CHECK(shown("N", -2500.0) == "kN");
    CHECK(shown("s", 5400.0) == "min");
    CHECK(shown("s", 36000.0) == "h");
    CHECK(shown("K", 300.0, {}, true) == "°C");
    CHECK(shown("K", 10.0) == "K");
    CHECK(shown("", 0.5) == "");
    CHECK(shown("", 0.5, unit("%")) == "%");
    CHECK(shown("kg·m", 1.0) == "m·kg");
    CHECK(shown("W/(m·K)", 237.0) == "W/(m·K)");
}

TEST_CASE("every common unit can show a number of any size") {
    for (const std::string_view name : known_units()) {
        const Dimension dimension = read_unit(name)->dimension;
        for (const double size : {0.0, 1e-12, 1e-3, 1.0, 1e3, 1e12, -5.0, unbounded}) {
            CAPTURE(std::string{name});
            CHECK(display_unit(dimension, {}, size, false).dimension == dimension);
        }
    }
}

TEST_CASE("a value gets the digits that tell it from its limit") {
    CHECK(digits_to_tell_apart(200.0, 250.0, unit("A"), false) == 4);
    CHECK(digits_to_tell_apart(250.004, 250.0, unit("A"), false) == 6);  // 250.004
    CHECK(digits_to_tell_apart(250.0, 250.0, unit("A"), false) == 4);
    CHECK(digits_to_tell_apart(353.1501, 353.15, unit("°C"), true) == 6);  // 80.0001 °C
    CHECK(digits_to_tell_apart(1.0, 1.0 + 1e-12, unit("A"), false) == 13);
    CHECK(digits_to_tell_apart(1.0, unbounded, unit("A"), false) == 4);
    CHECK(digits_to_tell_apart(1.0, step_up(1.0), unit("A"), false) == 15);
}

TEST_CASE("an unbounded number still has a text") {
    CHECK(number(unbounded, "A") == "unlimited A");
    CHECK(number(-unbounded, "A") == "-unlimited A");
}
