// Quantities as people write them. The expected SI numbers are those of the text, moved by the exact factors
// of the units (25.4 mm, 9.80665 N); the compiler rounds the literals.
#include <string>
#include <variant>

#include <doctest/doctest.h>

#include "engine/units/read_quantity.hpp"

using namespace packproof::units;

namespace {

Expected due(const char* unit, bool absolute = false, bool rate = false) {
    return {read_unit(unit)->dimension, absolute, rate};
}

Quantity read(const std::string& text, const Expected& expected) {
    const auto result = read_quantity(text, expected);
    if (const auto* error = std::get_if<ReadError>(&result)) FAIL(text, ": ", error->text);
    return std::get<Quantity>(result);
}

PermittedRange range(const std::string& text, const Expected& expected) {
    const auto result = read_range(text, expected);
    if (const auto* error = std::get_if<ReadError>(&result)) FAIL(text, ": ", error->text);
    return std::get<PermittedRange>(result);
}

}  // namespace

TEST_CASE("one length is one number, however it is written") {
    for (const char* text : {"25.4 mm", "25.4mm", "1 in", "1.0 inch", "2.54 cm", "0.0254 m", "25400 µm",
                             "2.54e1 mm", "254e-1 mm", "  25.4 mm  ", "25.4\u00A0mm", "25.4\u202Fmm",
                             "25.4\u2009mm", "+25.4 mm", "1000 mil", "025.40 mm"}) {
        CAPTURE(text);
        const Quantity quantity = read(text, due("m"));
        CHECK(quantity.nominal == 0.0254);
        CHECK(quantity.range == Interval::point(0.0254));
        CHECK_FALSE(quantity.guess);
        CHECK_FALSE(quantity.absolute);
    }
}

TEST_CASE("a tolerance has the ends that the written decimals have") {
    for (const char* text : {"12 ± 0.2 mm", "12±0.2mm", "12 mm ± 0.2 mm", "(12 ± 0.2) mm", "(12±0.2)mm",
                             "12 +- 0.2 mm", "12 +/- 0.2 mm", "12 +0.2/-0.2 mm", "12 +0.2/\u22120.2 mm",
                             "12 +0.2 -0.2 mm", "12 mm +0.2/-0.2 mm", "1.2 cm ± 0.2 mm"}) {
        CAPTURE(text);
        const Quantity quantity = read(text, due("m"));
        CHECK(same_number(quantity.range.low, 0.0118));
        CHECK(same_number(quantity.range.high, 0.0122));
        CHECK(quantity.nominal == 0.012);
    }
    CHECK(read("12 ± 0.2 mm", due("m")).range == Interval{0.0118, 0.0122});  // to the last bit
    CHECK(read("12 ± 0.2 mm", due("m")).range == read("11.8 .. 12.2 mm", due("m")).range);
    CHECK(read("12 ± 0 mm", due("m")).range == Interval::point(0.012));
}

TEST_CASE("two ends make a range whose middle is nominal") {
    for (const char* text :
         {"71.5 .. 72.5 mm", "71.5..72.5 mm", "71.5..72.5mm", "71.5 mm .. 72.5 mm", "7.15 cm .. 72.5 mm"}) {
        CAPTURE(text);
        const Quantity quantity = read(text, due("m"));
        CHECK(quantity.range == Interval{0.0715, 0.0725});
        CHECK(same_number(quantity.nominal, 0.072));
    }
    CHECK(read("-5 .. 5 mm", due("m")).range == Interval{-0.005, 0.005});
    CHECK(read("5 .. 5 mm", due("m")).range == Interval::point(0.005));
}

TEST_CASE("unequal deviations keep the nominal value") {
    const Quantity quantity = read("12 +0.1/-0.3 mm", due("m"));
    CHECK(quantity.range == Interval{0.0117, 0.0121});
    CHECK(quantity.nominal == 0.012);
    CHECK(read("12 +0/-0.3 mm", due("m")).range == Interval{0.0117, 0.012});
}

TEST_CASE("a percentage after a value with a unit is of the value") {
    const Quantity quantity = read("250 A ± 5 %", due("A"));
    CHECK(quantity.range == Interval{237.5, 262.5});  // 250 × 0.95, 250 × 1.05
    CHECK(quantity.nominal == 250.0);
    CHECK(read("-10 V ± 10 %", due("V")).range == Interval{-11.0, -9.0});
}

TEST_CASE("a percentage after a plain number is of the number where only that makes sense") {
    CHECK(read("0.20 ± 35 %", due("")).range == Interval{0.13, 0.27});
    CHECK(read("1.5 ± 10 %", due("")).range == Interval{1.35, 1.65});
    CHECK(read("50 % ± 5 %", due("")).range == Interval{0.45, 0.55});  // both have the unit %
    CHECK(read("(50 ± 5) %", due("")).range == Interval{0.45, 0.55});
    CHECK(read("0.5 ± 0.05", due("")).range == Interval{0.45, 0.55});
}

TEST_CASE("a guess is marked") {
    const Quantity quantity = read("~ 4 N·m", due("N·m"));
    CHECK(quantity.guess);
    CHECK(quantity.range == Interval::point(4.0));
    CHECK(read("~4 Nm", due("N·m")).guess);
}

TEST_CASE("a one-sided value is unbounded on the other side") {
    for (const char* text : {"<= 0.25 mΩ", "≤0.25 mΩ", "≤ 0.25 mohm"}) {
        CAPTURE(text);
        const Quantity quantity = read(text, due("Ω"));
        CHECK(quantity.range == Interval{-unbounded, 0.25e-3});
        CHECK(quantity.nominal == 0.25e-3);
    }
    for (const char* text : {">= 10 kA", "≥10 kA"}) {
        CAPTURE(text);
        CHECK(read(text, due("A")).range == Interval{1e4, unbounded});
    }
}

TEST_CASE("a temperature carries its offset where a temperature is due and none where a difference is") {
    CHECK(read("25 °C", due("K", true)).nominal == 298.15);
    CHECK(read("25 °C", due("K", true)).absolute);
    CHECK(read("77 °F", due("K", true)).nominal == 298.15);
    CHECK(read("300 K", due("K", true)).nominal == 300.0);
    CHECK(read("-273.15 °C", due("K", true)).nominal == 0.0);
    CHECK(read("25 ± 5 °C", due("K", true)).range == Interval{293.15, 303.15});
    CHECK(read("25 °C ± 5 K", due("K", true)).range == Interval{293.15, 303.15});
    CHECK(read("-20 .. 60 °C", due("K", true)).range == Interval{253.15, 333.15});
    CHECK(read("10 °C", due("K")).nominal == 10.0);
    CHECK(read("18 °F", due("K")).nominal == 10.0);
    CHECK_FALSE(read("10 °C", due("K")).absolute);
}

TEST_CASE("a current may be a rate where the field takes one") {
    for (const char* text : {"0.5C", "0.5 C"}) {
        CAPTURE(text);
        const Quantity quantity = read(text, due("A", false, true));
        CHECK(quantity.unit.dimension == read_unit("1/h")->dimension);
        CHECK(quantity.nominal == doctest::Approx(0.5 / 3600.0).epsilon(1e-15));
    }
    CHECK(read("140 A", due("A", false, true)).unit.dimension == read_unit("A")->dimension);
    CHECK(read("0.2 .. 0.5C", due("A", false, true)).range.high == 0.5 / 3600.0);
}

TEST_CASE("the units of the trade read") {
    CHECK(read("40 kgf·cm", due("N·m")).nominal == 3.92266);  // 40 × 0.0980665
    CHECK(read("300 kgf", due("N")).nominal == 2941.995);
    CHECK(read("250 kcmil", due("mm²")).nominal == doctest::Approx(126.676869774e-6).epsilon(1e-11));
    CHECK(read("280 Ah", due("A·s")).nominal == 1008000.0);
    CHECK(read("14.3 kWh", due("J")).nominal == 51480000.0);
    CHECK(read("0.387 Ω/km", due("Ω/m")).nominal == 0.387e-3);
    CHECK(read("17e-6 1/K", due("1/K")).nominal == 17e-6);
    CHECK(read("17 ppm/K", due("1/K")).nominal == 17e-6);
    CHECK(read("2 1/h", due("1/s")).nominal == 2.0 / 3600.0);
    CHECK(read("80 %", due("")).nominal == 0.8);
    CHECK(read("3 kA²s", due("A²·s")).nominal == 3e6);
}

TEST_CASE("the unit is kept as written") {
    CHECK(read("1 in", due("m")).unit.symbol == "in");
    CHECK(read("12 ± 0.2 mm", due("m")).unit.symbol == "mm");
    CHECK(read("4 Nm", due("J")).unit.symbol == "N·m");
    CHECK(read("2/0 AWG", due("mm²")).unit.symbol == "AWG");
    CHECK(read("0.2", due("")).unit.symbol.empty());
}

TEST_CASE("a permitted range has limits for ends") {
    const PermittedRange both = range("2.5 .. 3.5 kN", due("N"));
    CHECK(both.lower == 2500.0);
    CHECK(both.upper == 3500.0);
    CHECK(both.unit.symbol == "kN");
    CHECK(range("<= 80 °C", due("K", true)).upper == 353.15);
    CHECK(range("<= 80 °C", due("K", true)).lower == -unbounded);
    CHECK(range("<= 80 °C", due("K", true)).absolute);
    CHECK(range(">= 10 kA", due("A")).lower == 1e4);
    CHECK(range(">= 10 kA", due("A")).upper == unbounded);
    CHECK(range("6 mm", due("m")).lower == range("6 mm", due("m")).upper);
    CHECK(range("5 ± 1 N·m", due("N·m")).lower == 4.0);
    CHECK(range("5 ± 1 N·m", due("N·m")).upper == 6.0);
}

TEST_CASE("a permitted range cannot be a guess") {
    const auto result = read_range("~ 5 mm", due("m"));
    REQUIRE(std::holds_alternative<ReadError>(result));
    CHECK(std::get<ReadError>(result).text == "a permitted range is not a guess");
}
