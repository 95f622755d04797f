#include "engine/report/text.hpp"

#include <doctest/doctest.h>

#include <array>

#include "engine/text/safe_print.hpp"
#include "samples.hpp"

using packproof::inspect::Class;
using packproof::inspect::Report;
using packproof::inspect::Verdict;
using packproof::report::Options;
using packproof::report::print_text;
using packproof::samples::Sample;

namespace {

std::string printed(const Sample& sample, const Options& options = {}) {
    return print_text(std::span(&sample.report, 1), sample.sources, options);
}

std::vector<std::string> lines_of(std::string_view text) {
    std::vector<std::string> lines;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find('\n'), text.size());
        lines.emplace_back(text.substr(0, end));
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return lines;
}

std::string without_layout(std::string_view text) {
    std::string words;
    for (const char c : text) {
        const bool space = c == ' ' || c == '\n';
        if (!space)
            words += c;
        else if (!words.empty() && words.back() != ' ')
            words += ' ';
    }
    while (!words.empty() && words.back() == ' ')
        words.pop_back();
    return words;
}

std::string verdict_of(const Report& report) {
    const packproof::text::Sources none;
    return lines_of(print_text(std::span(&report, 1), none, {}))[3];
}

// As a person would set it on a sheet; the layout is our own, so its source is the wish stated in the design:
// verdict first, gravest first, has / needs / by / clears it / working / rests on / basis / why.
constexpr std::string_view sheet =
    R"(cabin.toml                                                           Cabin store
Inspected by rules 0.1, digest 3f2a91c4; description, digest 9b01aa42

1 nonconformity: 1 critical, with 1 consequence; 1 check undecided; 4 checks
wait for values not stated.

1   CRITICAL  main-positive (conductor) fails                    cabin.toml:6:17
    Does the breaker open before the conductor overheats?
    has         rated_current of main-breaker: 200 A, stated
    needs       at most 174 A (carrying_capacity of main-positive)
    by          26 A (15 %)
    clears it   rated_current of main-breaker: at most 160 A
                or section of main-positive: at least 70 mm²
    why         A breaker rated above the conductor's capacity lets it overheat
                without opening.
    leads to    voltage-drop on main-positive, minor: has 2.1 V; needs at most
                  1.5 V
    working     carrying_capacity of main-positive = 192 A × 0.906 = 174 A
                rated_current <= carrying_capacity
                  200 A <= 174 A: fails
    rests on    rated_current of main-breaker = 200 A (stated, cabin.toml:6)
                section of main-positive = 50 mm² (stated, cabin.toml:9)
    basis       Handbook of invented limits, 4.2 (from memory: verify)
    rule        breaker-protects-conductor; caution 1 below

2   UNDECIDED  fixture (major if it fails)
    Do the bolts clamp the cells as their maker wants?
    has         force of fixture: 2500 N (1625 N to 3375 N), computed
    needs       2500 N to 3500 N (clamp_force of cell)
    decided by  nut_factor of fixture (assumed)
    why         Too little lets cells swell, too much crushes them.
    basis       common practice
    rule        clamp-force; caution 1 below

    packproof explain RULE shows a rule with all its formulas, tables and
    examples.

NOT STATED
    4 checks wait for values. These would settle the most, by the weight of
    their class:
      3 checks  outer_diameter of main-positive: caliper, one minute
      1 check   pitch of link (asked, no answer yet)

ASSUMED  where the description says nothing
    nut_factor of fixture: 0.148 to 0.308
        VDI 2230, table A5 (from memory: verify)
    tried in turn: practice of pack: iec, nec, marine

COVERAGE
    48 checks apply: 41 conform, 2 fail, 1 undecided, 4 not stated, 0 conceded.
    12 do not apply.

CAUTIONS
1   A pack cannot be switched off: its terminals stay live.
)";

}  // namespace

TEST_CASE("the sheet says the verdict first, then the gravest finding, then what is open, then the caution") {
    const std::string text = printed(packproof::samples::cabin_store());
    REQUIRE(text.size() > sheet.size());
    CHECK(text.substr(0, sheet.size()) == sheet);
    CHECK(without_layout(std::string_view(text).substr(sheet.size())) ==
          without_layout(packproof::inspect::general_caution()));
}

TEST_CASE("no line is wider than the page") {
    for (const std::size_t width : std::array<std::size_t, 4>{50, 64, 80, 120}) {
        Options options;
        options.width = width;
        options.all = true;
        for (const std::string& line : lines_of(printed(packproof::samples::cabin_store(), options))) {
            INFO(line);
            CHECK(packproof::text::display_width(line) <= width);
        }
    }
}

TEST_CASE("a width below forty cells is taken as forty") {
    Options narrow;
    narrow.width = 1;
    Options forty;
    forty.width = 40;
    const Sample sample = packproof::samples::cabin_store();
    CHECK(printed(sample, narrow) == printed(sample, forty));
}

TEST_CASE("a number and its unit stay on one line") {
    Sample sample = packproof::samples::cabin_store();
    for (std::size_t fill = 0; fill < 70; ++fill) {
        sample.report.findings[0].because = std::string(fill, 'x') + " and 187.5 mm² more";
        CHECK(printed(sample).find("187.5 mm²") != std::string::npos);
    }
}

TEST_CASE("there are no colour codes unless asked for, and without them the words are the same") {
    const Sample sample = packproof::samples::cabin_store();
    const std::string plain = printed(sample);
    CHECK(plain.find('\x1b') == std::string::npos);
    Options options;
    options.colour = true;
    std::string coloured = printed(sample, options);
    CHECK(coloured.find("\x1b[1;31m") != std::string::npos);
    for (std::size_t at = coloured.find('\x1b'); at != std::string::npos; at = coloured.find('\x1b'))
        coloured.erase(at, coloured.find('m', at) - at + 1);
    CHECK(coloured == plain);
}

TEST_CASE("what conforms shows only when everything is asked for") {
    const Sample sample = packproof::samples::cabin_store();
    CHECK(printed(sample).find("insulation-voltage") == std::string::npos);
    Options options;
    options.all = true;
    const std::string all = printed(sample, options);
    CHECK(all.find("insulation-voltage on main-positive (conductor)") != std::string::npos);
    CHECK(all.find("bend-radius on main-positive (conductor) waits for:") != std::string::npos);
}

TEST_CASE("a wanted value that is nothing but its reason says it once") {
    Sample sample = packproof::samples::cabin_store();
    sample.report.findings[3].wanted[0] = {"joined to nothing", "", 3, 0, false, "joined to nothing"};
    Options everything;
    everything.all = true;
    const std::string text = without_layout(printed(sample, everything));
    CHECK(text.find("joined to nothing") != std::string::npos);
    CHECK(text.find("joined to nothing (joined to nothing)") == std::string::npos);
}

TEST_CASE("a caution that several findings share is printed once") {
    const std::string text = printed(packproof::samples::cabin_store());
    const std::size_t first = text.find("A pack cannot be switched off");
    REQUIRE(first != std::string::npos);
    CHECK(text.find("A pack cannot be switched off", first + 1) == std::string::npos);
}

TEST_CASE("the verdict is a sentence in words, and it never promises more than was checked") {
    Report report;
    CHECK(verdict_of(report) == "No check applies to this description.");
    report.coverage.applicable = 12;
    report.coverage.not_stated = 12;
    CHECK(verdict_of(report) == "No check could be made; 12 checks wait for values not stated.");
    report.coverage = {41, 41, 0, 0, 0, 0, 0};
    CHECK(verdict_of(report) == "Nothing fails among the 41 checks that could be made.");
    report.coverage = {46, 40, 0, 1, 5, 0, 0};
    report.findings.emplace_back().verdict = Verdict::undecided;
    CHECK(verdict_of(report).starts_with(
        "Nothing fails among the 41 checks that could be made; 1 check undecided"));
    report.coverage = {2, 1, 1, 0, 0, 0, 0};
    report.findings[0].verdict = Verdict::fails;
    report.findings[0].rule_class = Class::observation;
    CHECK(verdict_of(report) == "No nonconformity among the 2 checks that could be made; 1 observation.");
    report.findings.resize(4, report.findings[0]);
    report.findings[0].rule_class = Class::critical;
    report.findings[1].rule_class = report.findings[2].rule_class = Class::major;
    CHECK(verdict_of(report) == "3 nonconformities: 1 critical, 2 major; 1 observation.");
}

TEST_CASE("several files end in one table that sums them up and names those not inspected") {
    const Sample sample = packproof::samples::cabin_store();
    const std::vector<Report> two{sample.report, sample.report};
    Options options;
    options.not_inspected = {"broken.toml"};
    const std::string text = print_text(two, sample.sources, options);
    const auto lines = lines_of(text);
    REQUIRE(lines.size() > 5);
    const auto tail = std::span(lines).last(4);
    CHECK(tail[0] == "2 files inspected         critical  major  minor  undecided  not stated  conform");
    CHECK(tail[1] == "cabin.toml                       1      0      0          1           4       41");
    CHECK(tail[2] == tail[1]);
    CHECK(tail[3] == "broken.toml                                  not inspected: its input has errors");
}

TEST_CASE("the whole form shows formulas that are too long for the short one") {
    const Sample sample = packproof::samples::cabin_store();
    CHECK(printed(sample).find("table_current * ambient_factor") == std::string::npos);
    Options options;
    options.all = true;
    CHECK(printed(sample, options).find("= table_current * ambient_factor\n") != std::string::npos);
}

TEST_CASE(
    "inputs name their file without its folder where that is clear, and defaults without their source") {
    Sample sample = packproof::samples::cabin_store();
    sample.sources.add("a/parts/devices.toml", "");
    sample.sources.add("a/one/cells.toml", "");
    sample.sources.add("a/two/cells.toml", "");
    sample.report.findings[0].rests_on = {"x of b = 1 (stated, a/parts/devices.toml:15)",
                                          "y of b = 2 (stated, a/two/cells.toml:3)",
                                          "z of b = 3 (assumed: an invented handbook)"};
    const std::string text = printed(sample);
    CHECK(text.find("x of b = 1 (stated, devices.toml:15)") != std::string::npos);
    CHECK(text.find("y of b = 2 (stated, a/two/cells.toml:3)") != std::string::npos);
    CHECK(text.find("z of b = 3 (assumed)\n") != std::string::npos);
}

TEST_CASE("the same assumption on several items is printed once, with the items named") {
    Sample sample = packproof::samples::cabin_store();
    sample.report.assumptions = {{"parallel of a: 1", "common practice"},
                                 {"parallel of b: 2", "common practice"},
                                 {"parallel of c: 1", "common practice"},
                                 {"parallel of d: 1", "another source"},
                                 {"of no known form", ""}};
    const std::string text = printed(sample);
    CHECK(text.find("    parallel of a, c: 1\n        common practice\n") != std::string::npos);
    CHECK(text.find("    parallel of b: 2\n") != std::string::npos);
    CHECK(text.find("    parallel of d: 1\n        another source\n") != std::string::npos);
    CHECK(text.find("    of no known form\n") != std::string::npos);
}

TEST_CASE("a link between findings that points nowhere is left out") {
    Sample sample = packproof::samples::cabin_store();
    sample.report.findings[0].consequences = {99};
    CHECK(printed(sample).find("leads to") == std::string::npos);
}
