// Wire gauges against a table from outside the code and against GNU units.
#include <cmath>
#include <string>
#include <variant>

#include <doctest/doctest.h>

#include "engine/units/gauge.hpp"
#include "engine/units/print_quantity.hpp"
#include "engine/units/read_quantity.hpp"
#include "oracle.hpp"

using namespace packproof::units;

namespace {

double area_of(const std::string& text) {
    const auto result = read_quantity(text, {read_unit("mm²")->dimension, false, false});
    const auto* quantity = std::get_if<Quantity>(&result);
    REQUIRE_MESSAGE(quantity != nullptr, text);
    return quantity->nominal;
}

struct Row {
    const char* size;
    int n;
    double area;  ///< mm²
    double half_of_last_digit;
};

// ASTM B258 (solid copper, d = 0.127 mm × 92^((36 - n)/39)), areas as printed in wire tables.
const Row rows[] = {{"22 AWG", 22, 0.326, 5e-4}, {"20 AWG", 20, 0.518, 5e-4},  {"18 AWG", 18, 0.823, 5e-4},
                    {"14 AWG", 14, 2.081, 5e-4}, {"12 AWG", 12, 3.309, 5e-4},  {"10 AWG", 10, 5.261, 5e-4},
                    {"8 AWG", 8, 8.366, 5e-4},   {"6 AWG", 6, 13.30, 5e-3},    {"4 AWG", 4, 21.15, 5e-3},
                    {"3 AWG", 3, 26.67, 5e-3},   {"2 AWG", 2, 33.63, 5e-3},    {"1 AWG", 1, 42.41, 5e-3},
                    {"1/0 AWG", 0, 53.48, 6e-3}, {"2/0 AWG", -1, 67.43, 5e-3}, {"3/0 AWG", -2, 85.03, 5e-3},
                    {"4/0 AWG", -3, 107.2, 5e-2}};

}  // namespace

TEST_CASE("a wire gauge has the area that ASTM B258 gives it") {
    for (const Row& row : rows) {
        CAPTURE(row.size);
        CHECK(std::fabs(area_of(row.size) * 1e6 - row.area) <= row.half_of_last_digit);
    }
}

TEST_CASE("the fixed points of the gauge hold: 36 is 0.0050 in and 4/0 is 0.4600 in across") {
    const double quarter_pi = std::atan(1.0);
    CHECK(gauge_area(36) == doctest::Approx(quarter_pi * 0.127e-3 * 0.127e-3).epsilon(1e-12));
    CHECK(gauge_area(-3) == doctest::Approx(quarter_pi * 11.684e-3 * 11.684e-3).epsilon(1e-12));
}

TEST_CASE("GNU units agrees on the area of every gauge") {
    for (int n = largest_gauge; n <= smallest_gauge; ++n) {
        CAPTURE(n);
        const double area = packproof::tests::ask_gnu_units("awg(" + std::to_string(n) + ")^2 (pi/4)", "m^2");
        CHECK(std::fabs(gauge_area(n) / area - 1.0) < 1e-12);
    }
}

TEST_CASE("every spelling of a gauge means the same size") {
    for (const char* text : {"2/0 AWG", "2/0AWG", "AWG 2/0", "AWG2/0", "00 AWG", "awg 00", "  2/0  Awg "}) {
        CAPTURE(text);
        CHECK(area_of(text) == gauge_area(-1));
    }
    for (const char* text : {"4 AWG", "4AWG", "AWG4", "AWG 4"}) {
        CAPTURE(text);
        CHECK(area_of(text) == gauge_area(4));
    }
    CHECK(area_of("0 AWG") == gauge_area(0));
    CHECK(area_of("0000 AWG") == gauge_area(-3));
    CHECK(area_of("000 AWG") == gauge_area(-2));
}

TEST_CASE("a name goes to its size and back, and nothing else is a size") {
    for (int n = largest_gauge; n <= smallest_gauge; ++n) {
        CHECK(read_gauge(gauge_name(n)) == n);
        CHECK(gauge_of(gauge_area(n)) == n);
    }
    for (const char* text : {"", "5/0", "0/0", "41", "00000", "04", "2/", "/0", "2/1", "-1", "99999"}) {
        CAPTURE(text);
        CHECK_FALSE(read_gauge(text).has_value());
    }
}

TEST_CASE("an area that is no gauge has none") {
    CHECK_FALSE(gauge_of(50e-6).has_value());
    CHECK_FALSE(gauge_of(gauge_area(4) * (1.0 + 1e-9)).has_value());
    CHECK_FALSE(gauge_of(0.0).has_value());
    CHECK_FALSE(gauge_of(-1.0).has_value());
    CHECK_FALSE(gauge_of(INFINITY).has_value());
    CHECK_FALSE(gauge_of(gauge_area(-3) * 1.26).has_value());  // what would be 5/0
}

TEST_CASE("an area shows as a gauge only where it is one") {
    const Unit gauge = *read_unit("AWG");
    CHECK(print_number(gauge_area(-1), gauge, false) == "2/0 AWG");
    CHECK(print_number(gauge_area(22), gauge, false) == "22 AWG");
    CHECK(print_number(50e-6, gauge, false) == "50 mm²");
    CHECK(display_unit(gauge.dimension, gauge, gauge_area(4), false).symbol == "AWG");
    CHECK(display_unit(gauge.dimension, gauge, 50e-6, false).symbol == "mm²");
    CHECK(print_interval({gauge_area(4), gauge_area(2)}, gauge, false) == "4 AWG to 2 AWG");
    CHECK(print_interval({gauge_area(4), 35e-6}, gauge, false) == "21.15 mm² to 35 mm²");
    CHECK(print_interval({-unbounded, gauge_area(0)}, gauge, false) == "at most 1/0 AWG");
}

TEST_CASE("gauges may be written thick end first or last") {
    const Expected area{read_unit("mm²")->dimension, false, false};
    for (const char* text : {"6 .. 2 AWG", "2 .. 6 AWG", "6 AWG .. 2 AWG", "AWG 6 .. AWG 2"}) {
        CAPTURE(text);
        const auto result = read_range(text, area);
        REQUIRE(std::holds_alternative<PermittedRange>(result));
        CHECK(std::get<PermittedRange>(result).lower == gauge_area(6));
        CHECK(std::get<PermittedRange>(result).upper == gauge_area(2));
    }
}
