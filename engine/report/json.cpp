#include "engine/report/json.hpp"

#include <array>
#include <cmath>
#include <nlohmann/json.hpp>
#include <optional>

#include "engine/inspect/compare.hpp"
#include "engine/report/json_text.hpp"
#include "engine/report/words.hpp"

namespace packproof::report {

namespace {

using inspect::Finding;
using inspect::Report;
using inspect::Verdict;
using Json = nlohmann::ordered_json;

Json number_or_null(double x) {
    return std::isfinite(x) ? Json(x) : Json(nullptr);
}

Json shown_json(const inspect::Shown& shown) {
    Json json{{"text", shown.text}, {"number", nullptr}};
    if (shown.is_number)
        json["number"] = Json{{"low", number_or_null(shown.low)},
                              {"high", number_or_null(shown.high)},
                              {"unit", shown.si_unit}};
    return json;
}

Json wanted_json(const inspect::Wanted& wanted) {
    return Json{{"text", wanted.text},
                {"ask", wanted.ask},
                {"asked", wanted.asked},
                {"note", wanted.note},
                {"answered_by", std::string(answerer_name(wanted))}};
}

Json working_json(const Finding& finding) {
    Json steps = Json::array();
    for (const auto& step : finding.working)
        steps.push_back(Json{{"name", step.name},
                             {"formula", step.formula},
                             {"numbers", step.numbers},
                             {"result", step.result}});
    return steps;
}

Json clears_json(const Finding& finding) {
    Json remedies = Json::array();
    for (const auto& remedy : finding.clears)
        remedies.push_back(Json{{"text", remedy.text}, {"value", shown_json(remedy.value)}});
    return remedies;
}

Json basis_json(const Finding& finding) {
    Json basis = Json::array();
    for (const auto& authority : finding.basis)
        basis.push_back(Json{{"document", authority.document},
                             {"clause", authority.clause},
                             {"note", authority.note},
                             {"status", std::string(rules::status_name(authority.status))}});
    return basis;
}

void add_place(Json& json, const Finding& finding, const Report& report, const text::Sources& sources) {
    const auto source = finding.place.source;
    if (!sources.holds(source)) {
        json["file"] = report.file;
        json["line"] = nullptr;
        json["column"] = nullptr;
        return;
    }
    const text::Place place = sources.place(source, finding.place.begin);
    json["file"] = std::string(sources.path(source));
    json["line"] = place.line;
    json["column"] = place.column;
}

// Where each finding of one report stands in the list of the run; empty for those that are not listed.
using Positions = std::vector<std::optional<std::size_t>>;

Positions positions_of(const Report& report, std::size_t first, const Options& options) {
    Positions positions(report.findings.size());
    for (std::size_t i = 0; i < positions.size(); ++i)
        if (options.all || report.findings[i].verdict != Verdict::conforms) positions[i] = first++;
    return positions;
}

void add_links(Json& json, const Finding& finding, const Positions& positions) {
    json["cause"] = nullptr;
    if (finding.cause && *finding.cause < positions.size() && positions[*finding.cause])
        json["cause"] = *positions[*finding.cause];
    json["consequences"] = Json::array();
    for (const std::size_t index : finding.consequences)
        if (index < positions.size() && positions[index]) json["consequences"].push_back(*positions[index]);
}

void add_standing(Json& json, const Finding& finding) {
    json["conceded"] = finding.conceded;
    json["concession"] = nullptr;
    if (finding.concession) json["concession"] = *finding.concession;
    json["counts"] = finding.counts();
    json["change"] = nullptr;
    if (finding.change) {
        static constexpr std::array<std::string_view, 3> names{"unchanged", "changed", "new"};
        json["change"] = names[static_cast<std::size_t>(*finding.change)];
        json["worse"] = finding.worse;
        json["before"] = finding.before;
    }
}

Json finding_json(const Finding& finding, const Report& report, const text::Sources& sources,
                  const Positions& positions) {
    Json json{{"description", inspect::name_of(report)},
              {"rule", finding.rule_name},
              {"class", std::string(rules::class_name(finding.rule_class))},
              {"verdict", std::string(rules::verdict_name(finding.verdict))},
              {"item", finding.item_name},
              {"kind", finding.kind_name}};
    add_place(json, finding, report, sources);
    json["at_once"] = finding.at_once;
    json["asks"] = finding.asks;
    json["because"] = finding.because;
    json["subject"] = finding.subject;
    json["has"] = shown_json(finding.has);
    json["origin"] = finding.origin;
    json["relation"] = finding.relation;
    json["needs"] = shown_json(finding.needs);
    json["needs_text"] = finding.needs_text;
    json["by"] = finding.by;
    json["working"] = working_json(finding);
    json["clears"] = clears_json(finding);
    json["advice"] = finding.advice;
    json["shows"] = finding.shows;
    json["decides"] = finding.decides;
    json["wanted"] = Json::array();
    for (const auto& wanted : finding.wanted)
        json["wanted"].push_back(wanted_json(wanted));
    json["rests_on"] = finding.rests_on;
    json["basis"] = basis_json(finding);
    json["caution"] = finding.caution;
    add_standing(json, finding);
    add_links(json, finding, positions);
    return json;
}

Json concessions_json(const Report& report, const text::Sources& sources) {
    Json list = Json::array();
    for (const inspect::Concession& one : report.concessions) {
        Json json{{"id", one.id},         {"honoured", one.honoured}, {"refused_by", one.refused_by},
                  {"rule", one.rule},     {"item", one.item_name},    {"reason", one.reason},
                  {"by", one.by},         {"second", one.second},     {"until", one.until},
                  {"limits", one.limits}, {"file", nullptr},          {"line", nullptr}};
        if (one.place.source != text::no_source && one.place.source < sources.size()) {
            json["file"] = std::string(sources.path(one.place.source));
            json["line"] = sources.place(one.place.source, one.place.begin).line;
        }
        list.push_back(std::move(json));
    }
    return list;
}

Json relaxed_json(const Report& report) {
    Json list = Json::array();
    for (const auto& one : report.relaxed)
        list.push_back(Json{{"rule", one.rule_name},
                            {"active", one.active},
                            {"class", std::string(rules::class_name(one.rule_class))},
                            {"reason", one.reason},
                            {"by", one.by}});
    return list;
}

Json comparison_json(const Report& report) {
    if (!report.comparison) return nullptr;
    const inspect::Comparison& since = *report.comparison;
    Json json{
        {"report", since.earlier},
        {"description", since.earlier_file.empty() ? Json() : Json(since.earlier_file)},
        {"rules", Json{{"version", since.earlier_rules_version}, {"digest", since.earlier_rules_digest}}},
        {"new", since.arrived},
        {"changed", since.changed},
        {"unchanged", since.unchanged},
        {"gone", Json::array()}};
    for (const auto& gone : since.gone)
        json["gone"].push_back(Json{{"rule", gone.rule_name},
                                    {"kind", gone.kind_name},
                                    {"item", gone.item_name},
                                    {"subject", gone.subject},
                                    {"class", std::string(rules::class_name(gone.rule_class))},
                                    {"verdict", std::string(rules::verdict_name(gone.verdict))}});
    return json;
}

Json coverage_json(const inspect::Coverage& coverage) {
    return Json{{"applicable", coverage.applicable},
                {"conforming", coverage.conforming},
                {"failing", coverage.failing},
                {"undecided", coverage.undecided},
                {"not_stated", coverage.not_stated},
                {"conceded", coverage.conceded},
                {"not_applicable", coverage.not_applicable}};
}

Json next_json(const Report& report) {
    Json list = Json::array();
    for (const auto& next : report.next) {
        Json json = wanted_json(next.value);
        json["checks"] = next.rules;
        json["weight"] = number_or_null(next.weight);
        json["rules"] = next.rule_names;
        list.push_back(std::move(json));
    }
    return list;
}

Json file_json(const Report& report, const text::Sources& sources) {
    Json json{{"file", report.file},
              {"name", inspect::name_of(report)},
              {"title", report.title},
              {"digest", report.input_digest},
              {"verdict", verdict_sentence(report)},
              {"coverage", coverage_json(report.coverage)},
              {"next", next_json(report)}};
    json["assumptions"] = Json::array();
    for (const auto& assumption : report.assumptions)
        json["assumptions"].push_back(Json{{"text", assumption.text}, {"basis", assumption.basis}});
    json["chosen"] = report.chosen;
    if (!report.overlays.empty()) json["overlays"] = report.overlays;
    json["tried"] = report.tried;
    json["concessions"] = concessions_json(report, sources);
    json["judged_on"] = report.judged_on;
    json["critical_rules_changed"] = relaxed_json(report);
    json["since"] = comparison_json(report);
    return json;
}

Json rules_json(std::span<const Report> reports) {
    if (reports.empty()) return nullptr;
    return Json{{"version", reports.front().rules_version}, {"digest", reports.front().rules_digest}};
}

}  // namespace

std::string print_json(std::span<const Report> reports, const text::Sources& sources,
                       const Options& options) {
    Json files = Json::array();
    Json findings = Json::array();
    for (const Report& report : reports) {
        files.push_back(file_json(report, sources));
        const Positions positions = positions_of(report, findings.size(), options);
        for (std::size_t i = 0; i < positions.size(); ++i)
            if (positions[i])
                findings.push_back(finding_json(report.findings[i], report, sources, positions));
    }
    Json run{{"form", "packproof-report"},
             {"version", json_form_version},
             {"complete", options.not_inspected.empty()},
             {"not_inspected", options.not_inspected},
             {"rules", rules_json(reports)}};
    run["files"] = std::move(files);
    run["findings"] = std::move(findings);
    run["caution"] = std::string(inspect::general_caution());
    return escape_invisible(run.dump(2, ' ', false, Json::error_handler_t::replace)) + "\n";
}

}  // namespace packproof::report
