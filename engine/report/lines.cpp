#include "engine/report/lines.hpp"

#include <fmt/format.h>

#include "engine/report/words.hpp"
#include "engine/text/safe_print.hpp"

namespace packproof::report {

namespace {

using inspect::Class;
using inspect::Finding;
using inspect::Report;
using inspect::Verdict;

std::string_view severity_of(const Finding& finding) {
    if (is_consequence(finding) || !finding.counts() || finding.rule_class == Class::observation)
        return "note";
    if (finding.verdict == Verdict::undecided) return "warning";
    if (finding.verdict != Verdict::fails) return "note";
    return finding.rule_class == Class::minor ? "warning" : "error";
}

std::string place_of(const Finding& finding, const Report& report, const text::Sources& sources) {
    const auto source = finding.place.source;
    if (!sources.holds(source)) return text::safe_print(report.file);
    const text::Place place = sources.place(source, finding.place.begin);
    return fmt::format("{}:{}:{}", text::safe_print(sources.path(source)), place.line, place.column);
}

std::string wanted_of(const Finding& finding) {
    std::string words;
    for (const auto& wanted : finding.wanted)
        words += (words.empty() ? "" : ", ") + wanted.text;
    return words;
}

std::string message_of(const Finding& finding, const Report& report) {
    std::string words = fmt::format("{} {}: {}", rules::class_name(finding.rule_class),
                                    rules::verdict_name(finding.verdict), item_words(finding));
    const std::string has = has_words(finding);
    if (!has.empty()) words += ": has " + has;
    const std::string needs = needs_words(finding);
    if (!needs.empty()) words += (has.empty() ? ": needs " : "; needs ") + needs;
    const std::string wanted = wanted_of(finding);
    if (!wanted.empty()) words += ": waits for " + wanted;
    if (!finding.decides.empty()) words += "; decided by " + finding.decides;
    if (finding.cause && *finding.cause < report.findings.size())
        words += "; follows from " + report.findings[*finding.cause].rule_name;
    if (finding.concession)
        words += (finding.conceded ? "; conceded by " : "; not conceded by ") +
                 concession_words(report.concessions[*finding.concession]);
    if (finding.announced) words += "; the rule counts from a later release on";
    if (finding.change) words += "; " + change_words(finding);
    return words;
}

bool is_shown(const Finding& finding, const Options& options) {
    return options.all || finding.verdict == Verdict::fails || finding.verdict == Verdict::undecided;
}

}  // namespace

std::string print_lines(std::span<const Report> reports, const text::Sources& sources,
                        const Options& options) {
    std::string lines;
    if (!reports.empty())  // once: the rules of one run are the same
        for (const inspect::Relaxed& one : reports.front().relaxed)
            lines += fmt::format("rules: warning: relaxed: {} [{}]\n", text::safe_print(relaxed_words(one)),
                                 text::safe_print(one.rule_name));
    for (const Report& report : reports)
        for (const Finding& finding : report.findings) {
            if (!is_shown(finding, options)) continue;
            lines += fmt::format("{}: {}: {} [{}]\n", place_of(finding, report, sources),
                                 severity_of(finding), text::safe_print(message_of(finding, report)),
                                 text::safe_print(finding.rule_name));
        }
    return lines;
}

}  // namespace packproof::report
