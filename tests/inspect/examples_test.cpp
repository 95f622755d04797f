// Every pack of specs/ against the findings written beside it.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <set>

#include "tests/inspect/built_in.hpp"

using namespace packproof;
using inspect_test::built_in;
using inspect_test::source_path;

namespace {

namespace fs = std::filesystem;

std::vector<std::string> packs() {
    std::vector<std::string> found;
    for (const auto& entry : fs::recursive_directory_iterator(source_path("specs")))
        if (entry.path().extension() == ".findings") {
            fs::path pack = entry.path();
            found.push_back(fs::relative(pack.replace_extension(".toml"), source_path(".")).string());
        }
    std::sort(found.begin(), found.end());
    return found;
}

std::multiset<std::string> expected(const std::string& pack) {
    std::ifstream in(fs::path(source_path(pack)).replace_extension(".findings"));
    std::multiset<std::string> lines;
    for (std::string line; std::getline(in, line);)
        if (!line.empty() && line.front() != '#') lines.insert(line);
    return lines;
}

std::multiset<std::string> found(const inspect::Report& report) {
    std::multiset<std::string> lines;
    for (const inspect::Finding& finding : report.findings)
        if (finding.verdict == inspect::Verdict::fails || finding.verdict == inspect::Verdict::undecided)
            lines.insert(std::string(rules::class_name(finding.rule_class)) + " " +
                         std::string(rules::verdict_name(finding.verdict)) + " " + finding.rule_name + " " +
                         finding.item_name);
    return lines;
}

std::string joined(const std::multiset<std::string>& lines) {
    std::string all;
    for (const std::string& line : lines)
        all += line + "\n";
    return all;
}

inspect::Report inspected(const std::string& pack) {
    text::Sources sources;
    text::Messages messages;
    auto report = inspect::inspect(source_path(pack), built_in(), sources, messages);
    std::string trouble;
    for (const text::Message& message : messages.sorted())
        trouble += text::print_message(message, sources) + "\n";
    REQUIRE_MESSAGE(report, trouble);
    return std::move(*report);
}

std::string first_lines(const std::string& pack) {
    std::ifstream in(source_path(pack));
    std::string line;
    std::getline(in, line);
    return line;
}

}  // namespace

TEST_CASE("every example pack gives exactly the findings written beside it") {
    const std::vector<std::string> all = packs();
    CHECK(all.size() >= 10);
    for (const std::string& pack : all) {
        CAPTURE(pack);
        CHECK(joined(found(inspected(pack))) == joined(expected(pack)));
    }
}

TEST_CASE("every faulty pack fails, and says in its first line that it is invented") {
    std::size_t faulty = 0;
    std::size_t graver = 0;
    for (const std::string& pack : packs()) {
        CAPTURE(pack);
        CHECK(first_lines(pack).find("Invented") != std::string::npos);
        if (pack.find("faulty") == std::string::npos) continue;
        ++faulty;
        const auto gravest = inspected(pack).gravest_failing();
        REQUIRE(gravest);
        CHECK(*gravest <= rules::Class::minor);
        graver += *gravest <= rules::Class::major ? 1 : 0;  // so that the default gate gives exit code 1
    }
    CHECK(faulty >= 18);
    CHECK(graver + 2 >= faulty);  // unequal cables of parallel packs and too small a loom are minor
}

TEST_CASE("a sound and complete pack gives no critical and no major finding and at most three minor ones") {
    const inspect::Report report = inspected("specs/cabin/pack.toml");
    std::size_t minor = 0;
    for (const inspect::Finding& finding : report.findings) {
        if (finding.verdict != inspect::Verdict::fails && finding.verdict != inspect::Verdict::undecided)
            continue;
        CHECK(finding.rule_class >= rules::Class::minor);
        if (finding.rule_class == rules::Class::minor) ++minor;
    }
    CHECK(minor <= 3);
    CHECK_FALSE(report.assumptions.empty());
}

TEST_CASE("a sound half-described pack gives no critical and no major finding, and asks for five values") {
    const inspect::Report report = inspected("specs/ten-lines.toml");
    for (const inspect::Finding& finding : report.findings)
        if (finding.verdict == inspect::Verdict::fails || finding.verdict == inspect::Verdict::undecided)
            CHECK(finding.rule_class >= rules::Class::minor);
    CHECK(report.next.size() == 5);
}

TEST_CASE("the same input gives the same report twice") {
    for (const std::string& pack : packs()) {
        const inspect::Report a = inspected(pack);
        const inspect::Report b = inspected(pack);
        REQUIRE(a.findings.size() == b.findings.size());
        for (std::size_t f = 0; f < a.findings.size(); ++f) {
            CHECK(a.findings[f].has.text == b.findings[f].has.text);
            CHECK(a.findings[f].needs_text == b.findings[f].needs_text);
        }
        CHECK(a.input_digest == b.input_digest);
    }
}

TEST_CASE("exchanged taps are told before everything else, other critical findings of the pack included") {
    const inspect::Report report = inspected("specs/box/faulty-taps-7-and-8-exchanged.toml");
    REQUIRE(report.findings.size() > 6);
    CHECK(report.findings[0].rule_name == "taps-tell-of-no-mistake");
    CHECK(report.findings[0].has.text == "two leads exchanged");
    CHECK(report.findings[1].rule_name == "tap-stands-where-its-number-says");
    CHECK(report.findings[1].item_name == "tap-7");
    for (std::size_t i = 0; i < 6; ++i)
        CHECK(report.findings[i].at_once);
    CHECK_FALSE(report.findings[6].at_once);
    CHECK(report.findings[6].rule_class == inspect::Class::critical);
}
