#include <doctest/doctest.h>

#include <filesystem>
#include <nlohmann/json.hpp>

#include "bench.hpp"

using namespace packproof::bench;

namespace {

bool has(const std::string& text, std::string_view part) {
    return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("a rule is explained with its question, reason, formula, limit, authority, class and examples") {
    const Outcome run = call({"explain", "device-protects-conductor"});
    CHECK(run.code == 0);
    for (const char* part :
         {"critical", "Does the device open before the conductor overheats?", "It would overheat.",
          "protected_by is stated", "protected_by.rated_current <= largest_device",
          "Invented handbook, 1 (from memory: verify)", "rated_current of device",
          "largest_device of conductor", "capacity * 1", "Its terminals stay live.", "at its limit",
          "device.d: { rated_current = 174 A }"})
        CHECK_MESSAGE(has(run.out, part), part);
}

TEST_CASE("an unknown rule is told with the nearest one") {
    const Outcome run = call({"explain", "device-protect-conductor"});
    CHECK(run.code == 2);
    CHECK(run.out.empty());
    CHECK(has(run.err, "did you mean device-protects-conductor"));
}

TEST_CASE("an item is explained with every value, where it comes from, and every verdict") {
    const Folder folder;
    const std::string file = folder.write("a.toml", failing);
    const Outcome run = call({"explain", file + "#c"});
    CHECK(run.code == 0);
    CHECK(has(run.out, "capacity = 174 A (stated,"));
    CHECK(has(run.out, "length = 1 m (assumed)"));
    CHECK(has(run.out, "CRITICAL  c (conductor) fails"));
    CHECK(has(run.out, "conductor-is-short, minor"));
    const Outcome unknown = call({"explain", file + "#cc"});
    CHECK(unknown.code == 2);
    CHECK(has(unknown.err, "no item named cc"));
    CHECK(call({"explain", folder.path("none.toml") + "#c"}).code == 2);
}

TEST_CASE("an item is explained with the span of papers that count the same, and who says what") {
    const Folder folder;
    const std::string claims = R"(
[document.sheet]
grade = "maker"
[document.print]
grade = "maker"
[document.chat]
grade = "message"
[device.main]
source.rated_current = "sheet"
rated_current = "150 A"
source.rated_voltage = "sheet"
rated_voltage = "58 V"
[claim.in-print]
item = "main"
field = "rated_current"
value = "160 A"
source = "print"
[claim.in-chat]
item = "main"
field = "rated_current"
value = "300 A"
source = "chat"
[claim.voltage-in-chat]
item = "main"
field = "rated_voltage"
value = "80 V"
source = "chat"
)";
    const Outcome run = call_with_real_rules({"explain", folder.write("a.toml", claims) + "#main"});
    CHECK(run.code == 0);
    CAPTURE(run.out);
    CHECK(has(run.out, "rated_current = 150 A to 160 A (stated by sheet,"));
    CHECK(has(run.out, "a.toml:10:17; stated by print,"));
    CHECK_FALSE(has(run.out, "stated by chat"));
    CHECK(has(run.out, "rated_voltage = 58 V (stated by sheet,"));
}

TEST_CASE("the rules are listed by name, with what a team changed and why") {
    const Folder folder;
    folder.write("house/change.toml",
                 "[change.conductor-is-short]\nactive = false\nreason = \"our runs are long\"\n");
    const Outcome run = call({"rules", "list", "--rules", folder.path("house")});
    CHECK(run.code == 0);
    CHECK(has(run.out, "switched off: our runs are long"));
    CHECK(has(run.out, "1 rule, 1 switched off"));
    CHECK(run.out.find("conductor-is-short") < run.out.find("device-protects-conductor"));
    const Outcome bare = call({"rules"});
    CHECK(bare.out == call({"rules", "list"}).out);
}

TEST_CASE("the list of rules comes as JSON too") {
    const auto json = nlohmann::json::parse(call({"rules", "list", "--form", "json"}).out);
    CHECK(json["form"] == "packproof-rules");
    CHECK(json["version"] == 1);
    REQUIRE(json["rules"].size() == 2);
    CHECK(json["rules"][1]["name"] == "device-protects-conductor");
    CHECK(json["rules"][1]["class"] == "critical");
    CHECK(json["rules"][1]["kinds"][0] == "conductor");
    CHECK(json["rules"][1]["active"] == true);
}

TEST_CASE("rules prove themselves by their examples, and a wrong example is told at its place") {
    const Outcome run = call({"rules", "prove"});
    CHECK(run.code == 0);
    CHECK(run.out == "2 rules, 4 examples, 0 failed\n");
    const Folder folder;
    folder.write("house/rule.toml", R"([rule.conductor-is-very-short]
asks = "Is it?"
of = "conductor"
demands = "length <= 2 m"
class = "minor"
because = "So it is wanted."
basis = [{ status = "common practice", note = "invented" }]
[[rule.conductor-is-very-short.example]]
verdict = "conforms"
with.conductor.c = { length = "2.1 m" }
[[rule.conductor-is-very-short.example]]
verdict = "fails"
with.conductor.c = { length = "2.2 m" }
)");
    const Outcome wrong = call({"rules", "prove", "--rules", folder.path("house")});
    CHECK(wrong.code == 1);
    CHECK(wrong.out == "3 rules, 6 examples, 1 failed\n");
    CHECK(has(wrong.err, "rule.toml:"));
}

TEST_CASE("a starter description goes to a file that is not there yet, or to standard output") {
    const Folder folder;
    const std::string file = folder.path("new.toml");
    CHECK(call({"new", file}).code == 0);
    const std::string text = read(file);
    CHECK(text == call({"new"}).out);
    CHECK(has(text, "series = 16"));
    const Outcome again = call({"new", file, "--series", "8"});
    CHECK(again.code == 2);
    CHECK(has(again.err, "never overwritten"));
    CHECK(read(file) == text);
    CHECK(call({"new", folder.path("no/such/folder/new.toml")}).code == 2);
}

TEST_CASE("the blanks of the starter description are options, and their values are checked") {
    CHECK(has(call({"new", "--series", "8"}).out, "series = 8"));
    CHECK(has(call({"new", "--name", "Ann's \"box\" \\ 1"}).out, R"(name = "Ann's \"box\" \\ 1")"));
    const Folder folder;
    const std::string file = folder.path("new.toml");
    const Outcome wrong = call({"new", file, "--series", "banana"});
    CHECK(wrong.code == 2);
    CHECK(has(wrong.err, ":3:"));
    CHECK_FALSE(std::filesystem::exists(file));
    const Outcome newline = call({"new", "--name", "a\n[device.d]"});
    CHECK(newline.code == 0);
    CHECK(has(newline.out, R"(a\u000A[device.d])"));
    CHECK(call({"new", "--help"}).out.find("--series VALUE") != std::string::npos);
}

TEST_CASE("the real starter description inspects without an error and without a nonconformity") {
    const Folder folder;
    const std::string file = folder.path("new.toml");
    const Outcome made = call_with_real_rules({"new", file});
    CHECK(made.err.empty());
    REQUIRE(made.code == 0);
    const Outcome run = call_with_real_rules({"inspect", file, "--undecided", "--class", "minor"});
    CHECK(run.code == 0);
    CHECK(run.err.empty());
    CHECK(call_with_real_rules({"new", "--series", "8", "--capacity", "100 Ah"}).code == 0);
    CHECK(call_with_real_rules({"new", "--capacity", "100 A"}).code == 2);
}

TEST_CASE("the vocabulary names kinds, fields, forms, units and defaults") {
    const Outcome run = call({"vocabulary"});
    CHECK(run.code == 0);
    CHECK(has(run.out, "[pack]  The pack"));
    CHECK(has(run.out, "[device.ID]  What protects"));
    CHECK(has(run.out, "rated_current: quantity in A"));
    CHECK(has(run.out, "protected_by: id of device"));
    CHECK(has(run.out, "assumed if not stated: 1 m"));
    const Outcome one = call({"vocabulary", "device"});
    CHECK_FALSE(has(one.out, "[pack]"));
    const Outcome unknown = call({"vocabulary", "devcie"});
    CHECK(unknown.code == 2);
    CHECK(has(unknown.err, "did you mean device"));
}
