// Sizes and resistances of conductors and bars against IEC 60228, ASTM B258 and IEC 60028, and what is lost
// in them against worked examples. "worked" means that the arithmetic stands beside it; tolerance 0.1 %.
#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "tests/inspect/reference.hpp"

using namespace packproof;
using inspect_test::Derived;
using inspect_test::looked_up;
using inspect_test::number;
using inspect_test::point;
using inspect_test::Spot;
using inspect_test::word;

namespace {

doctest::Approx about(double expected) {
    return doctest::Approx(expected).epsilon(0.001);
}

double greatest_resistance(const char* resistance_class, const char* size) {
    return looked_up("conductor_resistance", "resistance", {word(resistance_class), number(size)}) * 1e3;
}

/// 150 A through 1.5 m each way of 35 mm², links and joints of no resistance.
const char* const drop =
    "[pack]\nseries = 16\njoint_resistance = \"0 µΩ\"\n[cell.x]\nchemistry = \"LFP\"\nresistance = \"0.25 "
    "mΩ\"\n"
    "[busbar.l]\njoins = \"neighbouring cells\"\ncount = 15\nresistance = \"0 mΩ\"\n[load.i]\ncurrent = "
    "\"150 A\"\n"
    "[conductor.a]\nfrom = \"x.plus\"\nto = \"i.plus\"\nlength = \"1.5 m\"\nsection = \"35 "
    "mm²\"\nconstruction = \"flexible\"\ninsulation_temperature = \"70 °C\"\n"
    "[conductor.b]\nlike = \"a\"\nfrom = \"x.minus\"\nto = \"i.minus\"\n";

}  // namespace

TEST_CASE(
    "IEC 60228:2004 tables 1 and 2, classes 1 and 2, plain copper at 20 °C in Ω/km (read in three copies)") {
    const Spot spots[] = {{"0.5 mm²", 36.0}, {"0.75 mm²", 24.5}, {"1 mm²", 18.1},    {"1.5 mm²", 12.1},
                          {"2.5 mm²", 7.41}, {"4 mm²", 4.61},    {"6 mm²", 3.08},    {"10 mm²", 1.83},
                          {"16 mm²", 1.15},  {"25 mm²", 0.727},  {"35 mm²", 0.524},  {"50 mm²", 0.387},
                          {"70 mm²", 0.268}, {"95 mm²", 0.193},  {"120 mm²", 0.153}, {"150 mm²", 0.124},
                          {"185 mm²", 0.101}};  // class 1, the greater: class 2 has 0.0991
    for (const Spot& spot : spots) {
        CAPTURE(spot.size);
        CHECK(greatest_resistance("stranded", spot.size) == doctest::Approx(spot.value).epsilon(1e-9));
    }
}

TEST_CASE("IEC 60228:2004 table 3, class 5, plain copper at 20 °C in Ω/km (read in three copies)") {
    const Spot spots[] = {{"0.5 mm²", 39.0}, {"0.75 mm²", 26.0}, {"1 mm²", 19.5},    {"1.5 mm²", 13.3},
                          {"2.5 mm²", 7.98}, {"4 mm²", 4.95},    {"6 mm²", 3.30},    {"10 mm²", 1.91},
                          {"16 mm²", 1.21},  {"25 mm²", 0.780},  {"35 mm²", 0.554},  {"50 mm²", 0.386},
                          {"70 mm²", 0.272}, {"95 mm²", 0.206},  {"120 mm²", 0.161}, {"150 mm²", 0.129},
                          {"185 mm²", 0.106}};
    for (const Spot& spot : spots) {
        CAPTURE(spot.size);
        CHECK(greatest_resistance("flexible", spot.size) == doctest::Approx(spot.value).epsilon(1e-9));
    }
}

TEST_CASE(
    "ASTM B258: diameter 0.127 mm · 92^((36 − n)/39), area π/4 · d² (formula recalled, meets both fixed "
    "points)") {
    struct Gauge {
        const char* name;
        double diameter;  // mm
        double area;      // mm²
    };
    const Gauge gauges[] = {
        {"22 AWG", 0.6438, 0.3255}, {"20 AWG", 0.8118, 0.5176},    {"18 AWG", 1.0237, 0.8230},
        {"14 AWG", 1.6277, 2.081},  {"12 AWG", 2.0525, 3.309},     {"10 AWG", 2.5882, 5.261},
        {"8 AWG", 3.2636, 8.366},   {"6 AWG", 4.1154, 13.30},      {"4 AWG", 5.1894, 21.15},
        {"3 AWG", 5.8273, 26.67},   {"2 AWG", 6.5437, 33.63},      {"1 AWG", 7.3481, 42.41},
        {"1/0 AWG", 8.2515, 53.48}, {"2/0 AWG", 9.26583, 67.4309}, {"3/0 AWG", 10.405, 85.03},
        {"4/0 AWG", 11.684, 107.2}};
    for (const Gauge& gauge : gauges) {
        CAPTURE(gauge.name);
        const double area = number(gauge.name).number()->nominal * 1e6;
        CHECK(area == doctest::Approx(gauge.area).epsilon(0.0003));
        CHECK(std::sqrt(4 * area / std::numbers::pi) == doctest::Approx(gauge.diameter).epsilon(0.0001));
    }
    // the fixed points of the standard: 36 AWG is 0.0050 in, 4/0 is 0.4600 in
    CHECK(number("36 AWG").number()->nominal == doctest::Approx(std::numbers::pi / 4 * 0.000127 * 0.000127));
    CHECK(number("4/0 AWG").number()->nominal == doctest::Approx(std::numbers::pi / 4 * 0.011684 * 0.011684));
}

TEST_CASE("pure copper of an AWG size in mΩ/m: 17.241 nΩ·m over the area (IEC 60028:1925, ASTM B258)") {
    const Spot spots[] = {{"22 AWG", 52.96}, {"18 AWG", 20.95},   {"14 AWG", 8.285},     {"10 AWG", 3.277},
                          {"8 AWG", 2.061},  {"6 AWG", 1.296},    {"4 AWG", 0.8152},     {"2 AWG", 0.5127},
                          {"1 AWG", 0.4066}, {"1/0 AWG", 0.3224}, {"2/0 AWG", 0.255684}, {"4/0 AWG", 0.1608}};
    for (const Spot& spot : spots) {
        CAPTURE(spot.size);
        CHECK(point(Derived("conductor", "cold_resistance",
                            "[conductor.a]\nmaterial = \"copper\"\nlength = \"1 m\"\nsection = \"" +
                                std::string(spot.size) + "\"\n")) *
                  1e3 ==
              about(spot.value));
    }
}

TEST_CASE(
    "1 m of 35 mm² class 5 at 70 °C: 0.554 · (1 + 0.00393 · 50) = 0.554 · 1.1965 = 0.662861 mΩ (worked)") {
    CHECK(point(Derived("conductor", "warm_resistance",
                        "[conductor.a]\nlength = \"1 m\"\nsection = \"35 mm²\"\nconstruction = "
                        "\"flexible\"\ninsulation_temperature = \"70 °C\"\n")) *
              1e3 ==
          doctest::Approx(0.662861).epsilon(1e-6));
}

TEST_CASE(
    "copper at t against 20 °C: 1 + 0.00393 (t − 20) by IEC 60028; (234.5 + t)/254.5 by IEC 60228's annex, "
    "recalled, is the same to four digits") {
    const std::pair<int, double> factors[] = {{20, 1.0},    {40, 1.0786},  {60, 1.1572}, {65, 1.17685},
                                              {70, 1.1965}, {75, 1.21615}, {90, 1.2751}};
    for (const auto& spot : factors) {
        const auto celsius = spot.first;
        const auto factor = spot.second;
        CAPTURE(celsius);
        const double warm =
            point(Derived("conductor", "warm_resistance",
                          "[conductor.a]\nresistance = \"1 mΩ\"\ninsulation_temperature = \"" +
                              std::to_string(celsius) + " °C\"\n"));
        CHECK(warm * 1e3 == doctest::Approx(factor).epsilon(1e-9));
        CHECK(warm * 1e3 == doctest::Approx((234.5 + celsius) / 254.5).epsilon(1e-4));
    }
}

TEST_CASE("150 A over 3 m of 35 mm² at 70 °C: 1.988583 mΩ, 0.29829 V, 0.5826 % of 51.2 V, 44.74 W (worked)") {
    CHECK(point(Derived("load", "line_resistance", drop)) * 1e3 == about(1.988583));
    const double lost = point(Derived("load", "voltage_lost", drop));
    CHECK(lost == about(0.29829));
    CHECK(lost / point(Derived("pack", "nominal_voltage", drop)) * 100 == about(0.5826));
    CHECK(point(Derived("load", "heat_of_the_line", drop)) == about(44.74));
    CHECK(point(Derived("conductor", "voltage_lost", drop, "a")) +
              point(Derived("conductor", "voltage_lost", drop, "b")) ==
          about(0.29829));
    CHECK(point(Derived("conductor", "heat", drop, "a")) == about(44.74 / 2));
}

TEST_CASE(
    "joints of 10, 50 and 200 µΩ at 200 A lose 2, 10 and 40 mV and 0.4, 2 and 8 W each (worked: I·R, I²·R)") {
    const std::pair<const char*, std::pair<double, double>> joints[] = {
        {"10 µΩ", {0.002, 0.4}}, {"50 µΩ", {0.010, 2.0}}, {"200 µΩ", {0.040, 8.0}}};
    for (const auto& spot : joints) {
        const auto resistance = spot.first;
        const auto expected = spot.second;
        CAPTURE(resistance);
        const std::string described =  // two cables and one link, two joints each
            "[pack]\nseries = 16\njoint_resistance = \"" + std::string(resistance) +
            "\"\n[cell.x]\nchemistry = \"LFP\"\n[busbar.l]\njoins = \"neighbouring cells\"\ncount = "
            "1\nresistance = \"0 mΩ\"\n"
            "[load.i]\ncurrent = \"200 A\"\n[conductor.a]\nfrom = \"x.plus\"\nto = \"i.plus\"\nresistance = "
            "\"0 mΩ\"\ninsulation_temperature = \"20 °C\"\n[conductor.b]\nlike = \"a\"\nfrom = "
            "\"x.minus\"\nto = \"i.minus\"\n";
        CHECK(point(Derived("load", "voltage_lost", described)) == about(6 * expected.first));
        CHECK(point(Derived("load", "heat_of_the_line", described)) == about(6 * expected.second));
    }
}

TEST_CASE(
    "a link 60 mm long at 65 °C and 150 A: 20 × 2 mm 30.435 µΩ and 0.685 W, 20 × 3 mm 20.290 µΩ and 0.457 W "
    "(worked: 17.241 nΩ·m · 60 mm / area · 1.17685)") {
    struct Link {
        const char* thickness;
        double cold, warm, volts, watts;
    };
    for (const Link& link : {Link{"2 mm", 25.861e-6, 30.435e-6, 4.565e-3, 0.685},
                             Link{"3 mm", 17.241e-6, 20.290e-6, 3.044e-3, 0.457}}) {
        CAPTURE(link.thickness);
        const std::string text =
            "[pack]\nseries = 16\n[load.i]\ncurrent = \"150 A\"\n[busbar.l]\nmaterial = \"copper\"\nwidth = "
            "\"20 mm\"\n"
            "thickness = \"" +
            std::string(link.thickness) + "\"\nhole_distance = \"60 mm\"\n";
        CHECK(point(Derived("busbar", "cold_resistance", text)) == about(link.cold));
        const double warm = point(Derived("busbar", "warm_resistance", text));
        CHECK(warm == about(link.warm));
        CHECK(warm * 150 == about(link.volts));
        CHECK(point(Derived("busbar", "heat_in_use", text)) == about(link.watts));
    }
}

TEST_CASE(
    "loss at 140 A: 16 · 0.25 mΩ · (140 A)² = 78.4 W in the cells, 1 mΩ of links 19.6 W, together 98.0 W "
    "(worked)") {
    const std::string text =
        "[pack]\nseries = 16\njoint_resistance = \"0 µΩ\"\n[cell]\nworking_resistance = \"0.25 mΩ\"\n"
        // 0.849726 mΩ at 20 °C are 1 mΩ at 65 °C: 1 / 1.17685
        "[busbar.l]\njoins = \"neighbouring cells\"\ncount = 1\nresistance = \"0.8497260 mΩ\"\n"
        "[load.i]\ncurrent = \"140 A\"\n[bms]\nresistance = \"0 mΩ\"\n";
    CHECK(point(Derived("pack", "heat_of_the_cells", text)) == about(78.4));
    CHECK(point(Derived("pack", "heat_in_the_case", text)) == about(98.0));
}

TEST_CASE(
    "a sense lead of 0.5 mm², 0.6 m out and back, 46.8 mΩ: 0.1 A bends a reading by 4.68 mV, 2 A by 93.6 mV "
    "(worked: 2 · 0.6 m · 39.0 mΩ/m, IEC 60228 class 5)") {
    const std::string lead =
        "[sense_lead.s]\nsection = \"0.5 mm²\"\nlength = \"0.6 m\"\n[bms]\nbalance_current = ";
    CHECK(point(Derived("sense_lead", "reading_error", lead + "\"0.1 A\"\n")) == about(0.00468));
    CHECK(point(Derived("sense_lead", "reading_error", lead + "\"2 A\"\n")) == about(0.0936));
}

TEST_CASE("bare copper bars by DIN 43671, 35 °C air, 65 °C bar") {
    struct Bar {
        const char* thickness;
        const char* width;
        double amperes;
    };
    const Bar read_in_a_handbook[] = {
        {"5 mm", "12 mm", 177},  {"5 mm", "20 mm", 274},  {"5 mm", "30 mm", 379}, {"5 mm", "40 mm", 482},
        {"10 mm", "20 mm", 427}, {"10 mm", "30 mm", 573}, {"10 mm", "40 mm", 715}};
    const Bar recalled[] = {{"2 mm", "12 mm", 108}, {"2 mm", "15 mm", 128}, {"2 mm", "20 mm", 162},
                            {"3 mm", "15 mm", 162}, {"3 mm", "20 mm", 204}, {"3 mm", "25 mm", 245},
                            {"3 mm", "30 mm", 285}};
    auto check = [](const Bar& bar) {
        CAPTURE(bar.thickness);
        CAPTURE(bar.width);
        CHECK(looked_up("busbar_capacity", "current",
                        {word("copper"), number(bar.thickness), number(bar.width)}) == bar.amperes);
        CHECK(point(Derived("busbar", "carrying_capacity",
                            "[pack]\nambient = \"35 °C\"\n[busbar.b]\nmaterial = \"copper\"\nflexible = "
                            "false\nwidth = \"" +
                                std::string(bar.width) + "\"\nthickness = \"" + bar.thickness + "\"\n")) ==
              about(bar.amperes));
    };
    for (const Bar& bar : read_in_a_handbook)
        check(bar);
    for (const Bar& bar : recalled)
        check(bar);
}
