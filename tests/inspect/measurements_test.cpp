// What was measured, in a whole inspection by the built-in rules: what findings rest on, what contradicts the
// papers, what is still due.
#include <doctest/doctest.h>

#include <algorithm>

#include "engine/inspect/request.hpp"
#include "tests/document/reading.hpp"
#include "tests/inspect/reference.hpp"

using namespace packproof;
using inspect::Verdict;
using inspect_test::built_in;
using inspect_test::Described;
using packproof::testing::TemporaryFolder;

namespace {

const char* const caliper = "[instrument.caliper]\nuncertainty = \"0.03 mm\"\nresolution = \"0.01 mm\"\n";

std::string measured(const std::string& item, const std::string& field, const std::string& readings,
                     const std::string& more = "") {
    return "[measurement.m]\nitem = \"" + item + "\"\nfield = \"" + field + "\"\nreadings = " + readings +
           "\n" + more;
}

inspect::Report inspected(const Described& described) {
    return inspect::inspect_model(*described.model, built_in(), described.sources);
}

const inspect::Finding* find(const inspect::Report& report, const std::string& rule) {
    for (const inspect::Finding& finding : report.findings)
        if (finding.rule_name == rule && finding.verdict != Verdict::conforms) return &finding;
    return nullptr;
}

bool holds(const std::vector<std::string>& lines, const std::string& line) {
    return std::find(lines.begin(), lines.end(), line) != lines.end();
}

}  // namespace

// JCGM 100: s of 6.01, 5.99, 6.00, 6.02, 5.98 is 0.0158 mm, of the mean 0.00707 with 4 degrees of freedom;
// the caliper adds 0.03/√3 and 0.005/√3: u_c = 0.0190, effective degrees 4 (0.0190/0.00707)^4 = 209, t_95
// = 1.971 (table G.2: 1.984 for 100, 1.960 without end): ± 0.0375 mm.
TEST_CASE("a finding on a measured value says that it was, how often and with what") {
    const Described described(
        "[pack]\nseries = 16\n[cell]\nterminal_thread = \"M6\"\n[sense_lead.s]\nlug_hole = "
        "\"6.4 mm\"\n" +
        std::string(caliper) +
        measured("s", "lug_hole", "[\"5.91 mm\", \"5.89 mm\", \"5.90 mm\", \"5.92 mm\", \"5.88 mm\"]",
                 "instrument = \"caliper\"\n"));
    const inspect::Report report = inspected(described);
    const inspect::Finding* finding = find(report, "sense-ring-goes-over-the-thread");
    REQUIRE(finding != nullptr);
    CHECK(finding->verdict == Verdict::fails);
    CHECK(finding->origin == "measured");
    CHECK_MESSAGE(holds(finding->rests_on,
                        "lug_hole of s = (5.9 ± 0.038) mm (measured 5 times, caliper, reference.toml:13)"),
                  finding->rests_on.front());
}

TEST_CASE("readings that contradict the papers are told with both, and asked of the supplier") {
    const Described described(
        "[document.sheet]\ntitle = \"sheet of the ring\"\ngrade = \"maker\"\n"
        "[lug.ring]\nhole = \"6.4 mm\"\nsource = \"sheet\"\n" +
        std::string(caliper) + measured("ring", "hole", "\"5.3 mm\"", "instrument = \"caliper\"\n"));
    const inspect::Report report = inspected(described);
    const inspect::Finding* finding = find(report, "measured-value-agrees-with-what-is-stated");
    REQUIRE(finding != nullptr);
    CHECK(finding->verdict == Verdict::fails);
    CHECK(finding->subject == "hole of ring");
    CHECK(finding->has.text == "(5.3 ± 0.035) mm (measured once, caliper) against 6.4 mm (sheet)");
    CHECK(finding->origin == "measured");
    const auto request = inspect::request_model(*described.model, built_in(), described.sources);
    const auto question = std::find_if(
        request.questions.begin(), request.questions.end(),
        [](const inspect::Question& one) { return one.form == inspect::Question::Form::contradiction; });
    REQUIRE(question != request.questions.end());
    CHECK(question->answered_by == model::AnsweredBy::supplier);
    CHECK(question->title == "hole of ring (lug)");
    CHECK(question->text.find("We find (5.3 ± 0.035) mm (measured once, caliper, reference.toml:13).") !=
          std::string::npos);
    REQUIRE(question->sides.size() == 1);
    CHECK(question->sides[0] == "6.4 mm: sheet, \"sheet of the ring\" (reference.toml:5)");
}

TEST_CASE("measurements alone that differ are a question to the bench") {
    const Described described("[lug.ring]\n" + measured("ring", "hole", "\"5.3 mm\"") +
                              "[measurement.n]\nitem = \"ring\"\nfield = \"hole\"\nreadings = \"5.4 mm\"\n");
    const auto request = inspect::request_model(*described.model, built_in(), described.sources);
    const auto question = std::find_if(
        request.questions.begin(), request.questions.end(),
        [](const inspect::Question& one) { return one.form == inspect::Question::Form::contradiction; });
    REQUIRE(question != request.questions.end());
    CHECK(question->answered_by == model::AnsweredBy::bench);
    CHECK(question->sides.empty());
}

TEST_CASE("a measurement that is due is not stated, and asked of the bench") {
    const Described described("[step.go]\ndoes = \"go\"\n[lug.ring]\nhole = \"?\"\n" +
                              measured("ring", "hole", "\"?\"", "before = \"go\"\n"));
    const inspect::Report report = inspected(described);
    const inspect::Finding* finding = find(report, "measurement-due-before-a-step-is-taken");
    REQUIRE(finding != nullptr);
    CHECK(finding->verdict == Verdict::not_stated);
    REQUIRE(finding->wanted.size() == 1);
    CHECK(finding->wanted[0].text.find("readings of m") != std::string::npos);
}

TEST_CASE("readings beside a description belong to it: to its values, its places and its digest") {
    const TemporaryFolder folder;
    const std::string file = folder.write(
        "pack.toml",
        "[pack]\nseries = 16\n[cell]\nterminal_thread = \"M6\"\n[sense_lead.s]\nlug_hole = \"6.4 mm\"\n");
    const auto inspected_file = [&] {
        text::Sources sources;
        text::Messages messages;
        auto report = inspect::inspect(file, built_in(), sources, messages);
        REQUIRE(report);
        return std::move(*report);
    };
    const inspect::Report before = inspected_file();
    CHECK(find(before, "sense-ring-goes-over-the-thread") == nullptr);
    folder.write("pack.readings.toml", measured("s", "lug_hole", "\"5.9 mm\""));
    const inspect::Report after = inspected_file();
    CHECK(before.input_digest != after.input_digest);
    const inspect::Finding* finding = find(after, "sense-ring-goes-over-the-thread");
    REQUIRE(finding != nullptr);
    CHECK(holds(finding->rests_on,
                "lug_hole of s = 5.9 mm (measured once, " + folder.path("pack.readings.toml") + ":4)"));
    folder.write("pack.readings.toml", measured("s", "lug_hole", "\"5.90 mm\""));
    CHECK(inspected_file().input_digest != after.input_digest);
}
