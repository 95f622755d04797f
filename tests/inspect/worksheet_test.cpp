// The worksheets filled in for a pack: what to expect, what was read, in what order.
#include "engine/inspect/worksheet.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "engine/inspect/drawing.hpp"
#include "tests/inspect/reference.hpp"

using namespace packproof;
using inspect::Sheet;
using inspect::SheetLine;
using inspect_test::built_in;
using inspect_test::Described;
using State = inspect::SheetLine::State;

namespace {

std::vector<Sheet> filled(const std::string& text) {
    const Described pack(text);
    return inspect::fill_sheets(*pack.model, built_in(),
                                inspect::inspect_model(*pack.model, built_in(), pack.sources));
}

const Sheet* find(const std::vector<Sheet>& sheets, const std::string& name) {
    for (const Sheet& sheet : sheets)
        if (sheet.name == name) return &sheet;
    return nullptr;
}

std::string pack_of(int series) {
    return "[pack]\nseries = " + std::to_string(series) + "\n[cell]\nchemistry = \"LFP\"\n";
}

std::string tap(int number, const std::string& voltage) {
    const std::string n = std::to_string(number);
    return "[reading.tap-" + n + "]\ntap = " + n + "\ntap_voltage = \"" + voltage + "\"\n";
}

/// The pack from above, of an invented cell of 72 mm by 174 mm; nothing if it is not drawn.
std::optional<inspect::Figure> plan(const std::string& pack, const std::string& stack,
                                    const std::string& more, const std::string& pole_distance = "123 mm") {
    const Described drawn(
        "[pack]\n" + pack +
        "\n[cell]\nchemistry = \"LFP\"\nthickness = \"72 mm\"\nwidth = \"174 mm\"\nheight = "
        "\"207 mm\"\npole_distance = \"" +
        pole_distance +
        "\"\n[stack]\nbetween_rows = \"56 mm\"\nfirst_pole = \"inner\"\nsecond_pole = "
        "\"inner\"\nspacer = \"sheet\"\nlayers = [\"sheet\"]\n" +
        stack + "\n[spacer.sheet]\nthickness = \"0.5 mm\"\n" + more);
    for (inspect::Figure& figure : inspect::draw(*drawn.model, built_in()))
        if (figure.name == "plan") return std::move(figure);
    return std::nullopt;
}

std::string note_at(const inspect::Figure& figure, const std::string& label) {
    for (const inspect::Mark& mark : figure.marks)
        if (mark.label == label) return mark.note;
    return "not drawn";
}

}  // namespace

// LFP cells of 2.5 to 3.65 V (common practice): tap n stands at n times that.
TEST_CASE("each tap has its own line with n cells to expect, and a blank") {
    const auto sheets = filled(pack_of(16));
    const Sheet* taps = find(sheets, "taps");
    REQUIRE(taps != nullptr);
    REQUIRE(taps->lines.size() == 16);
    CHECK(taps->lines[0].expects == "2.5 V to 3.65 V");
    CHECK(taps->lines[7].text == "Tap 8 against tap 0, and 2.5 V to 3.65 V more than the tap before");
    CHECK(taps->lines[7].expects == "20 V to 29.2 V");
    CHECK(taps->lines[15].expects == "40 V to 58.4 V");
    for (const SheetLine& line : taps->lines) {
        CHECK(line.measured);
        CHECK(line.found.empty());
        CHECK(line.state == State::open);
        CHECK(!line.stop.empty());
    }
}

TEST_CASE("what was read stands beside what is expected, and says whether it fits") {
    const auto sheets = filled(pack_of(2) + tap(0, "0 V") + tap(1, "3.3 V") + tap(2, "7.31 V"));
    const Sheet* taps = find(sheets, "taps");
    REQUIRE(taps != nullptr);
    CHECK(taps->lines[0].found == "3.3 V");
    CHECK(taps->lines[0].state == State::inside);
    CHECK(taps->lines[1].found == "7.31 V");
    CHECK(taps->lines[1].state == State::outside);
    const auto limit = filled(pack_of(1) + tap(0, "0 V") + tap(1, "3.65 V"));
    CHECK(find(limit, "taps")->lines[0].state == State::inside);
    const auto open = filled(pack_of(1) + tap(0, "0 V") + tap(1, "3.64 ± 0.02 V"));
    CHECK(find(open, "taps")->lines[0].state == State::uncertain);
}

TEST_CASE("of two taps exchanged both are marked, though one of them reads within its span") {
    std::string text = pack_of(16);
    for (int n = 0; n <= 16; ++n)
        text += tap(n, std::to_string(3.3 * (n == 7 ? 8 : n == 8 ? 7 : n)) + " V");
    const auto sheets = filled(text);
    const Sheet* taps = find(sheets, "taps");
    REQUIRE(taps != nullptr);
    // tap 9 rises by two cells over tap 8, which is read before it: its own check fails as well
    for (int n = 1; n <= 16; ++n)
        CHECK(taps->lines[static_cast<std::size_t>(n - 1)].state ==
              (n >= 7 && n <= 9 ? State::outside : State::inside));
}

TEST_CASE("two readings of one tap are no reading of it") {
    const auto sheets =
        filled(pack_of(1) + tap(1, "3.3 V") + "[reading.again]\ntap = 1\ntap_voltage = \"3.2 V\"\n");
    CHECK(find(sheets, "taps")->lines[0].found.empty());
}

TEST_CASE("steps stand in the nearest order that works, hold points marked") {
    const auto sheets = filled(pack_of(4) +
                               "[part.front]\npurpose = \"front\"\n[joint.posts]\nbehind = \"front\"\n"
                               "[step.go]\ndoes = \"breaker on\"\ngoes_live = true\n"
                               "[step.shut]\ndoes = \"front on\"\ncloses = [\"front\"]\n"
                               "[step.cables]\ndoes = \"cables on\"\nworks_on = [\"posts\"]\n"
                               "[step.look]\ndoes = \"voltage with its sign\"\nchecks = \"polarity\"\n");
    const Sheet* order = find(sheets, "order");
    REQUIRE(order != nullptr);
    std::vector<std::string> items;
    std::size_t missing = 0;
    for (const SheetLine& line : order->lines) {
        if (line.item == "pack") {
            ++missing;
            CHECK(line.hold);
            CHECK(line.text.starts_with("not among the steps"));
            continue;
        }
        items.push_back(line.item);
        CHECK(line.hold == (line.item == "look"));
    }
    CHECK(missing == 2);  // insulation and settings, before power
    const auto place = [&](const std::string& id) { return std::find(items.begin(), items.end(), id); };
    CHECK(items.size() == 4);
    CHECK(place("cables") < place("shut"));
    CHECK(place("look") < place("go"));
}

TEST_CASE("no steps, no sheet; a value that nobody stated is said so") {
    const auto sheets = filled(pack_of(4) + "[joint.a]\ntorque = \"5 N·m\"\n[joint.b]\n");
    CHECK(find(sheets, "order") == nullptr);
    const Sheet* torques = find(sheets, "torques");
    REQUIRE(torques != nullptr);
    REQUIRE(torques->lines.size() == 2);
    CHECK(torques->lines[0].expects == "5 N·m");
    CHECK(torques->lines[1].expects == "(not stated)");
}

// 100 ohms for each volt of working voltage (ISO 6469-4): 16 cells of 3.65 V are 58.4 V, so 5.84 kilohms.
TEST_CASE("before power, insulation and voltage are worked out from this pack") {
    const auto sheets = filled(pack_of(16));
    const Sheet* power = find(sheets, "power");
    REQUIRE(power != nullptr);
    CHECK(power->lines[0].text.find("5.84 kΩ") != std::string::npos);
    CHECK(power->lines[1].expects == "40 V to 58.4 V");
}

TEST_CASE("the bench list begins with what stops the work and ends with cautions") {
    text::Sources sources;
    text::Messages messages;
    const auto list =
        inspect::bench_list(inspect_test::source_path("specs/box/faulty-taps-7-and-8-exchanged.toml"),
                            built_in(), sources, messages);
    REQUIRE(list);
    REQUIRE(!list->stops.empty());
    CHECK(list->stops.front().find("two leads exchanged") != std::string::npos);
    CHECK(list->cautions.size() >= 2);
    CHECK(!list->measure.empty());
    for (const inspect::Question& question : list->measure)
        CHECK(question.answered_by == model::AnsweredBy::bench);
    CHECK_FALSE(
        inspect::bench_list(inspect_test::source_path("specs/none.toml"), built_in(), sources, messages));
}

// 16 cells do not stand in two rows of five; posts 500 mm apart do not lie on a cell 174 mm wide; rows 10 mm
// apart lie on each other.
TEST_CASE("no cell or pole is drawn on a place that nobody knows") {
    CHECK(plan("series = 16\nrows = 2", "cells_in_row = 8", ""));
    CHECK_FALSE(plan("series = 16\nrows = 2", "cells_in_row = 5", ""));
    CHECK_FALSE(plan("series = 8\nrows = 2", "cells_in_row = 8", ""));
    CHECK_FALSE(plan("series = 16\nrows = 2", "cells_in_row = 8\nrow_distance = \"10 mm\"", ""));
    const auto apart = plan("series = 16\nrows = 2", "cells_in_row = 8", "", "500 mm");
    REQUIRE(apart);
    CHECK(note_at(*apart, "pack +") == "not drawn");
    CHECK(note_at(*apart, "+") == "not drawn");
}

// Cell d is joined to nothing, so both it and a are the first of a line. Tap 1 belongs on b.minus, which is
// a.plus: one cell over tap 0; b.plus is two cells up, 6.4 V.
TEST_CASE("cells that are described one by one stand where they are joined, leads where they land") {
    const std::string bar = "[busbar.link]\nwidth = \"20 mm\"\n[place]\na = {}\nb = {}\nc = {}\nd = {}\n";
    const std::string links =
        "[span]\ns0 = { bar = \"link\", from = \"a.plus\", to = \"b.minus\" }\n"
        "s1 = { bar = \"link\", from = \"b.plus\", to = \"c.minus\" }\n";
    const auto missing = plan("series = 4\nrows = 1", "cells_in_row = 4", bar + links);
    REQUIRE(missing);
    CHECK(missing->left_out == std::vector<std::string>{"a", "d", "s0"});
    CHECK(note_at(*missing, "pack +") == "not drawn");
    const auto whole = plan("series = 4\nrows = 1", "cells_in_row = 4",
                            bar + links +
                                "s2 = { bar = \"link\", from = \"c.plus\", to = \"d.minus\" }\n"
                                "[sense_lead]\nt1 = { tap = 1, lands_on = \"b.plus\" }\nt3 = { tap = 3, "
                                "lands_on = \"c.plus\" }\n");
    REQUIRE(whole);
    CHECK(whole->left_out.empty());
    CHECK(note_at(*whole, "pack +").empty());
    CHECK(note_at(*whole, "tap 1") == "6.4 V");
    CHECK(note_at(*whole, "tap 3") == "9.6 V");
    CHECK_FALSE(plan("series = 2\nparallel = 2\nrows = 1", "cells_in_row = 4",
                     bar +
                         "[span]\ns0 = { bar = \"link\", from = \"a.plus\", to = \"b.plus\" }\ns1 = { bar = "
                         "\"link\", from = \"a.minus\", to = \"b.minus\" }\ns2 = { bar = \"link\", from = "
                         "\"c.plus\", to = \"d.plus\" }\ns3 = { bar = \"link\", from = \"c.minus\", to = "
                         "\"d.minus\" }\ns4 = { bar = \"link\", from = \"b.plus\", to = \"c.minus\" }\n"));
}

TEST_CASE("every item that stops the work is named, a conceded one too, and what follows from another") {
    text::Sources sources;
    text::Messages messages;
    inspect::Options options;
    options.day = text::read_day("2026-11-27");
    const auto list =
        inspect::bench_list(inspect_test::source_path("specs/cabin/conceded-thin-cable-for-a-season.toml"),
                            built_in(), sources, messages, options);
    REQUIRE(list);
    const auto report =
        inspect::inspect(inspect_test::source_path("specs/cabin/conceded-thin-cable-for-a-season.toml"),
                         built_in(), sources, messages, options);
    REQUIRE(report);
    std::size_t due = 0;
    for (const inspect::Finding& finding : report->findings) {
        if (finding.verdict != inspect::Verdict::fails || finding.rule_class != inspect::Class::critical)
            continue;
        ++due;
        const bool named = std::any_of(list->stops.begin(), list->stops.end(), [&](const std::string& stop) {
            return stop.find(finding.item_name) != std::string::npos &&
                   stop.find(finding.asks) != std::string::npos &&
                   (!finding.conceded || stop.find("conceded by") != std::string::npos);
        });
        CHECK_MESSAGE(named, finding.item_name, " ", finding.rule_name);
    }
    CHECK(due >= 2);
}

TEST_CASE("a line is ticked only if no check on what was read fails or waits") {
    // 3.31 V by the meter, 3.28 V by the BMS: 30 mV apart, though both are within the limits of a cell
    const auto sheets = filled(pack_of(1) +
                               "[reading.a]\ncell_number = 1\ncell_voltage = \"3.31 V\"\nbms_cell_voltage = "
                               "\"3.28 V\"\n");
    const Sheet* power = find(sheets, "power");
    REQUIRE(power != nullptr);
    for (const SheetLine& line : power->lines)
        if (line.text.starts_with("Cell 1")) CHECK(line.state == State::outside);
    // tap 2 without tap 1: its rise cannot be told
    const auto waits = filled(pack_of(2) + tap(0, "0 V") + tap(2, "6.6 V"));
    CHECK(find(waits, "taps")->lines[1].state == State::uncertain);
}

TEST_CASE("no torque is given to go by that a check does not allow, or on which papers differ") {
    const auto wrong = filled(
        "[pack]\nseries = 4\n[cell]\nterminal_torque = \"4 .. 6 N·m\"\n[joint.a]\non = \"cell\"\n"
        "torque = \"12 N·m\"\n");
    const Sheet* torques = find(wrong, "torques");
    REQUIRE(torques != nullptr);
    CHECK(!torques->lines[0].doubt.empty());
    const auto right = filled(
        "[pack]\nseries = 4\n[cell]\nterminal_torque = \"4 .. 6 N·m\"\n[joint.a]\non = \"cell\"\n"
        "torque = \"5 N·m\"\n");
    CHECK(find(right, "torques")->lines[0].doubt.empty());
    const auto differ = filled(
        "[pack]\nseries = 4\n[cell]\n[document.p]\ngrade = \"supplier\"\n[document.q]\ngrade = "
        "\"supplier\"\n[joint.a]\non = \"cell\"\ntorque = \"5 N·m\"\nsource = \"p\"\n"
        "[claim.c]\nitem = \"a\"\nfield = \"torque\"\nvalue = \"8 N·m\"\nsource = \"q\"\n");
    CHECK(find(differ, "torques")->lines[0].doubt.find("papers differ") != std::string::npos);
}

// By hand: 95 + 100 and 97 + 98 are both 195; 52 + 50 and 51.5 + 50.5 are both 102.
TEST_CASE("measured cells are told where to go: groups of equal capacity, rows of equal length") {
    const auto sheets = filled(
        "[pack]\nseries = 2\nparallel = 2\nrows = 2\n[cell]\n"
        "[used_cell.a]\ncapacity = \"95 Ah\"\nthickness = \"52 mm\"\n[used_cell.b]\ncapacity = \"97 "
        "Ah\"\nthickness = \"51.5 mm\"\n"
        "[used_cell.c]\ncapacity = \"98 Ah\"\nthickness = \"50 mm\"\n[used_cell.d]\ncapacity = \"100 "
        "Ah\"\nthickness = \"50.5 mm\"\n");
    const Sheet* cells = find(sheets, "cells");
    REQUIRE(cells != nullptr);
    std::vector<std::string> lines;
    for (const SheetLine& line : cells->lines)
        lines.push_back(line.text);
    CHECK(lines == std::vector<std::string>{"a: parallel group 1", "d: parallel group 1",
                                            "b: parallel group 2", "c: parallel group 2", "a: row 1",
                                            "c: row 1", "b: row 2", "d: row 2"});
    CHECK(find(filled(pack_of(4)), "cells") == nullptr);
}
