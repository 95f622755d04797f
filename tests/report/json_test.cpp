#include "engine/report/json.hpp"

#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

#include "engine/report/json_text.hpp"
#include "samples.hpp"

using nlohmann::json;
using packproof::report::Options;
using packproof::report::print_json;
using packproof::samples::Sample;

namespace {

std::string printed(const Sample& sample, const Options& options = {}) {
    return print_json(std::span(&sample.report, 1), sample.sources, options);
}

}  // namespace

TEST_CASE("a run is one versioned object with files and findings") {
    const json run = json::parse(printed(packproof::samples::cabin_store()));
    CHECK(run["form"] == "packproof-report");
    CHECK(run["version"] == 1);
    CHECK(run["complete"] == true);
    CHECK(run["rules"]["digest"] == "3f2a91c4d5e6f708");
    CHECK(run["caution"] == std::string(packproof::inspect::general_caution()));
    REQUIRE(run["files"].size() == 1);
    const json& file = run["files"][0];
    CHECK(file["file"] == "cabin.toml");
    CHECK(file["coverage"]["not_applicable"] == 12);
    CHECK(file["next"][0]["checks"] == 3);
    CHECK(file["tried"][0] == "practice of pack: iec, nec, marine");
    REQUIRE(run["findings"].size() == 4);
    CHECK(run["findings"][3]["wanted"][0]["text"] == "outer_diameter of main-positive");
}

TEST_CASE("a finding carries its place, numbers in SI, working, remedies and authority") {
    const json finding = json::parse(printed(packproof::samples::cabin_store()))["findings"][0];
    CHECK(finding["rule"] == "breaker-protects-conductor");
    CHECK(finding["class"] == "critical");
    CHECK(finding["verdict"] == "fails");
    CHECK(finding["line"] == 6);
    CHECK(finding["column"] == 17);
    CHECK(finding["has"]["number"] == json({{"low", 200.0}, {"high", 200.0}, {"unit", "A"}}));
    CHECK(finding["working"][0]["numbers"] == "192 A × 0.906");
    CHECK(finding["clears"][1]["value"]["number"]["low"] == 7e-5);
    CHECK(finding["clears"][1]["value"]["number"]["high"].is_null());
    CHECK(finding["basis"][0]["document"] == "Handbook of invented limits");
    CHECK(finding["basis"][0]["status"] ==
          std::string(packproof::rules::status_name(packproof::model::Authority::Status::recalled)));
}

TEST_CASE("every key that the form documents is there, in every finding") {
    Options options;
    options.all = true;
    const json run = json::parse(printed(packproof::samples::cabin_store(), options));
    REQUIRE(run["findings"].size() == 5);
    for (const json& finding : run["findings"])
        for (const char* key :
             {"description", "rule",  "class",   "verdict", "item",        "kind",   "file",     "line",
              "column",      "asks",  "because", "subject", "has",         "origin", "relation", "needs",
              "needs_text",  "by",    "working", "clears",  "advice",      "shows",  "decides",  "wanted",
              "rests_on",    "basis", "caution", "cause",   "consequences"})
            CHECK_MESSAGE(finding.contains(key), key);
}

TEST_CASE("cause and consequences point into the list of the whole run") {
    Sample sample = packproof::samples::cabin_store();
    std::vector<packproof::inspect::Report> two{sample.report, sample.report};
    const json run = json::parse(print_json(two, sample.sources, {}));
    REQUIRE(run["findings"].size() == 8);
    CHECK(run["findings"][4]["consequences"] == json::array({5}));
    CHECK(run["findings"][5]["cause"] == 4);
    CHECK(run["findings"][4]["cause"].is_null());
}

TEST_CASE("indices stay right when a finding that is not listed stands between") {
    Sample sample = packproof::samples::cabin_store();
    auto& findings = sample.report.findings;
    findings.insert(findings.begin() + 1, findings[4]);  // conforms: not listed
    findings[0].consequences = {2};
    const json run = json::parse(printed(sample));
    CHECK(run["findings"][0]["consequences"] == json::array({1}));
    CHECK(run["findings"][1]["cause"] == 0);
}

TEST_CASE("a run with files that could not be inspected says so") {
    Options options;
    options.not_inspected = {"broken.toml"};
    const json run = json::parse(printed(packproof::samples::cabin_store(), options));
    CHECK(run["complete"] == false);
    CHECK(run["not_inspected"] == json::array({"broken.toml"}));
}

TEST_CASE("a finding without a place has null for line and column") {
    const json finding = json::parse(printed(packproof::samples::cabin_store()))["findings"][2];
    CHECK(finding["file"] == "cabin.toml");
    CHECK(finding["line"].is_null());
    CHECK(finding["column"].is_null());
}

TEST_CASE("doubles come back bit for bit") {
    Sample sample = packproof::samples::cabin_store();
    for (const double x : {0.1, 1.0 / 3.0, 5e-324, 1.7976931348623157e308, 187.49999999999997, -0.0}) {
        sample.report.findings[0].has.low = x;
        const json finding = json::parse(printed(sample))["findings"][0];
        CHECK(finding["has"]["number"]["low"].get<double>() == x);
    }
}

TEST_CASE("invisible characters are escaped, also beyond the first plane, and the value stays") {
    // Expected: RFC 8259 section 7, U+E0041 as the surrogate pair DB40 DC41.
    CHECK(packproof::report::escape_invisible("\"a\u202Eb\"") == "\"a\\u202eb\"");
    CHECK(packproof::report::escape_invisible("\"\U000E0041\"") == "\"\\udb40\\udc41\"");
    CHECK(packproof::report::escape_invisible("\"mm² µΩ 中\"") == "\"mm² µΩ 中\"");
    CHECK(json::parse(packproof::report::escape_invisible("\"\U000E0041\"")) == "\U000E0041");
}
