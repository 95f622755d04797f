// The trade's numbers against published ones: tables spot by spot, derived quantities against worked
// examples. Each case names its source; "worked" means that the arithmetic stands beside it.
#include <doctest/doctest.h>

#include "tests/inspect/reference.hpp"

using namespace packproof;
using inspect_test::check_capacity;
using inspect_test::Derived;
using inspect_test::looked_up;
using inspect_test::number;
using inspect_test::point;
using inspect_test::word;

TEST_CASE(
    "NEC table 310.16, copper: 75 °C and 90 °C columns (2020 and 2023 editions, read in reproductions)") {
    check_capacity("nec", "any", "75 °C",
                   {{"8 AWG", 50},
                    {"6 AWG", 65},
                    {"4 AWG", 85},
                    {"3 AWG", 100},
                    {"2 AWG", 115},
                    {"1 AWG", 130},
                    {"1/0 AWG", 150},
                    {"2/0 AWG", 175},
                    {"3/0 AWG", 200},
                    {"4/0 AWG", 230}});
    check_capacity("nec", "any", "90 °C",
                   {{"8 AWG", 55},
                    {"6 AWG", 75},
                    {"4 AWG", 95},
                    {"3 AWG", 110},
                    {"2 AWG", 130},
                    {"1 AWG", 150},
                    {"1/0 AWG", 170},
                    {"2/0 AWG", 195},
                    {"3/0 AWG", 225},
                    {"4/0 AWG", 260}});
}

TEST_CASE("33 CFR 183.425 table 5, 75 °C and 105 °C columns") {
    check_capacity("marine", "any", "105 °C",
                   {{"8 AWG", 80},
                    {"6 AWG", 120},
                    {"4 AWG", 160},
                    {"3 AWG", 180},
                    {"2 AWG", 210},
                    {"1 AWG", 245},
                    {"1/0 AWG", 285},
                    {"2/0 AWG", 330},
                    {"3/0 AWG", 385},
                    {"4/0 AWG", 445}});
    check_capacity("marine", "any", "75 °C",
                   {{"8 AWG", 65},
                    {"6 AWG", 95},
                    {"4 AWG", 125},
                    {"3 AWG", 145},
                    {"2 AWG", 170},
                    {"1 AWG", 195},
                    {"1/0 AWG", 230},
                    {"2/0 AWG", 265},
                    {"3/0 AWG", 310},
                    {"4/0 AWG", 360}});
}

TEST_CASE("IEC 60364-5-52 table B.52.2, two loaded PVC conductors, method C") {
    check_capacity("iec", "clipped", "70 °C",
                   {{"1.5 mm²", 19.5},
                    {"2.5 mm²", 27},
                    {"4 mm²", 36},
                    {"6 mm²", 46},
                    {"10 mm²", 63},
                    {"16 mm²", 85},
                    {"25 mm²", 112},
                    {"35 mm²", 138},
                    {"50 mm²", 168},
                    {"70 mm²", 213},
                    {"95 mm²", 258}});
}

TEST_CASE(
    "2/0 AWG by NEC at 40 °C: 175 A × 0.88 = 154.0 A; 90 °C insulation 195 × 0.91 = 177.45 A, held to 175 A "
    "by a 75 °C terminal") {
    const std::string device = "[device.b]\nrated_current = \"150 A\"\nterminal_temperature = \"75 °C\"\n";
    const std::string pack = "[pack]\npractice = \"nec\"\nambient = \"40 °C\"\nseries = 16\n" + device;
    CHECK(point(Derived("conductor", "carrying_capacity",
                        pack + "[conductor.a]\nsection = \"2/0 AWG\"\ninsulation_temperature = \"75 "
                               "°C\"\nprotected_by = \"b\"\n")) == doctest::Approx(154.0));
    CHECK(point(Derived("conductor", "carrying_capacity",
                        pack + "[conductor.a]\nsection = \"2/0 AWG\"\ninsulation_temperature = \"90 "
                               "°C\"\nprotected_by = \"b\"\n")) == doctest::Approx(175.0));
    CHECK(point(Derived("conductor", "carrying_capacity",
                        pack + "[conductor.a]\nsection = \"2/0 AWG\"\ninsulation_temperature = \"90 "
                               "°C\"\nprotected_by = \"b\"\n"
                               "bundled = 4\n")) ==
          doctest::Approx(195.0 * 0.91 * 0.80));  // NEC 310.15(C)(1): 80 %
}

TEST_CASE(
    "35 mm² of 90 °C single cores in free air at 50 °C by IEC: 200 A × 0.82 = 164 A (BS 7671 4E1A column F, "
    "table B.52.14)") {
    CHECK(
        point(Derived(
            "conductor", "carrying_capacity",
            "[pack]\npractice = \"iec\"\nambient = \"50 °C\"\nseries = 16\n[device.b]\nrated_current = \"160 "
            "A\"\n"
            "[conductor.a]\nsection = \"35 mm²\"\ninsulation_temperature = \"90 °C\"\nlaying = \"free air\"\n"
            "protected_by = \"b\"\n")) == doctest::Approx(164.0));
}

TEST_CASE(
    "2/0 AWG of 105 °C on a boat, 33 CFR 183: 330 A × 0.85 = 280.5 A at 50 °C; device at 16 cells 350 A, at "
    "8 cells 495 A") {
    const std::string cable =
        "[conductor.a]\nsection = \"2/0 AWG\"\ninsulation_temperature = \"105 °C\"\nprotected_by = \"b\"\n"
        "[device.b]\nrated_current = \"300 A\"\n[cell]\nchemistry = \"LFP\"\n";
    const std::string pack = "[pack]\npractice = \"marine\"\n";
    CHECK(point(Derived("conductor", "carrying_capacity",
                        pack + "series = 16\nambient = \"50 °C\"\n" + cable)) == doctest::Approx(280.5));
    CHECK(point(Derived("conductor", "largest_device",
                        pack + "series = 16\nambient = \"30 °C\"\n" + cable)) == doctest::Approx(350.0));
    CHECK(point(Derived("conductor", "largest_device", pack + "series = 8\nambient = \"30 °C\"\n" + cable)) ==
          doctest::Approx(495.0));
}

TEST_CASE("no practice stated: the capacity spans all three") {
    const Derived all(
        "conductor", "carrying_capacity",
        "[pack]\nambient = \"30 °C\"\nseries = 16\n[device.b]\nrated_current = \"150 A\"\n[cell]\nchemistry "
        "= \"LFP\"\n"
        "[conductor.a]\nsection = \"2/0 AWG\"\ninsulation_temperature = \"90 °C\"\nprotected_by = \"b\"\n"
        "laying = \"clipped\"\n");
    REQUIRE_FALSE(all.missing);
    CHECK(all.range.low == doctest::Approx(175.0));   // nec: 195 A held to the 75 °C terminal column
    CHECK(all.range.high == doctest::Approx(285.0));  // 33 CFR 183.425 table 5, 90 °C column
}

TEST_CASE("six M6 at 0.5 N·m with K = 0.20 pull 2500 N (worked: 6 · 0.5/(0.20 · 0.006))") {
    const std::string rest =
        "[pack]\nrows = 1\nseries = 8\n[fixture]\nbolts = 6\nthread = \"M6\"\nbolt_torque = \"0.5 N·m\"\n"
        "locking = \"plain\"\n";
    CHECK(point(Derived("fixture", "row_force", rest + "nut_factor = \"0.20\"\n")) ==
          doctest::Approx(2500.0));
    const Derived open("fixture", "row_force", rest);
    CHECK(open.range.low == doctest::Approx(6 * 0.5 / (0.308 * 0.006)));
    CHECK(open.range.high == doctest::Approx(6 * 0.5 / (0.148 * 0.006)));
    CHECK(open.range.contains(300 * 9.80665));  // common practice: six M6 at 0.5 N·m give about 300 kgf
}

TEST_CASE("common practice: an M6 bolt at 10 N·m gives about 1000 kgf, inside the computed scatter") {
    const Derived one(
        "fixture", "row_force",
        "[pack]\nrows = 1\nseries = 8\n[fixture]\nbolts = 1\nthread = \"M6\"\nbolt_torque = \"10 N·m\"\n"
        "locking = \"plain\"\n");
    CHECK(one.range.contains(1000 * 9.80665));
}

TEST_CASE("two rows under one plate each feel half, give or take a tenth") {
    const Derived two(
        "fixture", "row_force",
        "[pack]\nrows = 2\nseries = 16\n[fixture]\nbolts = 6\nthread = \"M6\"\nbolt_torque = \"0.5 N·m\"\n"
        "nut_factor = \"0.20\"\nlocking = \"plain\"\nrows_per_plate = 2\n");
    CHECK(two.range.low == doctest::Approx(1250.0 * 0.9));
    CHECK(two.range.high == doctest::Approx(1250.0 * 1.1));
}

TEST_CASE(
    "the torque for the middle of 280 to 320 kgf on six M6 at K = 0.20: 2942 N · 0.2 · 0.006 m / 6 = 0.5884 "
    "N·m") {
    CHECK(point(Derived(
              "fixture", "torque_for_middle",
              "[pack]\nrows = 1\nseries = 8\n[cell]\nclamp_force = \"280 .. 320 kgf\"\n[fixture]\nbolts = 6\n"
              "thread = \"M6\"\nbolt_torque = \"0.5 N·m\"\nnut_factor = \"0.20\"\nlocking = \"plain\"\n")) ==
          doctest::Approx(2941.995 * 0.2 * 0.006 / 6).epsilon(1e-6));
}

TEST_CASE(
    "a self-locking M6 nut may take 3.0 N·m to turn (ISO 2320, class 04 sheet): 0.5 N·m may press nothing") {
    CHECK(looked_up("prevailing_torque", "greatest", {word("M6")}) == doctest::Approx(3.0));
    CHECK(looked_up("prevailing_torque", "greatest", {word("M8")}) == doctest::Approx(6.0));
    const Derived nylon(
        "fixture", "row_force",
        "[pack]\nrows = 1\nseries = 8\n[fixture]\nbolts = 6\nthread = \"M6\"\nbolt_torque = \"0.5 N·m\"\n"
        "locking = \"nylon insert\"\n");
    CHECK(nylon.range.low == 0.0);
}

TEST_CASE("ISO 898-1 and ISO 724: stress areas of coarse threads in mm²") {
    const std::pair<const char*, double> areas[] = {{"M3", 5.03}, {"M4", 8.78}, {"M5", 14.2},
                                                    {"M6", 20.1}, {"M8", 36.6}, {"M10", 58.0}};
    for (const auto& area_of : areas) {
        const std::string thread = area_of.first;
        const double area = area_of.second;
        CAPTURE(thread);
        CHECK(looked_up("thread", "stress_area", {word(thread)}) * 1e6 == doctest::Approx(area));
    }
    CHECK(looked_up("thread", "pitch", {word("M6")}) * 1e3 == doctest::Approx(1.0));
    CHECK(looked_up("thread", "pitch", {word("M8")}) * 1e3 == doctest::Approx(1.25));
}

TEST_CASE("ISO 273: clearance holes, fine, medium and coarse") {
    CHECK(looked_up("clearance_hole", "fine", {word("M6")}) * 1e3 == doctest::Approx(6.4));
    CHECK(looked_up("clearance_hole", "medium", {word("M6")}) * 1e3 == doctest::Approx(6.6));
    CHECK(looked_up("clearance_hole", "coarse", {word("M6")}) * 1e3 == doctest::Approx(7.0));
    CHECK(looked_up("clearance_hole", "fine", {word("M8")}) * 1e3 == doctest::Approx(8.4));
    CHECK(looked_up("clearance_hole", "medium", {word("M8")}) * 1e3 == doctest::Approx(9.0));
}

TEST_CASE("sixteen cells of 3.65 V are 58.4 V, eight 29.2 V (common practice; arithmetic)") {
    const std::string cell = "[cell]\nvoltage = \"2.5 .. 3.65 V\"\n";
    CHECK(point(Derived("pack", "highest_voltage", "[pack]\nseries = 16\n" + cell)) == doctest::Approx(58.4));
    CHECK(point(Derived("pack", "highest_voltage", "[pack]\nseries = 8\n" + cell)) == doctest::Approx(29.2));
}

TEST_CASE(
    "fault current of sixteen cells of 0.25 mΩ with 1 mΩ of links at 58.4 V: 58.4 V / 5.00 mΩ = 11.68 kA "
    "(worked)") {
    const std::string pack = "[pack]\nseries = 16\nparallel = 1\ncircuit_resistance = \"1 mΩ\"\n";
    CHECK(point(Derived("pack", "fault_current",
                        pack + "[cell]\nvoltage = \"2.5 .. 3.65 V\"\nresistance = \"0.25 mΩ\"\n")) ==
          doctest::Approx(11680.0));
    const Derived bound("pack", "fault_current",
                        pack + "[cell]\nvoltage = \"2.5 .. 3.65 V\"\nresistance = \"<= 0.25 mΩ\"\n");
    CHECK(bound.range.low ==
          doctest::Approx(11680.0));  // an upper limit of resistance is a lower limit of current
    CHECK(bound.range.high == doctest::Approx(58400.0));
}

TEST_CASE(
    "a stack of 16 cells, 15 sheets, 2 plates and 2 end sheets: (1168.7 ± 14.15) mm, worst case (worked)") {
    const Derived stack("stack", "length",
                        "[pack]\nseries = 16\n[cell]\nthickness = \"71.7 ± 0.8 mm\"\n[stack]\ncells_in_row = "
                        "16\ncell = \"cell\"\n"
                        "layers = [\"sheet\", \"end\", \"plate\"]\n"
                        "[spacer.sheet]\nthickness = \"0.5 ± 0.05 mm\"\nper_row = "
                        "15\n[spacer.end]\nthickness = \"1 ± 0.1 mm\"\n"
                        "per_row = 2\n[plate.plate]\nthickness = \"6 ± 0.2 mm\"\nper_row = 2\n");
    CHECK(stack.range.low == doctest::Approx(1.1687 - 0.01415));
    CHECK(stack.range.high == doctest::Approx(1.1687 + 0.01415));
}

TEST_CASE(
    "room for a right-angle turn of 35 mm² welding cable: 32 + 12.4 + 6 · 12.4 + 12.4 = 131.2 mm (worked; 6 "
    "D from BS 638-4)") {
    CHECK(
        point(Derived(
            "conductor", "needed_depth",
            "[pack]\nseries = 16\n[lug.l]\nlength = \"32 mm\"\n[conductor.a]\nouter_diameter = \"12.4 mm\"\n"
            "construction = \"welding\"\nlug = \"l\"\n")) == doctest::Approx(0.1312));
}
