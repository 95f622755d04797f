// SARIF logs of whole runs: of the small rule set, and of the descriptions in specs/ under the built-in
// rules.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "../report/sarif_log.hpp"
#include "bench.hpp"
#include "engine/text/source.hpp"

using namespace packproof::bench;
using nlohmann::json;
using packproof::samples::sarif_complaints;

namespace {

bool has(const std::string& text, std::string_view part) {
    return text.find(part) != std::string::npos;
}

void check_log(const std::string& printed) {
    for (const std::string& complaint : sarif_complaints(json::parse(printed)))
        CHECK_MESSAGE(complaint.empty(), complaint);
}

const json& results_of(const json& log) {
    return log["runs"][0]["results"];
}

std::string uri_of(const json& place) {
    return place["artifactLocation"]["uri"].get<std::string>();
}

// Rule and item of every finding that fails.
std::vector<std::string> failing_checks(const json& log) {
    std::vector<std::string> found;
    for (const json& result : results_of(log))
        if (result["kind"] == "fail")
            found.push_back(result["ruleId"].get<std::string>() + " on " +
                            result["locations"][0]["logicalLocations"][0]["name"].get<std::string>());
    return found;
}

// A file with one replacement made in it.
void apply(const std::string& path, const json& replacement) {
    packproof::text::Sources sources;
    const auto source = sources.add(path, read(path));
    const json& region = replacement["deletedRegion"];
    const auto at = [&](const char* line, const char* column) {
        return sources.offset(source, region[line].get<std::uint32_t>(), region[column].get<std::uint32_t>());
    };
    const auto begin = at("startLine", "startColumn");
    std::string text(sources.bytes(source));
    text.replace(begin, at("endLine", "endColumn") - begin,
                 replacement["insertedContent"]["text"].get<std::string>());
    std::filesystem::remove(path);
    std::ofstream(path, std::ios::binary) << text;
}

}  // namespace

TEST_CASE("a log of a run: exit code, rule, place, profile") {
    const Folder folder;
    const Outcome run = call({"inspect", folder.write("a.toml", failing), "--form", "sarif"});
    CHECK(run.code == 1);
    check_log(run.out);
    const json log = json::parse(run.out);
    CHECK(log["runs"][0]["invocations"][0]["exitCode"] == 1);
    CHECK(log["runs"][0]["invocations"][0]["executionSuccessful"] == true);
    const json& result = results_of(log)[0];
    CHECK(result["ruleId"] == "device-protects-conductor");
    CHECK(result["level"] == "error");
    const json& rule = log["runs"][0]["tool"]["driver"]["rules"][result["ruleIndex"].get<std::size_t>()];
    CHECK(has(rule["help"]["text"].get<std::string>(), "Demands: protected_by.rated_current <= "));
    const json alerts = json::parse(
        call({"inspect", folder.path("a.toml"), "--form", "sarif", "--profile", "alerts", "--all"}).out);
    for (const json& one : results_of(alerts))
        CHECK(one["kind"] == "fail");
}

TEST_CASE("a profile goes with the form, and is one of two") {
    const Folder folder;
    const std::string file = folder.write("a.toml", failing);
    const Outcome without = call({"inspect", file, "--profile", "alerts"});
    CHECK(without.code == 2);
    CHECK(has(without.err, "--profile is of the form sarif"));
    const Outcome wrong = call({"inspect", file, "--form", "sarif", "--profile", "alert"});
    CHECK(wrong.code == 2);
    CHECK(has(wrong.err, "did you mean alerts"));
    CHECK(call({"inspect", file, "--form", "sarif", "--profile", "full"}).out ==
          call({"inspect", file, "--form", "sarif"}).out);
}

TEST_CASE("mistakes in an input stand in the log, with their places") {
    const Folder folder;
    const std::string bad = folder.write("a b.toml", broken);
    const Outcome run = call({"inspect", bad, "--form", "sarif"});
    CHECK(run.code == 2);
    check_log(run.out);
    const json whole = json::parse(run.out);
    const json& log = whole["runs"][0];
    CHECK_FALSE(log.contains("results"));  // nothing was analysed: not the same as nothing found
    const json& invocation = log["invocations"][0];
    CHECK(invocation["executionSuccessful"] == false);
    CHECK(invocation["exitCode"] == 2);
    const json& told = invocation["toolExecutionNotifications"];
    REQUIRE(told.size() >= 3);
    CHECK(told[0]["level"] == "error");
    CHECK(told[0]["locations"][0]["physicalLocation"]["region"]["startLine"] == 2);
    CHECK(has(uri_of(told[0]["locations"][0]["physicalLocation"]), "a%20b.toml"));

    const Outcome mixed = call({"inspect", bad, folder.write("c.toml", failing), "--form", "sarif"});
    CHECK(mixed.code == 2);
    check_log(mixed.out);
    const json both = json::parse(mixed.out);
    CHECK_FALSE(results_of(both).empty());
    CHECK(both["runs"][0]["invocations"][0]["executionSuccessful"] == false);
}

TEST_CASE("an item that is not there is a mistake of the call") {
    const Folder folder;
    const Outcome run =
        call({"inspect", folder.write("a.toml", failing), "--form", "sarif", "--item", "nobody"});
    CHECK(run.code == 2);
    check_log(run.out);
}

TEST_CASE("logs of all descriptions in specs keep the rules of the format") {
    namespace files = std::filesystem;
    std::vector<std::string> paths;
    for (const auto& entry : files::recursive_directory_iterator(PACKPROOF_SOURCE_DIR "/specs"))
        if (entry.path().extension() == ".toml" && entry.path().stem().extension() != ".readings" &&
            entry.path().stem().extension() != ".concessions" &&
            entry.path().parent_path().filename() != "parts")
            paths.push_back(entry.path().string());
    REQUIRE(paths.size() > 10);
    std::vector<std::string> arguments{"inspect", "--form", "sarif", "--library",
                                       PACKPROOF_SOURCE_DIR "/specs"};
    arguments.insert(arguments.end(), paths.begin(), paths.end());
    const Outcome run = call_with_real_rules(arguments);
    CHECK(run.code == 1);
    check_log(run.out);
    const json log = json::parse(run.out);
    CHECK(log["runs"][0]["properties"]["descriptions"].size() == paths.size());
    for (const char* part : {"relatedLocations", "codeFlows", "fixes", "analysisTarget"}) {
        const auto& results = results_of(log);
        CHECK_MESSAGE(std::any_of(results.begin(), results.end(),
                                  [&](const json& result) { return result.contains(part); }),
                      part);
    }
    for (const json& rule : log["runs"][0]["tool"]["driver"]["rules"]) {
        CHECK(rule.contains("shortDescription"));
        CHECK(rule.contains("fullDescription"));
        CHECK(has(rule["help"]["text"].get<std::string>(), "Demands: "));
    }
}

TEST_CASE("every fix, made in the file, clears its finding") {
    namespace files = std::filesystem;
    const Folder folder;
    std::size_t made = 0;
    for (const std::string name : {"faulty-breaker-too-large-for-the-cable", "faulty-posts-overtightened",
                                   "faulty-loom-a-size-too-small", "faulty-stack-longer-than-the-case",
                                   "faulty-breaker-below-the-fault-current"}) {
        const std::string place = folder.path(name);
        files::copy(PACKPROOF_SOURCE_DIR "/specs/cabin", place, files::copy_options::recursive);
        const std::string file = place + "/" + name + ".toml";
        const std::vector<std::string> arguments{"inspect", "--form", "sarif", file};
        const json before = json::parse(call_with_real_rules(arguments).out);
        for (const json& result : results_of(before))
            for (const json& fix : result.value("fixes", json::array())) {
                const json& change = fix["artifactChanges"][0];
                const std::string uri = uri_of(change);  // the folder's name needs no percent
                const std::string changed = uri.starts_with("file://") ? uri.substr(7) : uri;
                const std::string old = read(changed);
                apply(changed, change["replacements"][0]);
                const Outcome run = call_with_real_rules(arguments);
                const std::string what =
                    result["ruleId"].get<std::string>() + " on " +
                    result["locations"][0]["logicalLocations"][0]["name"].get<std::string>();
                CAPTURE(name);
                CAPTURE(fix["description"]["text"].get<std::string>());
                CHECK(run.err.empty());
                if (!run.err.empty()) continue;
                const auto still = failing_checks(json::parse(run.out));
                CHECK_MESSAGE(std::find(still.begin(), still.end(), what) == still.end(), what);
                ++made;
                std::ofstream(changed, std::ios::binary | std::ios::trunc) << old;
            }
    }
    CHECK(made >= 5);
}
