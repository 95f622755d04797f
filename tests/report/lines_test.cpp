#include "engine/report/lines.hpp"

#include <doctest/doctest.h>

#include <regex>
#include <sstream>

#include "samples.hpp"

using packproof::report::Options;
using packproof::report::print_lines;
using packproof::samples::Sample;

namespace {

std::string printed(const Sample& sample, const Options& options = {}) {
    return print_lines(std::span(&sample.report, 1), sample.sources, options);
}

}  // namespace

TEST_CASE("each finding is one line in the form of the GNU coding standards") {
    CHECK(printed(packproof::samples::cabin_store()) ==
          "cabin.toml:6:17: error: critical fails: main-positive (conductor): has rated_current of "
          "main-breaker: 200 A, stated; needs at most 174 A (carrying_capacity of main-positive) "
          "[breaker-protects-conductor]\n"
          "cabin.toml:9:11: note: minor fails: main-positive (conductor): has 2.1 V; needs at most 1.5 V; "
          "follows from breaker-protects-conductor [voltage-drop]\n"
          "cabin.toml: warning: major undecided: fixture: has force of fixture: 2500 N (1625 N to 3375 N), "
          "computed; needs 2500 N to 3500 N (clamp_force of cell); decided by nut_factor of fixture "
          "(assumed) [clamp-force]\n");
}

TEST_CASE("every line matches one regular expression, also with everything shown") {
    Options options;
    options.all = true;
    const std::regex form(R"(^[^:]+:(\d+:\d+:)? (error|warning|note): [a-z].*[^.] \[[a-z-]+\]$)");
    std::istringstream lines(printed(packproof::samples::cabin_store(), options));
    std::size_t count = 0;
    for (std::string line; std::getline(lines, line); ++count) {
        INFO(line);
        CHECK(std::regex_match(line, form));
    }
    CHECK(count == 5);
}

TEST_CASE("the severity follows the class") {
    Sample sample = packproof::samples::cabin_store();
    auto& finding = sample.report.findings[0];
    using packproof::inspect::Class;
    const auto severity = [&](Class c) {
        finding.rule_class = c;
        const std::string line = printed(sample);
        const std::size_t begin = line.find(' ') + 1;
        return line.substr(begin, line.find(':', begin) - begin);
    };
    CHECK(severity(Class::critical) == "error");
    CHECK(severity(Class::major) == "error");
    CHECK(severity(Class::minor) == "warning");
    CHECK(severity(Class::observation) == "note");
}
