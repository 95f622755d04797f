// What conductors carry, practice by practice, and how air and bundles correct it: whole columns of the
// published tables, the source named beside each.
#include <doctest/doctest.h>

#include "tests/inspect/reference.hpp"

using namespace packproof;
using inspect_test::beyond;
using inspect_test::check_capacity;
using inspect_test::looked_up;
using inspect_test::number;
using inspect_test::word;

namespace {

struct Factor {
    int celsius;
    double value;
};

void check_ambient(const char* practice, const char* insulation, std::initializer_list<Factor> factors) {
    for (const Factor& factor : factors) {
        CAPTURE(practice);
        CAPTURE(insulation);
        CAPTURE(factor.celsius);
        CHECK(looked_up("ambient_correction", "factor",
                        {word(practice), number(insulation, true),
                         number(std::to_string(factor.celsius) + " °C", true)}) == factor.value);
    }
}

double grouping(const char* practice, int conductors) {
    return looked_up("grouping", "factor", {word(practice), number(std::to_string(conductors))});
}

}  // namespace

TEST_CASE("NEC table 310.16, copper, 60 °C column (14 and 12 AWG as in 2023: 15 and 20 A)") {
    check_capacity("nec", "any", "60 °C",
                   {{"14 AWG", 15},
                    {"12 AWG", 20},
                    {"10 AWG", 30},
                    {"8 AWG", 40},
                    {"6 AWG", 55},
                    {"4 AWG", 70},
                    {"3 AWG", 85},
                    {"2 AWG", 95},
                    {"1 AWG", 110},
                    {"1/0 AWG", 125},
                    {"2/0 AWG", 145},
                    {"3/0 AWG", 165},
                    {"4/0 AWG", 195}});
}

TEST_CASE("NEC table 310.16, copper, small sizes of the 75 °C and 90 °C columns") {
    check_capacity("nec", "any", "75 °C", {{"14 AWG", 20}, {"12 AWG", 25}, {"10 AWG", 35}});
    check_capacity("nec", "any", "90 °C", {{"14 AWG", 25}, {"12 AWG", 30}, {"10 AWG", 40}});
}

TEST_CASE("33 CFR 183.425 table 5, 60 °C and 90 °C columns") {
    check_capacity("marine", "any", "60 °C",
                   {{"14 AWG", 20},
                    {"12 AWG", 25},
                    {"10 AWG", 40},
                    {"8 AWG", 55},
                    {"6 AWG", 80},
                    {"4 AWG", 105},
                    {"3 AWG", 120},
                    {"2 AWG", 140},
                    {"1 AWG", 165},
                    {"1/0 AWG", 195},
                    {"2/0 AWG", 225},
                    {"3/0 AWG", 260},
                    {"4/0 AWG", 300}});
    check_capacity("marine", "any", "90 °C",
                   {{"14 AWG", 30},
                    {"12 AWG", 40},
                    {"10 AWG", 55},
                    {"8 AWG", 70},
                    {"6 AWG", 100},
                    {"4 AWG", 135},
                    {"3 AWG", 155},
                    {"2 AWG", 180},
                    {"1 AWG", 210},
                    {"1/0 AWG", 245},
                    {"2/0 AWG", 285},
                    {"3/0 AWG", 330},
                    {"4/0 AWG", 385}});
    check_capacity("marine", "any", "75 °C", {{"14 AWG", 20}, {"12 AWG", 25}, {"10 AWG", 40}});
    check_capacity("marine", "any", "105 °C", {{"14 AWG", 35}, {"12 AWG", 45}, {"10 AWG", 60}});
}

TEST_CASE("BS 7671 table 4E1A column 6, single XLPE cores, method C (read in two copies)") {
    check_capacity("iec", "clipped", "90 °C",
                   {{"1.5 mm²", 25},
                    {"2.5 mm²", 34},
                    {"4 mm²", 46},
                    {"6 mm²", 59},
                    {"10 mm²", 81},
                    {"16 mm²", 109},
                    {"25 mm²", 143},
                    {"35 mm²", 176},
                    {"50 mm²", 228},
                    {"70 mm²", 293},
                    {"95 mm²", 355},
                    {"120 mm²", 413},
                    {"150 mm²", 476},
                    {"185 mm²", 545}});
}

TEST_CASE("IEC 60364-5-52 table B.52.10, PVC in free air: method E to 16 mm², F from 25 mm²") {
    check_capacity("iec", "free air", "70 °C",
                   {{"1.5 mm²", 22},
                    {"2.5 mm²", 30},
                    {"4 mm²", 40},
                    {"6 mm²", 51},
                    {"10 mm²", 70},
                    {"16 mm²", 94},
                    {"25 mm²", 131},
                    {"35 mm²", 162},
                    {"50 mm²", 196},
                    {"70 mm²", 251},
                    {"95 mm²", 304},
                    {"120 mm²", 352}});
}

TEST_CASE("BS 7671 table 4E1A column 8, single XLPE cores touching in free air, method F: all its rows") {
    check_capacity("iec", "free air", "90 °C",
                   {{"25 mm²", 161},
                    {"35 mm²", 200},
                    {"50 mm²", 242},
                    {"70 mm²", 310},
                    {"95 mm²", 377},
                    {"120 mm²", 437},
                    {"150 mm²", 504},
                    {"185 mm²", 575}});
}

TEST_CASE("a size between two rows carries what the smaller one does, and none is extrapolated") {
    check_capacity("iec", "clipped", "70 °C", {{"34.9 mm²", 112}, {"1/0 AWG", 168}});
    CHECK(beyond("conductor_capacity",
                 {word("iec"), word("free air"), number("90 °C", true), number("16 mm²")}));
    CHECK(beyond("conductor_capacity", {word("nec"), word("any"), number("75 °C", true), number("185 mm²")}));
}

TEST_CASE("NEC table 310.15(B)(1): factors for warm air, 30 °C base") {
    check_ambient("nec", "60 °C", {{30, 1.0}, {35, 0.91}, {40, 0.82}, {45, 0.71}, {50, 0.58}, {55, 0.41}});
    check_ambient("nec", "75 °C",
                  {{30, 1.0},
                   {35, 0.94},
                   {40, 0.88},
                   {45, 0.82},
                   {50, 0.75},
                   {55, 0.67},
                   {60, 0.58},
                   {65, 0.47},
                   {70, 0.33}});
    check_ambient("nec", "90 °C",
                  {{30, 1.0},
                   {35, 0.96},
                   {40, 0.91},
                   {45, 0.87},
                   {50, 0.82},
                   {55, 0.76},
                   {60, 0.71},
                   {65, 0.65},
                   {70, 0.58}});
    check_ambient("nec", "75 °C", {{31, 0.94}, {36, 0.88}, {66, 0.33}});  // the table prints spans of 5 K
    CHECK(beyond("ambient_correction", {word("nec"), number("60 °C", true), number("56 °C", true)}));
}

TEST_CASE(
    "IEC 60364-5-52 table B.52.14: factors for warm air, 30 °C base (two copies of the equal BS 7671 4B1)") {
    check_ambient("iec", "60 °C", {{35, 0.91}, {40, 0.82}, {45, 0.71}, {50, 0.58}, {55, 0.41}});
    check_ambient("iec", "70 °C",
                  {{35, 0.94}, {40, 0.87}, {45, 0.79}, {50, 0.71}, {55, 0.61}, {60, 0.50}, {65, 0.35}});
    check_ambient("iec", "90 °C",
                  {{35, 0.96},
                   {40, 0.91},
                   {45, 0.87},
                   {50, 0.82},
                   {55, 0.76},
                   {60, 0.71},
                   {65, 0.65},
                   {70, 0.58},
                   {75, 0.50},
                   {80, 0.41}});
    CHECK(beyond("ambient_correction", {word("iec"), number("70 °C", true), number("66 °C", true)}));
}

TEST_CASE(
    "engine space of 50 °C on boats: 105 °C insulation 0.85 (marine catalogues); 0.58, 0.75, 0.82 recalled") {
    auto factor = [](const char* insulation, const char* air) {
        return looked_up("marine_ambient_correction", "factor",
                         {number(insulation, true), number(air, true)});
    };
    CHECK(factor("105 °C", "50 °C") == doctest::Approx(0.85));
    CHECK(factor("60 °C", "50 °C") == doctest::Approx(0.58));
    CHECK(factor("75 °C", "50 °C") == doctest::Approx(0.75));
    CHECK(factor("90 °C", "50 °C") == doctest::Approx(0.82));
    CHECK(factor("105 °C", "30 °C") == doctest::Approx(1.0));
    // a straight line between: 1 − 0.15 · 15/20
    CHECK(factor("105 °C", "45 °C") == doctest::Approx(0.8875));
}

TEST_CASE("NEC table 310.15(C)(1): more than three loaded conductors together") {
    const std::pair<int, double> spots[] = {{3, 1.0},   {4, 0.80},  {6, 0.80},  {7, 0.70},
                                            {9, 0.70},  {10, 0.50}, {20, 0.50}, {21, 0.45},
                                            {30, 0.45}, {31, 0.40}, {40, 0.40}, {41, 0.35}};
    for (const auto& spot : spots) {
        const auto conductors = spot.first;
        const auto factor = spot.second;
        CAPTURE(conductors);
        CHECK(grouping("nec", conductors) == factor);
    }
}

TEST_CASE("33 CFR, circuits of 50 V or more: 3 conductors 0.70, 4 to 6 0.60, 7 to 24 0.50, more 0.40") {
    const std::pair<int, double> spots[] = {{2, 1.0},  {3, 0.70},  {4, 0.60},  {5, 0.60},  {6, 0.60},
                                            {7, 0.50}, {12, 0.50}, {24, 0.50}, {25, 0.40}, {60, 0.40}};
    for (const auto& spot : spots) {
        const auto conductors = spot.first;
        const auto factor = spot.second;
        CAPTURE(conductors);
        CHECK(grouping("marine", conductors) == factor);
    }
}

TEST_CASE("IEC 60364-5-52 table B.52.17 item 1, recalled: 1 to 6 circuits of a plus and a minus") {
    const std::pair<int, double> spots[] = {{2, 1.0},  {3, 0.80}, {4, 0.80},  {5, 0.70},  {6, 0.70},
                                            {7, 0.65}, {8, 0.65}, {10, 0.60}, {11, 0.57}, {12, 0.57}};
    for (const auto& spot : spots) {
        const auto conductors = spot.first;
        const auto factor = spot.second;
        CAPTURE(conductors);
        CHECK(grouping("iec", conductors) == factor);
    }
    CHECK(beyond("grouping", {word("iec"), number("13")}));
}

TEST_CASE("NEC 240.6(A): the next standard rating is not below") {
    const std::pair<double, double> spots[] = {{14, 15},   {41, 45},   {51, 60},   {111, 125}, {125, 125},
                                               {126, 150}, {151, 175}, {201, 225}, {226, 250}, {251, 300},
                                               {301, 350}, {401, 450}, {501, 600}, {701, 800}, {801, 1000}};
    for (const rules::Table& table : inspect_test::built_in().tables) {
        if (table.name != "standard_rating_nec") continue;
        for (const auto& spot : spots) {
            const auto amperes = spot.first;
            const auto rating = spot.second;
            CAPTURE(amperes);
            model::Value asked;
            asked.content = model::Number{units::Interval::point(amperes), amperes, {}};
            const model::Value found = rules::next_in_series(table, true, asked);
            REQUIRE(found.number() != nullptr);
            CHECK(found.number()->nominal == rating);
        }
    }
}
