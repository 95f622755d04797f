// Springs, growth, tolerances, bends, crimps and leads by the built-in rules against published numbers and
// hand calculation; the source stands beside each.
#include <cmath>

#include "tests/inspect/reference.hpp"

using namespace packproof;
using namespace packproof::inspect_test;

TEST_CASE("DIN 2093, series A: force of a disc at three quarters of its cone (a maker's table), to 2.5 %") {
    struct Disc {
        const char* standard;
        double travel, newtons;  // mm
    };
    for (const Disc& disc : {Disc{"A 12.5", 0.225, 673}, Disc{"A 16", 0.2625, 1000},
                             Disc{"A 20", 0.3375, 1530}, Disc{"A 25", 0.4125, 2910}}) {
        CAPTURE(disc.standard);
        const Derived force(
            "fixture", "plate_force",
            "[pack]\nseries = 8\nrows = 1\n[disc_spring.d]\nstandard = \"" + std::string(disc.standard) +
                "\"\nin_series = 10\nforce_share = 1.0\n[fixture]\nbolts = 1\ndisc_spring = \"d\"\n"
                "spring_compression = \"" +
                std::to_string(10 * disc.travel) + " mm\"\n");
        CHECK(force.range.low == doctest::Approx(disc.newtons).epsilon(0.025));
        CHECK(force.range.high == doctest::Approx(disc.newtons).epsilon(0.025));
    }
}

TEST_CASE("eight cells that grow by 0.5 mm each against 300 N/mm: 1064 N (worked)") {
    // 20 kN/mm / 8 = 2500 N/mm in series with 300 N/mm: 267.9; with the rods' 38.6 kN/mm 266.0; · 4 mm = 1064
    // N
    CHECK(1.0 / (1.0 / 38630 + 1.0 / 2500 + 1.0 / 300) == doctest::Approx(266.0).epsilon(1e-3));
    const Derived rise(
        "fixture", "rise_to_the_end",
        "[pack]\nseries = 8\nrows = 1\n[cell]\nstiffness = \"20 kN/mm\"\nlife_growth = \"0.4 mm\"\n"
        "charge_growth = \"0.1 mm\"\n[stack]\ncells_in_row = 8\n[fixture]\nforce = \"2942 N\"\n"
        "rows_per_plate = 1\nstiffness = \"300 N/mm\"\n");
    CHECK(point(rise) == doctest::Approx(4.0 / (1.0 / 2500 + 1.0 / 300)).epsilon(1e-6));
    CHECK(point(rise) == doctest::Approx(1064).epsilon(0.01));
}

TEST_CASE(
    "sixteen cells, fifteen sheets, plates and end sheets in 1180 mm: -4.05 mm at worst, +7.86 mm by RSS") {
    // worked: 16 · 71.7 ± 0.8, 15 · 0.5 ± 0.05, 2 · 6 ± 0.2, 2 · 1 ± 0.1; case 1180 ± 1.2 (ISO 2768-m)
    const std::string text =
        "[cell]\nthickness = \"71.7 ± 0.8 mm\"\n[spacer.sheet]\nthickness = \"0.50 ± 0.05 mm\"\nper_row = "
        "15\n"
        "[spacer.end]\nthickness = \"1.0 ± 0.1 mm\"\nper_row = 2\n[plate.p]\nthickness = \"6.0 ± 0.2 mm\"\n"
        "per_row = 2\n[stack]\ncells_in_row = 16\nlayers = [\"sheet\", \"end\", "
        "\"p\"]\n[fixture]\nprotrusion = "
        "\"none\"\n[enclosure]\ninside_length = \"1180 mm\"\ngeneral_tolerance = \"m\"\n";
    CHECK(point(Derived("stack", "nominal_gap", text)) * 1e3 == doctest::Approx(11.3));
    CHECK(point(Derived("stack", "worst_gap", text)) * 1e3 == doctest::Approx(-4.05));
    CHECK(point(Derived("stack", "likely_gap", text)) * 1e3 == doctest::Approx(7.86).epsilon(1e-3));
    CHECK(looked_up("general_tolerance", "deviation", {word("m"), number("400 mm")}) * 1e3 ==
          doctest::Approx(0.5));
    CHECK(looked_up("general_tolerance", "deviation", {word("c"), number("401 mm")}) * 1e3 ==
          doctest::Approx(2.0));
}

TEST_CASE("room in front of a stud for 35 mm² on a lug of 32 mm: 106.4 mm at 4 D, 131.2 mm at 6 D (worked)") {
    // 32 + 12.4 + 4 · 12.4 + 12.4; and with 6 · 12.4
    for (const auto& [construction, depth] : {std::pair{"flexible", 106.4}, std::pair{"welding", 131.2}}) {
        const Derived needed(
            "conductor", "needed_depth",
            "[lug.l]\nlength = \"32 mm\"\nshape = \"straight\"\n[conductor.c]\nouter_diameter = "
            "\"12.4 mm\"\nlug = \"l\"\nconstruction = \"" +
                std::string(construction) + "\"\n");
        CHECK(point(needed) * 1e3 == doctest::Approx(depth));
    }
}

TEST_CASE("NEC tables 312.6(A) and (B): bending space at terminals, one wire (read in a reproduction)") {
    CHECK(looked_up("wire_bending_space", "elsewhere", {number("21.2 mm²")}) * 1e3 ==
          doctest::Approx(50.8).epsilon(2e-3));
    CHECK(looked_up("wire_bending_space", "opposite_wall", {number("67.4 mm²")}) * 1e3 ==
          doctest::Approx(152).epsilon(5e-3));
    CHECK(looked_up("wire_bending_space", "elsewhere", {number("53.5 mm²")}) * 1e3 ==
          doctest::Approx(88.9).epsilon(2e-3));
}

TEST_CASE("crimps: IEC 61238-1 60 N/mm² of copper; UL 486A by gauge") {
    // worked: 50 mm² 3000 N, 16 mm² 960 N; 22 AWG 8 lbf, 2/0 AWG 300 lbf
    for (const auto& [section, newtons] : {std::pair{"50 mm²", 3000.0}, std::pair{"16 mm²", 960.0}})
        CHECK(point(Derived("conductor", "least_pull",
                            "[pack]\npractice = \"iec\"\n[conductor.c]\nsection = \"" + std::string(section) +
                                "\"\n")) == doctest::Approx(newtons));
    CHECK(looked_up("crimp_pull", "force", {word("nec"), number("22 AWG")}) == doctest::Approx(35.6));
    CHECK(looked_up("crimp_pull", "force", {word("nec"), number("2/0 AWG")}) == doctest::Approx(1334));
}

TEST_CASE(
    "a sense lead to the far end: 15 · 72.2 + 60 + 40 + 150 = 1333 mm of way, 1516 mm of lead (worked)") {
    CHECK(point(Derived("sense_lead", "least_length", "[sense_lead.s]\nroute = \"1.333 m\"\n")) * 1e3 ==
          doctest::Approx(1516.3).epsilon(1e-4));
}

TEST_CASE("links span what the layout gives: rows 184.0 mm, poles 122.5 mm (worked)") {
    // inner to inner 61.5, inner to outer 184.0, outer to outer 306.5 mm
    const auto distance = [](int cells, const std::string& first, const std::string& second) {
        return point(Derived(
                   "busbar", "needed_distance",
                   "[cell]\npole_distance = \"122.5 mm\"\n[stack]\ncells_in_row = " + std::to_string(cells) +
                       "\nrow_distance = \"184.0 mm\"\nfirst_pole = \"" + first + "\"\nsecond_pole = \"" +
                       second + "\"\n[busbar.b]\njoins = \"rows\"\n")) *
               1e3;
    };
    CHECK(distance(8, "inner", "inner") == doctest::Approx(61.5));
    CHECK(distance(8, "outer", "outer") == doctest::Approx(306.5));
    CHECK(distance(8, "inner", "outer") == doctest::Approx(184.0));
    CHECK(distance(7, "inner", "inner") == doctest::Approx(184.0));  // a seventh cell ends on the other side
    CHECK(distance(7, "outer", "inner") == doctest::Approx(61.5));
}
