// Expected: OASIS SARIF 2.1.0 (clauses beside each), RFC 3986, TOML 1.0.
#include "engine/report/sarif.hpp"

#include <doctest/doctest.h>

#include "engine/report/sarif_place.hpp"
#include "engine/report/sarif_words.hpp"
#include "engine/report/toml_text.hpp"
#include "engine/text/sha256.hpp"
#include "samples.hpp"
#include "sarif_log.hpp"

using nlohmann::json;
using packproof::report::file_uri;
using packproof::report::Options;
using packproof::report::print_sarif;
using packproof::report::Profile;
using packproof::report::toml_value;
using packproof::samples::Sample;
using packproof::samples::sarif_complaints;

namespace {

json log_of(const Sample& sample, const Options& options = {}) {
    return json::parse(print_sarif(std::span(&sample.report, 1), sample.sources, options));
}

json run_of(const Sample& sample, const Options& options = {}) {
    return log_of(sample, options)["runs"][0];
}

// The sample with what an inspection adds to it: places of inputs and values to write.
Sample with_places() {
    Sample sample = packproof::samples::cabin_store();
    const std::string text(sample.sources.bytes(0));
    const auto at = [&](std::string_view words) {
        const auto begin = static_cast<std::uint32_t>(text.find(words));
        return packproof::text::Span{0, begin, begin + static_cast<std::uint32_t>(words.size())};
    };
    auto& finding = sample.report.findings[0];
    finding.elsewhere = {{"rated_current of main-breaker: 200 A", at("\"200 A\"")},
                         {"section of main-positive: 50 mm²", at("\"50 mm²\"")}};
    finding.clears[0].span = at("\"200 A\"");
    finding.clears[0].writes = {"160 A"};
    finding.clears[1].span = at("\"50 mm²\"");
    finding.clears[1].writes = {"70 mm²"};
    return sample;
}

// The text with a replacement made: lines and columns in code points.
std::string replaced(const Sample& sample, const json& replacement) {
    const json& region = replacement["deletedRegion"];
    const auto offset = [&](const char* line, const char* column) {
        return sample.sources.offset(0, region[line].get<std::uint32_t>(),
                                     region[column].get<std::uint32_t>());
    };
    const auto begin = offset("startLine", "startColumn");
    std::string text(sample.sources.bytes(0));
    return text.replace(begin, offset("endLine", "endColumn") - begin,
                        replacement["insertedContent"]["text"].get<std::string>());
}

}  // namespace

TEST_CASE("a log is of version 2.1.0 and names its producer, rules and columns") {
    const json log = log_of(packproof::samples::cabin_store());
    CHECK(log["version"] == "2.1.0");
    REQUIRE(log["runs"].size() == 1);
    const json& run = log["runs"][0];
    const json& driver = run["tool"]["driver"];
    CHECK(driver["name"] == "packproof");
    CHECK(driver["semanticVersion"] == std::string(packproof::inspect::rule_set_version()));
    CHECK(run["columnKind"] == "unicodeCodePoints");
    CHECK(run["automationDetails"]["id"] == "packproof/full/");
    CHECK(run["invocations"][0]["executionSuccessful"] == true);
    REQUIRE(driver["rules"].size() == 4);
    CHECK(driver["rules"][1]["id"] == "breaker-protects-conductor");
    CHECK(driver["rules"][1]["shortDescription"]["text"] ==
          "Does the breaker open before the conductor overheats?");
    CHECK(driver["rules"][1]["defaultConfiguration"]["level"] == "error");
    CHECK(run["properties"]["caution"] == std::string(packproof::inspect::general_caution()));
    CHECK(sarif_complaints(log).empty());
}

TEST_CASE("kind and level follow verdict and class") {  // 3.27.9, 3.27.10
    Options options;
    options.all = true;
    Sample sample = packproof::samples::cabin_store();
    sample.report.findings.push_back(sample.report.findings[1]);
    sample.report.findings.back().rule_class = packproof::rules::Class::observation;
    const json results = run_of(sample, options)["results"];
    REQUIRE(results.size() == 6);
    const std::vector<std::pair<std::string, std::string>> expected{{"fail", "error"},  {"fail", "warning"},
                                                                    {"review", "none"}, {"open", "none"},
                                                                    {"pass", "none"},   {"fail", "note"}};
    for (std::size_t i = 0; i < expected.size(); ++i) {
        CHECK(results[i]["kind"] == expected[i].first);
        CHECK(results[i]["level"] == expected[i].second);
    }
}

TEST_CASE("what conforms is told only with all; alerts are only what fails") {
    CHECK(run_of(packproof::samples::cabin_store())["results"].size() == 4);
    Options options;
    options.profile = Profile::alerts;
    options.all = true;
    const json run = run_of(packproof::samples::cabin_store(), options);
    REQUIRE(run["results"].size() == 2);
    for (const json& result : run["results"])
        CHECK(result["kind"] == "fail");
    CHECK(run["tool"]["driver"]["rules"].size() == 2);
    CHECK(run["automationDetails"]["id"] == "packproof/alerts/");
}

TEST_CASE("a result says where, what it has and needs, and what it rests on") {
    const json log = log_of(with_places());
    CHECK(sarif_complaints(log).empty());
    const json& result = log["runs"][0]["results"][0];
    const json& place = result["locations"][0];
    CHECK(place["physicalLocation"]["artifactLocation"]["uri"] == "cabin.toml");
    // rated_current = "200 A" on line 6: the quotes at columns 17 and 23, the end is one past (3.30)
    CHECK(place["physicalLocation"]["region"] ==
          json({{"startLine", 6}, {"startColumn", 17}, {"endLine", 6}, {"endColumn", 24}}));
    CHECK(place["logicalLocations"][0]["fullyQualifiedName"] == "conductor.main-positive");
    CHECK(place["logicalLocations"][0]["kind"] == "conductor");
    const auto message = result["message"]["text"].get<std::string>();
    for (const char* words :
         {"rated_current of main-breaker: 200 A, stated", "at most 174 A", "26 A (15 %)",
          "[section of main-positive: 50 mm²](1)", "at most 160 A", "terminals stay live"})
        CHECK_MESSAGE(message.find(words) != std::string::npos, words);
    REQUIRE(result["relatedLocations"].size() == 1);  // the other input is the place itself
    // section = "50 mm²" on line 9: a superscript is one column, as columns are code points
    CHECK(result["relatedLocations"][0]["physicalLocation"]["region"] ==
          json({{"startLine", 9}, {"startColumn", 11}, {"endLine", 9}, {"endColumn", 19}}));
    CHECK(result["properties"]["working"][0]["numbers"] == "192 A × 0.906");
    const json& steps = result["codeFlows"][0]["threadFlows"][0]["locations"];
    CHECK(steps[1]["location"]["message"]["text"] ==
          "carrying_capacity of main-positive = table_current * ambient_factor = 192 A × 0.906 = 174 A");
}

TEST_CASE("a consequence points to its cause") {
    const json result = run_of(packproof::samples::cabin_store())["results"][1];
    CHECK(result["relatedLocations"][0]["message"]["text"] ==
          "breaker-protects-conductor on main-positive (conductor)");
    CHECK(result["message"]["text"].get<std::string>().find("follows from breaker-protects-conductor") !=
          std::string::npos);
}

TEST_CASE("a fix puts one value in place of another and touches nothing else") {
    const Sample sample = with_places();
    const json fixes = run_of(sample)["results"][0]["fixes"];
    REQUIRE(fixes.size() == 2);
    const std::string before(sample.sources.bytes(0));
    const auto after = [&](std::string_view old, std::string_view now) {
        std::string text = before;
        return text.replace(text.find(old), old.size(), now);
    };
    for (const json& fix : fixes)
        REQUIRE(fix["artifactChanges"][0]["replacements"].size() == 1);
    CHECK(replaced(sample, fixes[0]["artifactChanges"][0]["replacements"][0]) == after("200 A", "160 A"));
    CHECK(replaced(sample, fixes[1]["artifactChanges"][0]["replacements"][0]) == after("50 mm²", "70 mm²"));
}

TEST_CASE("no fix for a remedy that is not one value in a file") {
    CHECK_FALSE(run_of(packproof::samples::cabin_store())["results"][0].contains("fixes"));
    Sample sample = with_places();
    sample.report.findings[0].clears[0].writes = {};
    CHECK(run_of(sample)["results"][0]["fixes"].size() == 1);
}

TEST_CASE("a value is written as TOML") {
    CHECK(toml_value("160 A", "\"200 A\"") == "\"160 A\"");
    CHECK(toml_value("160 A", "'200 A'") == "\"160 A\"");
    CHECK(toml_value("3", "2") == "3");
    CHECK(toml_value("0.35", "0.3") == "0.35");
    CHECK(toml_value("3", "\"2\"") == "\"3\"");
    CHECK(toml_value("35 %", "0.3") == "\"35 %\"");
    CHECK(toml_value("1.", "2") == "\"1.\"");  // no TOML number
    CHECK(toml_value("07", "2") == "\"07\"");
    CHECK(toml_value("a\"b\\c\n", "\"\"") == "\"a\\\"b\\\\c\\u000A\"");
}

TEST_CASE("fingerprints stay when lines are added before, and tell findings apart") {
    const auto prints = [](const Sample& sample) {
        std::vector<std::string> found;
        const json run = run_of(sample);
        for (const json& result : run["results"])
            found.push_back(result["partialFingerprints"]["ruleItemSubject/v1"].get<std::string>());
        return found;
    };
    const Sample plain = packproof::samples::cabin_store();
    Sample moved;
    moved.sources.add("cabin.toml", "# one more line\n" + std::string(plain.sources.bytes(0)));
    moved.report = plain.report;
    for (auto& finding : moved.report.findings) {
        finding.place.begin += 16;
        finding.place.end += 16;
    }
    CHECK(prints(moved) == prints(plain));
    const json region = run_of(moved)["results"][0]["locations"][0]["physicalLocation"]["region"];
    CHECK(region["startLine"] == 7);
    for (std::string packproof::inspect::Finding::*part :
         {&packproof::inspect::Finding::rule_name, &packproof::inspect::Finding::item_name,
          &packproof::inspect::Finding::subject, &packproof::inspect::Finding::kind_name}) {
        Sample other = packproof::samples::cabin_store();
        other.report.findings[0].*part = "other";
        CHECK(prints(other)[0] != prints(plain)[0]);
    }
    Sample twice = packproof::samples::cabin_store();
    twice.report.findings.push_back(twice.report.findings[0]);
    CHECK(prints(twice)[3] == prints(plain)[3]);
    CHECK(prints(twice).back() == prints(plain)[0] + ":2");
}

TEST_CASE("names of files become URIs") {  // RFC 3986, 2.1 and 2.3; RFC 8089
    CHECK(file_uri("pack.toml", "").uri == "pack.toml");
    CHECK(file_uri("./my pack.toml", "").uri == "my%20pack.toml");
    CHECK(file_uri("größe.toml", "").uri == "gr%C3%B6%C3%9Fe.toml");
    CHECK(file_uri("a:b#c?d%e.toml", "").uri == "a%3Ab%23c%3Fd%25e.toml");
    CHECK(file_uri("a/../b/c.toml", "").uri == "b/c.toml");
    CHECK(file_uri("a.toml", "/x/y").below);
    CHECK(file_uri("/x/y/a b/c.toml", "/x/y").uri == "a%20b/c.toml");
    CHECK(file_uri("/x/y/a b/c.toml", "/x/y").below);
    CHECK(file_uri("../a b.toml", "/x/y").uri == "file:///x/a%20b.toml");
    CHECK_FALSE(file_uri("../a b.toml", "/x/y").below);
    CHECK(file_uri("//other/a.toml", "").uri == "file:///other/a.toml");
    CHECK(file_uri("../a.toml", "").uri == "../a.toml");
    CHECK_FALSE(file_uri("../a.toml", "").below);
    CHECK(file_uri("-", "/x").uri.empty());
}

TEST_CASE("standard input has a description in place of a URI") {
    Sample sample = packproof::samples::cabin_store();
    const std::string text(sample.sources.bytes(0));
    sample.sources = {};
    sample.sources.add("standard input", text);
    sample.report.file = "standard input";
    const json run = run_of(sample);
    CHECK_FALSE(run["artifacts"][0]["location"].contains("uri"));
    CHECK(run["artifacts"][0]["roles"] == json({"analysisTarget", "standardStream"}));
    CHECK(run["artifacts"][0]["hashes"]["sha-256"] == packproof::text::sha256(text));
}

TEST_CASE("what was not inspected is told, and the run did not succeed") {  // 3.20.21, 3.14.23
    Options options;
    options.not_inspected = {"broken.toml"};
    options.exit_code = 2;
    Sample sample = packproof::samples::cabin_store();
    options.messages = {{packproof::text::Severity::error, {0, 7, 11}, "no such {field}", "write another"}};
    const json log = log_of(sample, options);
    CHECK(sarif_complaints(log).empty());
    const json& invocation = log["runs"][0]["invocations"][0];
    CHECK(invocation["executionSuccessful"] == false);
    CHECK(invocation["exitCode"] == 2);
    REQUIRE(invocation["toolExecutionNotifications"].size() == 2);
    CHECK(invocation["toolExecutionNotifications"][0]["message"]["text"] ==
          "no such {{field}}; write another");
    CHECK(invocation["toolExecutionNotifications"][1]["locations"][0]["physicalLocation"]["artifactLocation"]
                    ["uri"] == "broken.toml");
    const json none = json::parse(print_sarif({}, sample.sources, options));
    CHECK(sarif_complaints(none).empty());
    CHECK_FALSE(none["runs"][0].contains("results"));
    CHECK(json::parse(print_sarif({}, sample.sources, {}))["runs"][0]["tool"]["driver"]["rules"].empty());
}

TEST_CASE("words of strangers make neither placeholders nor links") {  // 3.11.5, 3.11.6
    using packproof::report::sarif_text;
    CHECK(sarif_text("{0} and }") == "{{0}} and }}");
    CHECK(sarif_text("[see](1)") == "[see] (1)");
    for (const char* attack : {"{0}", "[here](7)", "x](1)", "](", "\\](1)", "{", "a]", "[", "\\", "**b**",
                               "<b>", "[a](b)[c](1)"}) {
        Sample sample = packproof::samples::hostile(attack);
        sample.report.findings[0].elsewhere = {{attack, {0, 0, 1}}, {attack, {0, 1, 2}}};
        Options options;
        options.all = true;
        const json log = log_of(sample, options);
        CAPTURE(attack);
        for (const std::string& complaint : sarif_complaints(log))
            CHECK_MESSAGE(complaint.empty(), complaint);
    }
}

TEST_CASE("the check of logs finds what validators do not") {
    using Spoil = void (*)(json&);
    const std::vector<std::pair<std::string, Spoil>> mistakes{
        {"columnKind", [](json& run) { run.erase("columnKind"); }},
        {"hash",
         [](json& run) {
             run["artifacts"][0]["hashes"] = {{"sha256", "0"}};
         }},
        {"successful in spite of an error",
         [](json& run) {
             run["invocations"][0]["toolExecutionNotifications"] = {
                 {{"level", "error"}, {"message", {{"text", "x"}}}}};
         }},
        {"level beside kind", [](json& run) { run["results"][2]["level"] = "warning"; }},
        {"ruleIndex", [](json& run) { run["results"][0]["ruleIndex"] = 0; }},
        {"on all results or none", [](json& run) { run["results"][0]["suppressions"] = json::array(); }},
        {"link to 1", [](json& run) { run["results"][0]["relatedLocations"][0]["id"] = 2; }},
        {"brace", [](json& run) { run["results"][0]["message"]["markdown"] = "{0}"; }},
        {"region without a start",
         [](json& run) {
             run["results"][0]["locations"][0]["physicalLocation"]["region"].erase("startLine");
         }},
        {"region ends before it begins",
         [](json& run) { run["results"][0]["locations"][0]["physicalLocation"]["region"]["endColumn"] = 3; }},
        {"uri a b",
         [](json& run) {
             run["artifacts"][0]["location"]["uri"] = "a b";
             run["results"][0]["locations"][0]["physicalLocation"]["artifactLocation"]["uri"] = "a b";
         }},
        {"fingerprint ruleItemSubject/v1 twice", [](json& run) {
             run["results"][0]["partialFingerprints"] = run["results"][1]["partialFingerprints"];
         }}};
    for (const auto& mistake : mistakes) {
        json log = log_of(with_places());
        mistake.second(log["runs"][0]);
        const auto complaints = sarif_complaints(log);
        const std::string& expected = mistake.first;
        CAPTURE(expected);
        CHECK(std::find(complaints.begin(), complaints.end(), expected) != complaints.end());
    }
}
