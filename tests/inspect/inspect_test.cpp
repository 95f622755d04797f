#include "engine/inspect/inspect.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "tests/inspect/yard.hpp"

using namespace packproof;
using inspect::Finding;
using inspect::Verdict;
using inspect_test::Inspected;
using rules_test::good_rule;
using rules_test::vocabulary;

namespace {

const std::vector<std::string> rope_rules = {vocabulary, good_rule};

/// The only finding of an inspection that shows conforming ones too.
const Finding& only(const Inspected& inspected) {
    REQUIRE_MESSAGE(inspected.report, inspected.trouble());
    REQUIRE(inspected.report->findings.size() == 1);
    return inspected.report->findings.front();
}

Inspected rope(const std::string& fields, const std::string& yard = "[yard]\npractice = \"north\"\n") {
    inspect::Options options;
    options.conforming = true;
    return Inspected(rope_rules, yard + "[rope.main]\n" + fields, options);
}

}  // namespace

TEST_CASE("a value at its limit conforms, and the least beyond it fails") {
    CHECK(only(rope("size = \"8 mm\"\npull = \"4 kN\"\n")).verdict == Verdict::conforms);
    CHECK(only(rope("size = \"8 mm\"\npull = \"4.000001 kN\"\n")).verdict == Verdict::fails);
    CHECK(only(rope("size = \"8 mm\"\npull = \"4000 N\"\n")).verdict == Verdict::conforms);
}

TEST_CASE("a tolerance that straddles the limit is undecided and says whose tolerance it is") {
    const Inspected inspected = rope("size = \"8 mm\"\npull = \"3.9 ± 0.2 kN\"\n");
    CHECK(only(inspected).verdict == Verdict::undecided);
    CHECK(only(inspected).decides == "pull of main");
    const Inspected by_size = rope("size = \"8.1 ± 0.2 mm\"\npull = \"3.9 kN\"\n");
    CHECK(only(by_size).verdict == Verdict::undecided);
    CHECK(only(by_size).decides == "size of main");
}

TEST_CASE("a one-sided value can fail a limit it exceeds but never conform to one it leaves open") {
    CHECK(only(rope("size = \"8 mm\"\npull = \">= 5 kN\"\n")).verdict == Verdict::fails);
    CHECK(only(rope("size = \"8 mm\"\npull = \">= 3 kN\"\n")).verdict == Verdict::undecided);
    CHECK(only(rope("size = \"8 mm\"\npull = \"<= 3 kN\"\n")).verdict == Verdict::conforms);
}

TEST_CASE("a guess decides nothing critical, either way") {
    for (const char* pull : {"~ 1 kN", "~ 9 kN"}) {
        const Inspected inspected = rope(std::string("size = \"8 mm\"\npull = \"") + pull + "\"\n");
        CHECK(only(inspected).verdict == Verdict::undecided);
        CHECK(only(inspected).decides == "pull of main (a guess)");
    }
}

TEST_CASE("missing data is named by field and item, with how to find it out") {
    const Inspected inspected = rope("pull = \"4 kN\"\n");
    CHECK(only(inspected).verdict == Verdict::not_stated);
    REQUIRE(only(inspected).wanted.size() == 1);
    CHECK(only(inspected).wanted[0].text == "size of main");
    CHECK(only(inspected).wanted[0].ask == "calliper");
    const Inspected asked = rope("pull = \"4 kN\"\nsize = \"?\"\n");
    CHECK(only(asked).wanted[0].asked);
    REQUIRE(asked.report->next.size() == 1);
    CHECK(asked.report->next[0].value.text == "size of main");
    CHECK(asked.report->next[0].rules == 1);
}

TEST_CASE("beyond the table is not stated, and says so") {
    const Inspected inspected = rope("size = \"11 mm\"\npull = \"1 kN\"\n");
    CHECK(only(inspected).verdict == Verdict::not_stated);
    REQUIRE(only(inspected).wanted.size() == 1);
    CHECK(only(inspected).wanted[0].note == "beyond the table strength");
}

TEST_CASE("a practice that is not stated is tried each: conforms and fails only under all, else undecided") {
    // 8 mm: 4 kN in the north, 5 kN in the south
    CHECK(only(rope("size = \"8 mm\"\npull = \"4 kN\"\n", "")).verdict == Verdict::conforms);
    CHECK(only(rope("size = \"8 mm\"\npull = \"5.1 kN\"\n", "")).verdict == Verdict::fails);
    const Inspected between = rope("size = \"8 mm\"\npull = \"4.5 kN\"\n", "");
    CHECK(only(between).verdict == Verdict::undecided);
    CHECK(only(between).needs.text == "4 kN to 5 kN");
    REQUIRE(between.report->tried.size() == 1);
    CHECK(between.report->tried[0] == "practice of yard: north or south");
}

TEST_CASE("a finding shows what it has, needs, by how much, its working and what clears it") {
    const Inspected inspected = rope("size = \"8 mm\"\npull = \"5 kN\"\n");
    const Finding& finding = only(inspected);
    CHECK(finding.subject == "pull of main");
    CHECK(finding.has.text == "5 kN");
    CHECK(finding.has.low == 5000.0);
    CHECK(finding.has.si_unit == "N");
    CHECK(finding.origin == "stated");
    CHECK(finding.needs_text == "at most 4 kN (carries of main)");
    CHECK(finding.by == "1 kN too much (25 %)");
    CHECK(inspected.sources.place(finding.place.source, finding.place.begin).line == 5);
    REQUIRE(finding.working.size() == 2);
    CHECK(finding.working[0].name == "carries of main");
    CHECK(finding.working[0].formula == "lookup(strength.load, yard.practice, size)");
    CHECK(finding.working[0].result == "4 kN");
    CHECK(finding.working[1].numbers == "5 kN <= 4 kN");
    REQUIRE(finding.clears.size() == 2);
    CHECK(finding.clears[0].text == "size of main: at least 10 mm");
    CHECK(finding.clears[1].text == "pull of main: at most 4 kN");
    REQUIRE(finding.basis.size() == 2);
    CHECK(rules::print_authority(finding.basis[0]) == "Rope book, 1 (from memory: verify)");
    CHECK(rules::print_authority(finding.basis[1]) == "Northern rope book, table 1");
    CHECK(finding.caution.empty());
}

TEST_CASE("a failing value never prints equal to its limit") {
    const Inspected inspected = rope("size = \"8 mm\"\npull = \"4.00004 kN\"\n");
    CHECK(only(inspected).verdict == Verdict::fails);
    CHECK(only(inspected).has.text != only(inspected).needs.text);
}

TEST_CASE("consequences of one cause are folded under the gravest") {
    const std::string second = R"toml(
[rule.rope-is-thick]
asks = "Is the rope thick enough to hold by hand?"
of = "rope"
demands = "size >= 9 mm"
class = "minor"
because = "Thin ropes cut."
basis = [{ status = "common practice" }]
clears = ["size"]
[[rule.rope-is-thick.example]]
verdict = "conforms"
with.rope.a = { size = "9 mm" }
[[rule.rope-is-thick.example]]
verdict = "fails"
with.rope.a = { size = "8.9 mm" }
)toml";
    const Inspected inspected(
        {vocabulary, good_rule, second},
        "[yard]\npractice = \"north\"\n[rope.main]\nsize = \"8 mm\"\npull = \"5 kN\"\n");
    REQUIRE_MESSAGE(inspected.report, inspected.trouble());
    REQUIRE(inspected.report->findings.size() == 2);
    CHECK(inspected.report->findings[0].rule_name == "rope-carries");
    CHECK(inspected.report->findings[0].consequences == std::vector<std::size_t>{1});
    CHECK(inspected.report->findings[1].cause == std::optional<std::size_t>{0});
    CHECK(inspected.report->coverage.failing == 2);
}

TEST_CASE("an input used twice does not widen a verdict to undecided") {
    const std::string twice = R"toml(
[rule.no-more-than-itself]
asks = "Is it no more than itself?"
of = "rope"
demands = "pull * 2 - pull <= pull"
class = "minor"
because = "Arithmetic."
basis = [{ status = "computed" }]
[[rule.no-more-than-itself.example]]
verdict = "conforms"
with.rope.a = { pull = "3 ± 1 kN" }
[[rule.no-more-than-itself.example]]
verdict = "fails"
with.rope.a = { pull = "3 ± 1 kN" }
)toml";
    inspect::Options options;
    options.conforming = true;
    const Inspected inspected({vocabulary, twice}, "[rope.a]\npull = \"3 ± 1 kN\"\n", options);
    CHECK(only(inspected).verdict == Verdict::conforms);
}

TEST_CASE(
    "a rule skipped because nobody stated a value counts as not stated, by a known absence as not "
    "applicable") {
    const std::string hooked = R"toml(
[rule.hook-carries]
asks = "Does the hook carry the rope's pull?"
of = "rope"
when = "hook is stated and hook is not none"
demands = "pull <= hook.load"
class = "major"
because = "It bends."
basis = [{ status = "common practice" }]
clears = ["hook.load"]
[[rule.hook-carries.example]]
verdict = "conforms"
with.hook.h = { load = "2 kN" }
with.rope.a = { pull = "2 kN", hook = "h" }
[[rule.hook-carries.example]]
verdict = "fails"
with.hook.h = { load = "2 kN" }
with.rope.a = { pull = "2.1 kN", hook = "h" }
)toml";
    const Inspected silent({vocabulary, hooked}, "[rope.a]\npull = \"3 kN\"\n");
    CHECK(only(silent).verdict == Verdict::not_stated);
    CHECK(only(silent).wanted[0].text == "hook of a");
    const Inspected none({vocabulary, hooked}, "[rope.a]\npull = \"3 kN\"\nhook = \"none\"\n");
    REQUIRE(none.report);
    CHECK(none.report->findings.empty());
    CHECK(none.report->coverage.not_applicable == 1);
    CHECK(none.report->coverage.applicable == 0);
}

TEST_CASE("a rule that asks whether something is mentioned does not apply where nothing is said of it") {
    const std::string hooked = R"toml(
[rule.hook-is-stated]
asks = "Is the mentioned hook known, and not only assumed to be there?"
of = "rope"
when = "hook is mentioned"
demands = "hook is not none and yard is mentioned"
class = "major"
because = "It bends."
basis = [{ status = "common practice" }]
[[rule.hook-is-stated.example]]
verdict = "conforms"
with.yard = { practice = "north" }
with.hook.h = { load = "2 kN" }
with.rope.a = { hook = "h" }
[[rule.hook-is-stated.example]]
verdict = "fails"
with.yard = { practice = "north" }
with.rope.a = { hook = "none" }
[[rule.hook-is-stated.example]]
verdict = "fails"
with.hook.h = { load = "2 kN" }
with.rope.a = { hook = "h" }
)toml";
    const Inspected silent({vocabulary, hooked}, "[rope.a]\npull = \"3 kN\"\n");
    REQUIRE_MESSAGE(silent.report, silent.trouble());
    CHECK(silent.report->findings.empty());
    CHECK(silent.report->coverage.not_applicable == 1);
    CHECK(silent.report->coverage.not_stated == 0);
    const Inspected no_yard({vocabulary, hooked}, "[hook.h]\nload = \"2 kN\"\n[rope.a]\nhook = \"h\"\n");
    CHECK(only(no_yard).verdict == Verdict::fails);
    CHECK(only(no_yard).subject == "yard");
    CHECK(only(no_yard).needs_text == "to be mentioned");
}

TEST_CASE("a demand for a value that is not assumed says so, and waits where there is none") {
    const std::string practised = R"toml(
[rule.practice-is-stated]
asks = "Is the practice chosen?"
of = "yard"
demands = "practice is not assumed"
class = "minor"
because = "Guesswork."
basis = [{ status = "common practice" }]
[[rule.practice-is-stated.example]]
verdict = "conforms"
with.yard = { practice = "north" }
[[rule.practice-is-stated.example]]
verdict = "fails"
with.yard = {}
)toml";
    const Inspected tried({vocabulary, practised}, "[yard]\n");
    CHECK(only(tried).verdict == Verdict::fails);
    CHECK(only(tried).origin == "assumed");
    CHECK(only(tried).needs_text == "to be stated or measured");
    const Inspected asked({vocabulary, practised}, "[yard]\npractice = \"?\"\n");
    CHECK(only(asked).verdict == Verdict::not_stated);
}

TEST_CASE("switched-off rules judge nothing") {
    const Inspected off(
        {vocabulary, good_rule,
         "[change.rope-carries]\nactive = false\nreason = \"no ropes\"\nby = \"A. Example\"\n"},
        "[rope.a]\nsize = \"8 mm\"\npull = \"9 kN\"\n");
    REQUIRE_MESSAGE(off.report, off.trouble());
    CHECK(off.report->coverage.applicable == 0);
}

TEST_CASE("where very many tolerances keep a verdict open, none of them is blamed alone") {
    const char* const together = R"toml(
[rule.all-ropes-together]
asks = "Do all ropes together pull no more than this?"
of = "yard"
demands = "sum(rope as r : r.pull) <= 61 kN"
class = "major"
because = "It falls."
basis = [{ status = "common practice", note = "a test" }]
[[rule.all-ropes-together.example]]
verdict = "conforms"
with.yard = { practice = "north" }
with.rope.a = { pull = "61 kN" }
[[rule.all-ropes-together.example]]
verdict = "fails"
with.yard = { practice = "north" }
with.rope.a = { pull = "62 kN" }
)toml";
    const auto ropes = [](int count) {
        std::string text = "[yard]\npractice = \"north\"\n";
        for (int i = 0; i < count; ++i)
            text += "[rope.r" + std::to_string(i) + "]\npull = \"" + (count == 61 ? "1" : "1.0167") +
                    " ± 0.1 kN\"\n";
        return text;
    };
    const Inspected of_many({vocabulary, together}, ropes(61));
    const Finding& many = only(of_many);
    CHECK(many.verdict == Verdict::undecided);
    CHECK(many.decides == "the tolerances of 61 values together");
    const Inspected of_few({vocabulary, together}, ropes(60));
    const Finding& few = only(of_few);
    CHECK(few.verdict == Verdict::undecided);
    CHECK(few.decides == "pull of r0");
}
