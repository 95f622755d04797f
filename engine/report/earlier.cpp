#include "engine/report/earlier.hpp"

#include <fmt/format.h>

#include <map>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "engine/report/json.hpp"

namespace packproof::report {

namespace {

using inspect::EarlierFinding;
using inspect::EarlierReport;
using Json = nlohmann::json;

// Thrown and caught in this file: a report is used whole or not at all.
struct Unusable : std::runtime_error {
    using std::runtime_error::runtime_error;
};

const Json& member(const Json& object, const char* name) {
    if (!object.is_object() || !object.contains(name)) throw Unusable(fmt::format("it has no \"{}\"", name));
    return object.at(name);
}

std::string text_of(const Json& object, const char* name) {
    const Json& value = member(object, name);
    if (!value.is_string()) throw Unusable(fmt::format("\"{}\" is no text", name));
    return value.get<std::string>();
}

const Json& list_of(const Json& object, const char* name) {
    const Json& value = member(object, name);
    if (!value.is_array()) throw Unusable(fmt::format("\"{}\" is no list", name));
    return value;
}

// A value as shown_json wrote it; an end that is null has no bound.
inspect::Shown shown_of(const Json& json, const char* name) {
    const Json& value = member(json, name);
    inspect::Shown shown;
    shown.text = text_of(value, "text");
    const Json& number = member(value, "number");
    if (number.is_null()) return shown;
    const Json& low = member(number, "low");
    const Json& high = member(number, "high");
    shown.is_number = low.is_number() && high.is_number();
    if (!shown.is_number) return shown;
    shown.low = low.get<double>();
    shown.high = high.get<double>();
    shown.si_unit = text_of(number, "unit");
    return shown;
}

// A line or column; 0 where there is none that could be one.
std::size_t place_of(const Json& json, const char* name) {
    const auto found = json.find(name);
    if (found == json.end() || !found->is_number_unsigned()) return 0;
    const auto place = found->get<std::uint64_t>();
    return place <= 0x7fffffffU ? static_cast<std::size_t>(place) : 0;
}

EarlierFinding finding_of(const Json& json) {
    EarlierFinding finding;
    finding.rule_name = text_of(json, "rule");
    finding.kind_name = text_of(json, "kind");
    finding.item_name = text_of(json, "item");
    finding.subject = text_of(json, "subject");
    const std::string class_word = text_of(json, "class");
    const std::string verdict_word = text_of(json, "verdict");
    const auto rule_class = rules::read_class(class_word);
    const auto verdict = rules::read_verdict(verdict_word);
    if (!rule_class) throw Unusable(fmt::format("there is no class \"{}\"", class_word));
    if (!verdict) throw Unusable(fmt::format("there is no verdict \"{}\"", verdict_word));
    finding.rule_class = *rule_class;
    finding.verdict = *verdict;
    finding.has = shown_of(json, "has");
    finding.needs = shown_of(json, "needs");
    finding.conceded = json.value("conceded", false);
    finding.file = text_of(json, "file");
    finding.line = place_of(json, "line");
    finding.column = place_of(json, "column");
    finding.counted = json.value("counts", !finding.conceded);
    return finding;
}

EarlierReport report_of(const Json& file) {
    EarlierReport report;
    report.files.push_back(text_of(file, "file"));
    report.name = file.contains("name") ? text_of(file, "name") : report.files.front();
    report.title = text_of(file, "title");
    report.digest = text_of(file, "digest");
    if (!file.contains("overlays")) return report;
    for (const Json& overlay : list_of(file, "overlays")) {
        if (!overlay.is_string()) throw Unusable("\"overlays\" names something that is no file");
        report.files.push_back(overlay.get<std::string>());
    }
    return report;
}

std::vector<EarlierReport> reports_of(const Json& json) {
    if (!json.is_object() || json.value("form", Json()) != "packproof-report")
        throw Unusable("it is no report in the form json of packproof");
    const Json& version = member(json, "version");
    if (!version.is_number_integer() || version > json_form_version || version < 1)
        throw Unusable(fmt::format("its version is not one of 1 to {}", json_form_version));
    std::vector<EarlierReport> reports;
    const Json& rules = member(json, "rules");
    std::map<std::string, std::size_t> by_name;  // of several alike the first
    for (const Json& file : list_of(json, "files")) {
        EarlierReport& report = reports.emplace_back(report_of(file));
        by_name.emplace(report.name, reports.size() - 1);
        if (rules.is_object()) {
            report.rules_version = text_of(rules, "version");
            report.rules_digest = text_of(rules, "digest");
        }
    }
    for (const Json& one : list_of(json, "findings")) {
        EarlierFinding finding = finding_of(one);
        const std::string name = text_of(one, "description");
        const auto report = by_name.find(name);
        if (report == by_name.end())
            throw Unusable(fmt::format("it has a finding on {}, which is not among its files", name));
        if (finding.verdict != inspect::Verdict::conforms)
            reports[report->second].findings.push_back(std::move(finding));
    }
    return reports;
}

}  // namespace

std::variant<std::vector<EarlierReport>, std::string> read_earlier(std::string_view json) {
    try {
        return reports_of(Json::parse(json));
    } catch (const Unusable& why) {
        return std::string(why.what());
    } catch (const Json::exception&) {
        return std::string("it is no JSON, or a value in it is of the wrong kind");
    }
}

}  // namespace packproof::report
