#include "engine/report/sarif.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <deque>
#include <map>
#include <nlohmann/json.hpp>

#include "engine/report/json_text.hpp"
#include "engine/report/sarif_artifacts.hpp"
#include "engine/report/sarif_json.hpp"
#include "engine/report/sarif_place.hpp"
#include "engine/report/sarif_words.hpp"
#include "engine/report/toml_text.hpp"
#include "engine/report/words.hpp"
#include "engine/text/digest.hpp"

namespace packproof::report {

namespace {

using inspect::Class;
using inspect::Finding;
using inspect::Report;
using inspect::Verdict;
using Json = nlohmann::ordered_json;

bool is_told(const Finding& finding, const Options& options) {
    if (options.profile == Profile::alerts) return finding.verdict == Verdict::fails && finding.counts();
    return options.all || finding.verdict != Verdict::conforms;
}

Json shown_json(const inspect::Shown& shown) {
    Json json{{"text", shown.text}};
    if (!shown.is_number) return json;
    if (std::isfinite(shown.low)) json["low"] = shown.low;
    if (std::isfinite(shown.high)) json["high"] = shown.high;
    json["unit"] = shown.si_unit;
    return json;
}

// The working and what stands behind the message, for programs.
Json properties_of(const Finding& finding) {
    Json json{{"class", rules::class_name(finding.rule_class)},
              {"verdict", rules::verdict_name(finding.verdict)},
              {"subject", finding.subject},
              {"has", shown_json(finding.has)},
              {"needs", shown_json(finding.needs)},
              {"working", Json::array()},
              {"restsOn", finding.rests_on},
              {"basis", Json::array()},
              {"wanted", Json::array()},
              {"caution", finding.caution}};
    for (const auto& step : finding.working)
        json["working"].push_back(Json{{"name", step.name},
                                       {"formula", step.formula},
                                       {"numbers", step.numbers},
                                       {"result", step.result}});
    for (const auto& authority : finding.basis)
        json["basis"].push_back(rules::print_authority(authority));
    for (const auto& wanted : finding.wanted)
        json["wanted"].push_back(Json{{"text", wanted.text}, {"ask", wanted.ask}, {"asked", wanted.asked}});
    return json;
}

// Each remedy that is one value in place of another.
Json fixes_of(const Finding& finding, const text::Sources& sources, Artifacts& artifacts) {
    Json fixes = Json::array();
    for (const auto& remedy : finding.clears) {
        if (!has_place(remedy.span, sources)) continue;
        const std::string_view bytes = sources.bytes(remedy.span.source);
        if (remedy.span.end <= remedy.span.begin || remedy.span.end > bytes.size()) continue;
        const std::string_view old = bytes.substr(remedy.span.begin, remedy.span.end - remedy.span.begin);
        Json place = place_json(remedy.span, sources, artifacts);
        for (const std::string& value : remedy.writes) {
            Json replacement{{"deletedRegion", place["region"]},
                             {"insertedContent", Json{{"text", toml_value(value, old)}}}};
            Json change{{"artifactLocation", place["artifactLocation"]},
                        {"replacements", Json::array({std::move(replacement)})}};
            fixes.push_back(Json{{"description", message_json(remedy.text)},
                                 {"artifactChanges", Json::array({std::move(change)})}});
        }
    }
    return fixes;
}

// Inputs, where they are written, and then the working step by step.
Json code_flow_of(const Finding& finding, const std::vector<inspect::Elsewhere>& places,
                  const text::Sources& sources, Artifacts& artifacts) {
    Json steps = Json::array();
    for (const auto& place : places)
        steps.push_back(
            Json{{"location", Json{{"physicalLocation", place_json(place.span, sources, artifacts)},
                                   {"message", message_json(place.text)}}},
                 {"kinds", Json::array({"acquire", "value"})},
                 {"importance", "important"}});
    for (const auto& step : finding.working)
        steps.push_back(Json{{"location", Json{{"message", message_json(step_words(step))}}},
                             {"kinds", Json::array({"value"})},
                             {"importance", step.detail ? "unimportant" : "essential"}});
    return Json{{"threadFlows", Json::array({Json{{"locations", std::move(steps)}}})}};
}

class Results {
  public:
    Results(const text::Sources& sources, const Options& options, Artifacts& artifacts)
        : sources_(sources), options_(options), artifacts_(artifacts) {}

    void add(std::span<const Report> reports) {
        // On all results or on none (3.27.23): where there is no concession, nobody looked at them.
        suppresses_ = std::any_of(reports.begin(), reports.end(),
                                  [](const Report& report) { return !report.concessions.empty(); });
        for (const Report& report : reports)
            for (const Finding& finding : report.findings)
                if (is_told(finding, options_)) rules_.try_emplace(finding.rule_name, &finding);
        for (const Report& report : reports)
            if (report.comparison)
                for (const inspect::Gone& gone : report.comparison->gone) {
                    gone_.push_back(finding_of(gone));
                    rules_.try_emplace(gone.rule_name, &gone_.back());
                }
        for (const Report& report : reports)
            for (const Finding& finding : report.findings)
                if (is_told(finding, options_)) list_.push_back(result(finding, report));
        for (const Report& report : reports)
            if (report.comparison)
                for (const inspect::Gone& gone : report.comparison->gone)
                    list_.push_back(absent(gone, report));
    }

    [[nodiscard]] const Json& list() const { return list_; }

    /// Those that the results are of, by name.
    [[nodiscard]] Json rules() const {
        Json list = Json::array();
        for (const auto& [name, finding] : rules_)
            list.push_back(rule(name, rule_words(*finding, options_.rules)));
        return list;
    }

  private:
    static Json rule(const std::string& name, const RuleWords& words) {
        Json json{{"id", name}};
        if (!words.asks.empty()) json["shortDescription"] = message_json(words.asks);
        if (!words.because.empty()) json["fullDescription"] = message_json(words.because);
        const SarifWords help = help_words(words);
        if (!help.text.empty()) json["help"] = words_json(help);
        json["defaultConfiguration"] = Json{{"level", level_of(words.rule_class)}};
        json["properties"] = Json{{"class", rules::class_name(words.rule_class)},
                                  {"appliesTo", words.kinds},
                                  {"stopsWork", words.at_once},
                                  {"since", words.since},
                                  {"tags", Json::array({rules::class_name(words.rule_class)})}};
        return json;
    }

    static Finding finding_of(const inspect::Gone& gone) {
        Finding finding;
        finding.rule_name = gone.rule_name;
        finding.kind_name = gone.kind_name;
        finding.item_name = gone.item_name;
        finding.subject = gone.subject;
        finding.rule_class = gone.rule_class;
        finding.verdict = gone.verdict;
        return finding;
    }

    Json location(const Finding& finding, const Report& report) {
        Json place = has_place(finding.place, sources_)
                         ? place_json(finding.place, sources_, artifacts_)
                         : Json{{"artifactLocation", file_json(report.file, artifacts_)}};
        Json json{{"physicalLocation", std::move(place)}};
        add_item(finding, json);
        return json;
    }

    static void add_item(const Finding& finding, Json& json) {
        if (finding.item_name.empty()) return;
        Json item{{"name", finding.item_name},
                  {"fullyQualifiedName", finding.kind_name + "." + finding.item_name}};
        if (!finding.kind_name.empty()) item["kind"] = finding.kind_name;
        json["logicalLocations"] = Json::array({std::move(item)});
    }

    // Where a finding stood in the earlier report: its place in the description, else its item alone.
    Json earlier_location(const inspect::Gone& gone, const Report& report) {
        const bool in_description = gone.file == report.comparison->earlier_file;
        Json json = Json::object();
        if (in_description && gone.line > 0 && gone.column > 0)
            json["physicalLocation"] =
                Json{{"artifactLocation", file_json(report.file, artifacts_)},
                     {"region", Json{{"startLine", gone.line}, {"startColumn", gone.column}}}};
        add_item(finding_of(gone), json);
        return json;
    }

    // Of the earlier report and not there any more (3.27.24).
    Json absent(const inspect::Gone& gone, const Report& report) {
        const Finding was = finding_of(gone);
        const auto rule = rules_.find(gone.rule_name);
        const bool failed = gone.verdict == Verdict::fails;
        const std::string words = fmt::format("Gone since {}: {} {}", report.comparison->earlier,
                                              gone.item_name.empty() ? gone.kind_name : gone.item_name,
                                              failed ? "failed." : "was undecided.");
        Json json{{"ruleId", gone.rule_name},
                  {"ruleIndex", std::distance(rules_.begin(), rule)},
                  {"kind", kind_of(gone.verdict)},
                  {"level", failed ? level_of(gone.rule_class) : "none"},
                  {"message", message_json(words)},
                  {"locations", Json::array({earlier_location(gone, report)})},
                  {"partialFingerprints", Json{{"ruleItemSubject/v1", fingerprint(was, report)}}}};
        if (suppresses_) json["suppressions"] = Json::array();
        json["baselineState"] = "absent";
        return json;
    }

    std::string fingerprint(const Finding& finding, const Report& report) {
        text::Digest digest;
        for (const std::string& part : {file_uri(report.file, options_.folder).uri, finding.rule_name,
                                        finding.kind_name, finding.item_name, finding.subject})
            digest.add(part);
        for (const std::string& overlay : report.overlays)
            digest.add(file_uri(overlay, options_.folder).uri);
        const std::string print = digest.print();
        const std::size_t count = ++seen_[print];
        return count == 1 ? print : fmt::format("{}:{}", print, count);
    }

    /// A permission as a reviewer gave it; one that is not honoured is told as refused.
    Json suppressions_of(const Finding& finding, const Report& report) {
        Json list = Json::array();
        if (!finding.concession) return list;
        const inspect::Concession& one = report.concessions[*finding.concession];
        Json json{{"kind", "external"},
                  {"status", one.honoured ? "accepted" : "rejected"},
                  {"justification", concession_words(one)}};
        if (has_place(one.place, sources_))
            json["location"] = Json{{"physicalLocation", place_json(one.place, sources_, artifacts_)}};
        list.push_back(std::move(json));
        return list;
    }

    Json result(const Finding& finding, const Report& report) {
        const bool fails = finding.verdict == Verdict::fails;
        const auto places = related_places(finding, report, sources_);
        std::vector<std::string> links;
        for (const auto& place : places)
            links.push_back(place.text);
        const auto rule = rules_.find(finding.rule_name);
        Json json{{"ruleId", finding.rule_name},
                  {"ruleIndex", std::distance(rules_.begin(), rule)},
                  {"kind", kind_of(finding.verdict)},
                  {"level", fails ? level_of(finding.rule_class) : "none"},
                  {"message", words_json(finding_words(finding, report, links))}};
        Json place = location(finding, report);
        const Json target = file_json(report.file, artifacts_);
        if (place["physicalLocation"]["artifactLocation"] != target) json["analysisTarget"] = target;
        json["locations"] = Json::array({std::move(place)});
        Json related = Json::array();
        for (const auto& other : places)
            related.push_back(Json{{"id", related.size() + 1},
                                   {"physicalLocation", place_json(other.span, sources_, artifacts_)},
                                   {"message", message_json(other.text)}});
        if (!related.empty()) json["relatedLocations"] = std::move(related);
        if (!finding.working.empty())
            json["codeFlows"] = Json::array({code_flow_of(finding, places, sources_, artifacts_)});
        json["partialFingerprints"] = Json{{"ruleItemSubject/v1", fingerprint(finding, report)}};
        Json fixes = fails ? fixes_of(finding, sources_, artifacts_) : Json::array();
        if (!fixes.empty()) json["fixes"] = std::move(fixes);
        if (suppresses_) json["suppressions"] = suppressions_of(finding, report);
        if (finding.change) {
            static constexpr std::array<std::string_view, 3> states{"unchanged", "updated", "new"};
            json["baselineState"] = states[static_cast<std::size_t>(*finding.change)];
        }
        json["properties"] = properties_of(finding);
        json["properties"]["counts"] = finding.counts();
        return json;
    }

    const text::Sources& sources_;
    const Options& options_;
    Artifacts& artifacts_;
    std::map<std::string, const Finding*> rules_;
    std::map<std::string, std::size_t> seen_;
    std::deque<Finding> gone_;  // stay where they are: rules_ points to them
    bool suppresses_ = false;
    Json list_ = Json::array();
};

Json notification(std::string_view level, std::string_view words, Json location) {
    Json json{{"level", level}, {"message", message_json(words)}};
    if (!location.is_null()) json["locations"] = Json::array({std::move(location)});
    return json;
}

Json notifications_of(const text::Sources& sources, const Options& options, Artifacts& artifacts) {
    Json list = Json::array();
    for (const text::Message& message : options.messages) {
        std::string_view level = "error";
        if (message.severity == text::Severity::warning) level = "warning";
        if (message.severity == text::Severity::note) level = "note";
        Json location;
        if (has_place(message.span, sources))
            location = Json{{"physicalLocation", place_json(message.span, sources, artifacts)}};
        const std::string words = message.hint.empty() ? message.text : message.text + "; " + message.hint;
        list.push_back(notification(level, words, std::move(location)));
    }
    for (const std::string& file : options.not_inspected) {
        artifacts.add_target(file);
        list.push_back(
            notification("error", "This file was not inspected: its input has errors.",
                         Json{{"physicalLocation", Json{{"artifactLocation", file_json(file, artifacts)}}}}));
    }
    return list;
}

Json invocation_of(Json notifications, std::span<const Report> reports, const Options& options) {
    const bool complete = std::none_of(notifications.begin(), notifications.end(),
                                       [](const Json& one) { return one["level"] == "error"; });
    Json json{{"executionSuccessful", complete}};
    if (options.exit_code) {
        json["exitCode"] = *options.exit_code;
        json["exitCodeDescription"] = *options.exit_code == 0   ? "nothing fails at or above the gate"
                                      : *options.exit_code == 1 ? "something fails at or above the gate"
                                                                : "an input is wrong";
    }
    if (!reports.empty()) {
        // All reports of a run are made by the same rules.
        Json list = Json::array();
        for (const inspect::Relaxed& one : reports.front().relaxed)
            list.push_back(notification("warning", "Rule relaxed: " + relaxed_words(one), {}));
        if (!list.empty()) json["toolConfigurationNotifications"] = std::move(list);
    }
    json["toolExecutionNotifications"] = std::move(notifications);
    return json;
}

Json properties_of_run(std::span<const Report> reports) {
    Json json{{"caution", inspect::general_caution()}, {"descriptions", Json::array()}};
    if (!reports.empty()) json["rulesDigest"] = reports.front().rules_digest;
    for (const Report& report : reports) {
        const auto& coverage = report.coverage;
        Json one{{"file", report.file},
                 {"title", report.title},
                 {"digest", report.input_digest},
                 {"verdict", verdict_sentence(report)},
                 {"coverage", Json{{"applicable", coverage.applicable},
                                   {"conforming", coverage.conforming},
                                   {"failing", coverage.failing},
                                   {"undecided", coverage.undecided},
                                   {"notStated", coverage.not_stated},
                                   {"conceded", coverage.conceded},
                                   {"notApplicable", coverage.not_applicable}}},
                 {"assumptions", Json::array()},
                 {"chosen", report.chosen},
                 {"tried", report.tried}};
        for (const auto& assumption : report.assumptions)
            one["assumptions"].push_back(Json{{"text", assumption.text}, {"basis", assumption.basis}});
        json["descriptions"].push_back(std::move(one));
    }
    return json;
}

}  // namespace

std::string print_sarif(std::span<const Report> reports, const text::Sources& sources,
                        const Options& options) {
    Artifacts artifacts(sources, options.folder);
    for (const Report& report : reports)
        artifacts.add_target(report.file);
    Results results(sources, options, artifacts);
    results.add(reports);
    Json notifications = notifications_of(sources, options, artifacts);

    const std::string version(inspect::rule_set_version());
    Json driver{{"name", "packproof"},
                {"version", version},
                {"semanticVersion", version},
                {"rules", results.rules()}};
    Json run{{"tool", Json{{"driver", std::move(driver)}}},
             {"automationDetails",
              Json{{"id", options.profile == Profile::alerts ? "packproof/alerts/" : "packproof/full/"}}},
             {"invocations", Json::array({invocation_of(std::move(notifications), reports, options)})},
             {"originalUriBaseIds",
              Json{{std::string(sarif_base),
                    Json{{"description", message_json("The folder in which the program was called.")}}}}},
             {"artifacts", artifacts_json(artifacts, sources)},
             {"columnKind", "unicodeCodePoints"},
             {"defaultEncoding", "utf-8"},
             {"language", "en"}};
    if (!reports.empty()) run["results"] = results.list();
    run["properties"] = properties_of_run(reports);
    const Json log{{"$schema", sarif_schema}, {"version", "2.1.0"}, {"runs", Json::array({std::move(run)})}};
    return escape_invisible(log.dump(2, ' ', false, Json::error_handler_t::replace)) + "\n";
}

}  // namespace packproof::report
