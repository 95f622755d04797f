// Devices, short circuits, precharging and taps against worked examples: what quantities give and what rules
// say on both sides of the worked limit. The arithmetic and its source stand beside each; tolerance 0.1 %.
#include <doctest/doctest.h>

#include <cmath>

#include "tests/inspect/reference.hpp"

using namespace packproof;
using inspect_test::conforms;
using inspect_test::Derived;
using inspect_test::fails;
using inspect_test::looked_up;
using inspect_test::point;
using inspect_test::word;

namespace {

doctest::Approx about(double expected) {
    return doctest::Approx(expected).epsilon(0.001);
}

std::string quoted(double number, const char* unit) {
    return '"' + std::to_string(number) + ' ' + unit + '"';
}

/// 35 mm² of 90 °C cores in free air at 50 °C: 200 A · 0.82 = 164 A.
std::string warm_cable(const std::string& device) {
    return "[pack]\npractice = \"iec\"\nambient = \"50 °C\"\nseries = 16\n[device.d]\n" + device +
           "[conductor.a]\nsection = \"35 mm²\"\ninsulation_temperature = \"90 °C\"\nlaying = \"free "
           "air\"\nprotected_by = \"d\"\n";
}

/// Sixteen cells of which a dead short at the device draws 58.4 V over `milliohm`.
std::string short_circuit(double milliohm, const std::string& device, const std::string& conductor) {
    return "[pack]\nseries = 16\ncircuit_resistance = " + quoted(milliohm - 4.0, "mΩ") +
           "\n[cell]\nvoltage = \"2.5 .. 3.65 V\"\nresistance = \"0.25 mΩ\"\n[device.d]\nkind = "
           "\"breaker\"\n" +
           device + "[conductor.a]\nprotected_by = \"d\"\n" + conductor;
}

/// Strings of 5.0 mΩ and 58.4 V on one bar, behind it a device.
const char* const two_packs =
    "[pack]\nseries = 16\n[cell]\nvoltage = \"2.5 .. 3.65 V\"\n[string.sa]\nresistance = \"5.0 "
    "mΩ\"\n[string.sb]\nlike = \"sa\"\n[busbar.bar]\n[load.i]\n"
    "[conductor.a]\nfrom = \"sa.plus\"\nto = \"bar\"\nresistance = \"0 mΩ\"\n"
    "[conductor.b]\nlike = \"a\"\nfrom = \"sb.plus\"\n"
    "[conductor.c]\nlike = \"a\"\nfrom = \"sa.minus\"\nto = \"i.minus\"\n"
    "[conductor.d]\nlike = \"c\"\nfrom = \"sb.minus\"\n"
    "[conductor.e]\nlike = \"a\"\nfrom = \"bar\"\nto = \"q.line\"\n"
    "[conductor.f]\nlike = \"a\"\nfrom = \"q.load\"\nto = \"i.plus\"\n";

/// Cells where they stand, joined in line by links of no resistance, one of them turned round.
std::string cells_in_line(int cells, int reversed, const std::string& voltage) {
    std::string text = "[pack]\nseries = " + std::to_string(cells) + "\n[cell.x]\nvoltage = \"2.5 .. " +
                       voltage + "\"\nresistance = \"0.25 mΩ\"\n[busbar.l]\nresistance = \"0 mΩ\"\n";
    auto post = [reversed](int cell, bool upper) {
        return "c" + std::to_string(cell) + ((upper == (cell != reversed)) ? ".plus" : ".minus");
    };
    for (int c = 1; c <= cells; ++c) {
        text += "[place.c" + std::to_string(c) + "]\n";
        if (c == cells) break;
        text += "[span.s" + std::to_string(c) + "]\nfrom = \"" + post(c, true) + "\"\nto = \"" +
                post(c + 1, false) + "\"\n";
    }
    return text + "[load.i]\n[conductor.p]\nfrom = \"" + post(cells, true) +
           "\"\nto = \"i.plus\"\nresistance = \"0 mΩ\"\n[conductor.m]\nfrom = \"" + post(1, false) +
           "\"\nto = \"i.minus\"\nresistance = \"0 mΩ\"\n";
}

}  // namespace

TEST_CASE(
    "on 164 A a 160 A breaker is allowed, a 160 A gG fuse is not: 1.6 · 160 = 256 A above 1.45 · 164 = 237.8 "
    "A; "
    "125 A is (IEC 60364-4-43 433.1 and IEC 60269-1, recalled)") {
    CHECK(conforms("breaker-protects-conductor",
                   warm_cable("kind = \"breaker\"\nrated_current = \"160 A\"\n")));
    CHECK(fails("breaker-protects-conductor", warm_cable("kind = \"breaker\"\nrated_current = \"165 A\"\n")));
    const std::string fuse = "kind = \"fuse\"\nfuse_class = \"gG\"\nrated_current = ";
    CHECK(fails("fuse-melts-before-conductor", warm_cable(fuse + "\"160 A\"\n")));
    CHECK(conforms("fuse-melts-before-conductor", warm_cable(fuse + "\"125 A\"\n")));
    // the limit itself: 237.8 / 1.6 = 148.6 A
    CHECK(conforms("fuse-melts-before-conductor", warm_cable(fuse + "\"148.6 A\"\n")));
    CHECK(fails("fuse-melts-before-conductor", warm_cable(fuse + "\"148.7 A\"\n")));
}

TEST_CASE(
    "k² · S²: 6 mm² PVC 476 100, 10 mm² PVC 1 322 500, 6 mm² XLPE 736 164 A²·s (IEC 60364-4-43 434.5.2)") {
    auto withstand = [](const char* section, const char* insulation) {
        return point(Derived("conductor", "withstand",
                             "[conductor.a]\nmaterial = \"copper\"\nsection = \"" + std::string(section) +
                                 "\"\ninsulation = \"" + insulation + "\"\n"));
    };
    CHECK(withstand("6 mm²", "PVC") == about(476100));
    CHECK(withstand("10 mm²", "PVC") == about(1322500));
    CHECK(withstand("6 mm²", "XLPE") == about(736164));
}

TEST_CASE(
    "10 kA for 5 ms are 500 000 A²·s: PVC needs 6.149 mm², XLPE 4.945 mm² (worked: 10 000 · √0.005 / k)") {
    const std::string device = "clearing_time = \"5 ms\"\n";
    auto text = [&](const char* section, const char* insulation) {
        return short_circuit(
            5.84, device,
            "section = \"" + std::string(section) + "\"\ninsulation = \"" + insulation + "\"\n");
    };
    CHECK(point(Derived("device", "fault_current", text("6 mm²", "PVC"))) == about(10000));
    CHECK(point(Derived("device", "clearing_heat", text("6 mm²", "PVC"))) == about(500000));
    const std::string rule = "conductor-stands-the-short-circuit";
    CHECK(fails(rule, text("6 mm²", "PVC")));
    CHECK(fails(rule, text("6.14 mm²", "PVC")));
    CHECK(conforms(rule, text("6.16 mm²", "PVC")));
    CHECK(conforms(rule, text("10 mm²", "PVC")));
    CHECK(fails(rule, text("4.94 mm²", "XLPE")));
    CHECK(conforms(rule, text("4.95 mm²", "XLPE")));
    CHECK(conforms(rule, text("6 mm²", "XLPE")));
}

TEST_CASE(
    "16 cells of 0.25 mΩ and 1 mΩ of links, 5.00 mΩ: 10.24, 10.656 and 11.68 kA at 51.2, 53.28 and 58.4 V "
    "(worked)") {
    const std::pair<const char*, double> voltages[] = {{"3.2", 10240}, {"3.33", 10656}, {"3.65", 11680}};
    for (const auto& spot : voltages) {
        const auto volts = spot.first;
        const auto amperes = spot.second;
        CAPTURE(volts);
        // along the path: cells, links and a device right at the pole
        const std::string along =
            "[pack]\nseries = 16\n[cell.x]\nvoltage = \"2.5 .. " + std::string(volts) +
            " V\"\nresistance = \"0.25 mΩ\"\n[busbar.l]\njoins = \"neighbouring "
            "cells\"\ncount = 1\nresistance = \"1 mΩ\"\n"
            "[load.i]\n[device.d]\nkind = \"breaker\"\nbreaking_capacity = \"10 kA\"\n"
            "[conductor.a]\nfrom = \"x.plus\"\nto = \"d.line\"\nresistance = \"0 mΩ\"\n"
            "[conductor.b]\nfrom = \"d.load\"\nto = \"i.plus\"\nresistance = \"0 mΩ\"\n"
            "[conductor.c]\nfrom = \"x.minus\"\nto = \"i.minus\"\nresistance = \"0 mΩ\"\n";
        CHECK(point(Derived("cell", "fault_current", along)) == about(amperes));
        CHECK(point(Derived("device", "fault_along_path", along)) == about(amperes));
        CHECK(fails("device-breaks-the-fault-current", along));
    }
}

TEST_CASE(
    "1 m out and 1 m back of 35 mm² class 5 more, 6.108 mΩ: 9.561 kA at the far end; behind the first metre "
    "58.4 V / 5.554 mΩ = 10.515 kA (worked)") {
    const std::string text =
        "[pack]\nseries = 16\njoint_resistance = \"0 µΩ\"\n[cell.x]\nvoltage = \"3.65 .. 3.65 "
        "V\"\nresistance "
        "= \"0.25 mΩ\"\nworking_resistance = \"0.25 mΩ\"\n"
        "[busbar.l]\njoins = \"neighbouring cells\"\ncount = 1\nresistance = \"LINK mΩ\"\n[load.i]\n"
        "[device.d]\nkind = \"breaker\"\npole_resistance = \"0 mΩ\"\n"
        "[conductor.a]\nfrom = \"x.plus\"\nto = \"d.line\"\nresistance = \"0.554 "
        "mΩ\"\ninsulation_temperature = \"20 °C\"\n"
        "[conductor.b]\nlike = \"a\"\nfrom = \"d.load\"\nto = \"i.plus\"\nresistance = \"0 mΩ\"\n"
        "[conductor.c]\nlike = \"a\"\nfrom = \"x.minus\"\nto = \"i.minus\"\n";
    auto with_link = [&](const char* milliohm) {
        std::string written = text;
        return written.replace(written.find("LINK"), 4, milliohm);
    };
    // the least fault takes links at 65 °C: 0.849726 · 1.17685 = 1 mΩ
    CHECK(point(Derived("device", "least_fault_current", with_link("0.8497260"))) == about(9561.2));
    CHECK(point(Derived("device", "fault_along_path", with_link("1"))) == about(10515));
    CHECK(point(Derived("conductor", "fault_current", with_link("1"), "c")) == about(10515));
}

TEST_CASE("9.561 kA for 10 ms are 914 171 A²·s: PVC needs 8.314 mm², 35 mm² last 0.1772 s (worked)") {
    auto text = [](const char* time, const char* section) {
        return short_circuit(6.108, "clearing_time = \"" + std::string(time) + "\"\n",
                             "insulation = \"PVC\"\nsection = \"" + std::string(section) + "\"\n");
    };
    CHECK(point(Derived("device", "clearing_heat", text("10 ms", "10 mm²"))) == about(914171));
    const std::string rule = "conductor-stands-the-short-circuit";
    CHECK(fails(rule, text("10 ms", "8.31 mm²")));
    CHECK(conforms(rule, text("10 ms", "8.32 mm²")));
    CHECK(fails(rule, text("10 ms", "6 mm²")));
    CHECK(conforms(rule, text("10 ms", "10 mm²")));
    CHECK(conforms(rule, text("0.1771 s", "35 mm²")));
    CHECK(fails(rule, text("0.1773 s", "35 mm²")));
}

TEST_CASE(
    "k by its formula: copper 226 · √ln((234.5 + end)/(234.5 + start)), aluminium 148 and 228 (IEC 60949)") {
    struct Insulation {
        const char* metal;
        const char* name;
        double start, end;  // °C
    };
    for (const Insulation& one :
         {Insulation{"copper", "PVC", 70, 160}, Insulation{"copper", "XLPE", 90, 250},
          Insulation{"copper", "rubber", 85, 220}, Insulation{"copper", "silicone", 180, 350},
          Insulation{"aluminium", "PVC", 70, 160}, Insulation{"aluminium", "XLPE", 90, 250}}) {
        CAPTURE(one.metal);
        CAPTURE(one.name);
        const bool copper = std::string(one.metal) == "copper";
        const double beta = copper ? 234.5 : 228.0;
        const double k = (copper ? 226 : 148) * std::sqrt(std::log((beta + one.end) / (beta + one.start)));
        // the standard rounds to whole numbers, some down
        CHECK(std::abs(looked_up("short_circuit_heat", "k", {word(one.metal), word(one.name)}) - k) < 0.51);
    }
    // a bare bar from 30 to 200 °C: 226 · √ln(434.5/264.5) = 159.2; the table's 159 for 20 mm · 2 mm
    CHECK(point(Derived("busbar", "withstand",
                        "[busbar.l]\nmaterial = \"copper\"\nwidth = \"20 mm\"\nthickness = \"2 mm\"\n")) ==
          about(std::pow(159.0 * 40, 2)));
}

TEST_CASE(
    "two packs of 5.0 mΩ joined over 1 mΩ of cable: 0.5 V drive 45.45 A, 2.0 V 181.8 A (worked: over 11 "
    "mΩ)") {
    const std::pair<const char*, double> differences[] = {{"53.0 V", 45.4545}, {"51.5 V", 181.818}};
    for (const auto& spot : differences) {
        const auto volts = spot.first;
        const auto amperes = spot.second;
        CAPTURE(volts);
        CHECK(point(Derived("string", "joining_current",
                            "[pack]\nseries = 16\n[string.sa]\nresistance = \"5 mΩ\"\nrest_voltage = \"53.5 "
                            "V\"\n[string.sb]\nresistance = \"5 mΩ\"\nloop_resistance = \"11 "
                            "mΩ\"\nrest_voltage = \"" +
                                std::string(volts) + "\"\n",
                            "sb")) == about(amperes));
    }
}

TEST_CASE(
    "a bar with two packs of 5.0 mΩ at 58.4 V: 2 · 11.68 = 23.36 kA behind it; a device of 20 kA fails "
    "(worked)") {
    const std::string device = "[device.q]\nkind = \"breaker\"\nbreaking_capacity = ";
    CHECK(point(Derived("device", "fault_current", two_packs + device + "\"20 kA\"\n")) == about(23360));
    CHECK(fails("device-breaks-the-fault-current", two_packs + device + "\"20 kA\"\n"));
    CHECK(conforms("device-breaks-the-fault-current", two_packs + device + "\"25 kA\"\n"));
}

TEST_CASE(
    "5 kW from 44.8 V by NEC: at efficiency 0.94 118.731 A · 1.25 = 148.414 A, within 150 A; at 0.93 "
    "150.0096 A, "
    "which is not (NEC 210.20(A); no fraction is dropped)") {
    auto pack = [](double efficiency) {
        return "[pack]\npractice = \"nec\"\nseries = 16\ncontinuous_current = " +
               quoted(5000 / (44.8 * efficiency), "A") + "\n[device.d]\nkind = \"breaker\"\nrated_current = ";
    };
    CHECK(conforms("device-carries-the-pack-current", pack(0.94) + "\"150 A\"\n"));
    CHECK(fails("device-carries-the-pack-current", pack(0.93) + "\"150 A\"\n"));
    CHECK(conforms("device-carries-the-pack-current", pack(0.93) + "\"175 A\"\n"));
    // 2/0 AWG of 75 °C carries 154.0 A at 40 °C and 175 A before corrections
    const std::string cable =
        "\"150 A\"\n[conductor.a]\nsection = \"2/0 AWG\"\ninsulation_temperature = \"75 "
        "°C\"\nprotected_by = \"d\"\ndesign_current = \"118.731 A\"\n";
    std::string warm = pack(0.94) + cable;
    warm.insert(warm.find("series"), "ambient = \"40 °C\"\n");
    CHECK(conforms("conductor-carries-its-current", warm));
    CHECK(conforms("conductor-has-a-quarter-in-hand", warm));
}

TEST_CASE("voltage of devices: 16 · 3.65 = 58.4 V, 8 · 3.65 = 29.2 V, 16 · 3.75 = 60.0 V (worked)") {
    auto text = [](int series, const char* cell, const char* rated) {
        return "[pack]\nseries = " + std::to_string(series) + "\n[cell]\nvoltage = \"2.5 .. " +
               std::string(cell) + " V\"\n[device.d]\nkind = \"breaker\"\nrated_voltage = \"" + rated +
               "\"\n";
    };
    const std::string rule = "device-stands-the-full-voltage";
    CHECK(fails(rule, text(16, "3.65", "48 V")));
    CHECK(fails(rule, text(16, "3.65", "58 V")));
    CHECK(conforms(rule, text(16, "3.65", "60 V")));
    CHECK(conforms(rule, text(16, "3.65", "80 V")));
    CHECK(conforms(rule, text(8, "3.65", "32 V")));
    CHECK(fails(rule, text(8, "3.65", "24 V")));
    CHECK(conforms(rule, text(16, "3.75", "60 V")));
    CHECK(fails(rule, text(16, "3.76", "60 V")));
}

TEST_CASE("10 mF behind 22 Ω at 58.4 V: 17.053 J, τ 0.220 s, first 2.6545 A (worked: C·U²/2, R·C, U/R)") {
    auto text = [](const std::string& rest) {
        return "[pack]\nseries = 16\n[cell]\nvoltage = \"2.5 .. 3.65 V\"\n[load.i]\ncapacitance = \"10 "
               "mF\"\n[device.r]\nkind = \"precharge resistor\"\nresistance = \"22 Ω\"\n" +
               rest;
    };
    const std::string pulse = "precharge-resistor-takes-the-pulse";
    CHECK(conforms(pulse, text("pulse_energy = \"17.06 J\"\n")));
    CHECK(fails(pulse, text("pulse_energy = \"17.05 J\"\n")));
    const std::string time = "precharge-lasts-long-enough";
    CHECK(conforms(time, text("precharge_time = \"1.10 s\"\n")));  // 5 τ, 0.674 % left
    // the rule asks for 99 %: ln 100 · 0.220 s = 1.01314 s
    CHECK(conforms(time, text("precharge_time = \"1.014 s\"\n")));
    CHECK(fails(time, text("precharge_time = \"1.013 s\"\n")));
    const std::string trip = "precharge-current-does-not-trip-the-bms";
    CHECK(conforms(trip, text("[settings]\ndischarge_overcurrent = \"2.655 A\"\n")));
    CHECK(fails(trip, text("[settings]\ndischarge_overcurrent = \"2.654 A\"\n")));
}

TEST_CASE(
    "2/0 AWG of 105 °C on boats: up to 495 A, so 450 A, at 8 cells; the next rating, 350 A, at 16 (33 CFR "
    "183.455)") {
    auto text = [](int series, const char* amperes) {
        return "[pack]\npractice = \"marine\"\nambient = \"30 °C\"\nseries = " + std::to_string(series) +
               "\n[cell]\nchemistry = \"LFP\"\n[device.d]\nkind = \"fuse\"\nrated_current = \"" + amperes +
               "\"\n[conductor.a]\nsection = \"2/0 AWG\"\ninsulation_temperature = \"105 °C\"\nprotected_by "
               "= \"d\"\n";
    };
    CHECK(conforms("breaker-protects-conductor", text(8, "450 A")));
    CHECK(fails("breaker-protects-conductor", text(8, "500 A")));
    CHECK(conforms("breaker-protects-conductor", text(16, "350 A")));
    CHECK(fails("breaker-protects-conductor", text(16, "400 A")));
}

TEST_CASE(
    "taps of 16 cells at 3.30 V with leads 5 and 6 swapped: steps +6.6, −3.3, +6.6 V at 5, 6, 7, the rest "
    "3.3 V "
    "(worked)") {
    std::string readings = "[pack]\nseries = 16\n[cell.x]\nchemistry = \"LFP\"\n";
    std::string leads = cells_in_line(16, 0, "3.65 V");
    for (int tap = 0; tap <= 16; ++tap) {
        const int meets = tap == 5 ? 6 : tap == 6 ? 5 : tap;
        readings += "[reading.r" + std::to_string(tap) + "]\ntap = " + std::to_string(tap) +
                    "\ntap_voltage = " + quoted(3.3 * meets, "V") + "\n";
        const std::string post = meets == 0 ? "c1.minus" : "c" + std::to_string(meets) + ".plus";
        leads += "[sense_lead.t" + std::to_string(tap) + "]\ntap = " + std::to_string(tap) +
                 "\nlands_on = \"" + post + "\"\n";
    }
    for (int tap = 0; tap <= 16; ++tap) {
        CAPTURE(tap);
        const bool steps_wrong = tap >= 5 && tap <= 7;
        if (tap > 0)
            CHECK(fails("taps-rise-by-one-cell", readings, "r" + std::to_string(tap)) == steps_wrong);
        if (tap > 0)
            CHECK(conforms("taps-rise-by-one-cell", readings, "r" + std::to_string(tap)) != steps_wrong);
        const bool swapped = tap == 5 || tap == 6;
        CHECK(fails("sense-lead-lands-at-its-tap", leads, "t" + std::to_string(tap)) == swapped);
        CHECK(conforms("sense-lead-lands-at-its-tap", leads, "t" + std::to_string(tap)) != swapped);
    }
}

TEST_CASE(
    "one reversed cell takes two cells' voltage away: 46.2 V instead of 52.8 of 16, 19.8 instead of 26.4 of "
    "8 "
    "(worked); through 0.25 mΩ a cell 11.55 kA instead of 13.2, 9.9 instead of 13.2") {
    struct Line {
        int cells, reversed;
        double amperes;
    };
    for (const Line& line : {Line{16, 0, 13200}, Line{16, 6, 11550}, Line{8, 0, 13200}, Line{8, 3, 9900}}) {
        CAPTURE(line.cells);
        CAPTURE(line.reversed);
        const std::string text = cells_in_line(line.cells, line.reversed, "3.30 V");
        CHECK(point(Derived("conductor", "fault_current", text, "p")) == about(line.amperes));
        for (int c = 1; c <= line.cells; ++c) {
            CAPTURE(c);
            const std::string id = "c" + std::to_string(c);
            CHECK(fails("cell-stands-the-right-way-round", text, id) == (c == line.reversed));
            CHECK(conforms("cell-stands-the-right-way-round", text, id) == (c != line.reversed));
        }
    }
}

TEST_CASE(
    "a sense lead of 0.5 mm², 0.6 m out and back, shorted: 3.3 V drive 70.51 A and burn it in 0.665 s, 52.8 "
    "V "
    "1128.2 A in 2.60 ms (worked: 46.8 mΩ, (115 · 0.5 / I)²)") {
    struct Short {
        int series;
        double amperes, seconds;
    };
    for (const Short& one : {Short{1, 70.51, 0.665}, Short{16, 1128.2, 0.002598}}) {
        CAPTURE(one.series);
        const std::string text = "[pack]\nseries = " + std::to_string(one.series) +
                                 "\n[cell]\nvoltage = \"2.5 .. 3.3 V\"\n[sense_lead.s]\nsection = \"0.5 "
                                 "mm²\"\nlength = \"0.6 m\"\n";
        CHECK(point(Derived("sense_lead", "shorted_current", text)) == about(one.amperes));
        CHECK(point(Derived("sense_lead", "time_to_burn", text)) == about(one.seconds));
    }
}

TEST_CASE("insulation of a full pack of 58.4 V: at least 100 Ω/V, 5.84 kΩ (ISO 6469-4, an excerpt)") {
    auto text = [](const char* kilohm) {
        return "[pack]\nseries = 16\n[cell]\nvoltage = \"2.5 .. 3.65 V\"\n[reading.r]\ninsulation_resistance "
               "= \"" +
               std::string(kilohm) + "\"\n";
    };
    CHECK(conforms("case-is-insulated-from-the-cells", text("5.84 kΩ")));
    CHECK(fails("case-is-insulated-from-the-cells", text("5.83 kΩ")));
}
