// The worksheets filled in for a pack: what to expect, what was read, in what order.
#include "engine/inspect/worksheet.hpp"

#include <doctest/doctest.h>

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
    return inspect::fill_sheets(*pack.model, built_in());
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

}  // namespace

// LFP cells of 2.5 to 3.65 V (common practice): tap n stands at n times that.
TEST_CASE("each tap has its own line with n cells to expect, and a blank") {
    const auto sheets = filled(pack_of(16));
    const Sheet* taps = find(sheets, "taps");
    REQUIRE(taps != nullptr);
    REQUIRE(taps->lines.size() == 16);
    CHECK(taps->lines[0].expects == "2.5 V to 3.65 V");
    CHECK(taps->lines[7].text == "Tap 8 against tap 0");
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
    for (int n = 1; n <= 16; ++n)
        CHECK(taps->lines[static_cast<std::size_t>(n - 1)].state ==
              (n == 7 || n == 8 ? State::outside : State::inside));
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
    for (const SheetLine& line : order->lines) {
        items.push_back(line.item);
        CHECK(line.hold == (line.item == "look"));
    }
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
