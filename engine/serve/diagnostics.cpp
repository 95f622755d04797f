#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "engine/report/sarif_place.hpp"
#include "engine/report/toml_text.hpp"
#include "engine/report/words.hpp"
#include "engine/serve/inspected.hpp"
#include "engine/serve/repair.hpp"
#include "engine/text/safe_print.hpp"

namespace packproof::serve {

namespace {

using inspect::Finding;
using inspect::Verdict;
using rules::Class;

Severity severity_of(const Finding& finding) {
    if (!finding.counts()) return Severity::information;
    const bool open = finding.verdict == Verdict::undecided;  // one step less than what is proven
    switch (finding.rule_class) {
        case Class::critical:
        case Class::major:
            return open ? Severity::warning : Severity::error;
        case Class::minor:
            return open ? Severity::information : Severity::warning;
        case Class::observation:
            return Severity::information;
    }
    return Severity::error;
}

std::string message_of(const Finding& finding, const inspect::Report& report) {
    std::string words = fmt::format("{} {}: {}\n", rules::class_name(finding.rule_class),
                                    finding.verdict == Verdict::undecided ? "undecided" : "fails",
                                    text::safe_print(finding.asks));
    const auto line = [&words](std::string_view label, std::string_view what) {
        if (!what.empty()) words += fmt::format("{} {}\n", label, text::safe_print(what));
    };
    line("has", report::has_words(finding));
    line("needs", report::needs_words(finding));
    line("by", finding.by);
    line("decided by", finding.decides);
    for (const auto& remedy : finding.clears)
        line("clears it:", remedy.text);
    if (finding.clears.empty()) line("advice:", finding.advice);
    line("caution:", finding.caution);
    if (finding.concession)
        line(finding.conceded ? "conceded by" : "not conceded by",
             report::concession_words(report.concessions[*finding.concession]));
    if (finding.announced) line("not counted:", "the rule counts from a later release on");
    words.pop_back();
    return words;
}

std::vector<Fix> fixes_of(const Finding& finding, const Telling& telling) {
    std::vector<Fix> fixes;
    for (const auto& remedy : finding.clears) {
        const auto at = telling.location(remedy.span);
        if (!at || remedy.span.end <= remedy.span.begin) continue;
        const std::string_view old = telling.of.sources.bytes(remedy.span.source)
                                         .substr(remedy.span.begin, remedy.span.end - remedy.span.begin);
        for (const std::string& value : remedy.writes) {
            const std::string written = report::toml_value(value, old);
            fixes.push_back(
                {text::safe_print(fmt::format("{} instead of {} ({})", written, old, remedy.text)), *at,
                 written});
        }
    }
    return fixes;
}

Told told_of(const Finding& finding, const Telling& telling, const Location& start) {
    Told told;
    told.at = telling.location(finding.place).value_or(start);
    told.severity = severity_of(finding);
    told.code = finding.rule_name;
    told.message = message_of(finding, *telling.of.report);
    for (const auto& other : report::related_places(finding, *telling.of.report, telling.of.sources))
        if (auto at = telling.location(other.span))
            told.related.push_back({*std::move(at), text::safe_print(other.text)});
    for (const auto& remedy : finding.clears)
        told.remedies.push_back(text::safe_print(remedy.text));
    told.fixes = fixes_of(finding, telling);
    return told;
}

// The values that somebody marked as open, each with the checks that wait for it.
void add_asked(const Telling& telling, std::vector<Told>& all) {
    std::map<std::pair<model::ItemIndex, model::FieldIndex>, std::vector<std::string>> waiting;
    for (const Finding& finding : telling.of.report->findings)
        if (finding.verdict == Verdict::not_stated)
            for (const auto& wanted : finding.wanted)
                if (wanted.asked && wanted.item != model::no_item)
                    waiting[{wanted.item, wanted.field}].push_back(finding.asks);
    const model::Model& model = telling.of.loaded->model;
    for (const auto& [input, asks] : waiting) {
        const model::Slot* slot = model.slot(input.first, input.second);
        if (slot == nullptr) continue;
        const auto at = telling.location(slot->span);
        if (!at) continue;
        const model::Field& field = model.kind_of(input.first).fields[input.second];
        std::string words =
            fmt::format("{} for this value: {}",
                        asks.size() == 1 ? "1 check waits" : fmt::format("{} checks wait", asks.size()),
                        text::safe_print(asks.front()));
        if (!field.ask.empty()) words += fmt::format("\nto find it out: {}", text::safe_print(field.ask));
        all.push_back({*at, Severity::hint, "asked", std::move(words), {}, {}, {}});
    }
}

}  // namespace

Told told_of(const text::Message& message, const Telling& telling, const std::string& own) {
    Told told;
    told.at = telling.location(message.span).value_or(Location{own, {}});
    if (message.severity == text::Severity::warning) told.severity = Severity::warning;
    if (message.severity == text::Severity::note) told.severity = Severity::information;
    told.code = "input";
    told.message = text::safe_print(message.text);
    if (!message.hint.empty()) told.message += "\n" + text::safe_print(message.hint);
    const auto repair = repair_of(message, telling.of.sources);
    if (!repair) return told;
    if (auto at = telling.location(repair->span))
        told.fixes.push_back(
            {text::safe_print(fmt::format("write {}", repair->writes)), *std::move(at), repair->writes});
    return told;
}

std::vector<Told> diagnostics_of(const Inspected& of, Encoding encoding, const std::string& own) {
    const Telling telling{of, encoding};
    std::vector<Told> all;
    for (const text::Message& message : of.messages.sorted())
        all.push_back(told_of(message, telling, own));
    if (!of.report) return all;
    const Location start{own, {}};
    for (const Finding& finding : of.report->findings)
        if (finding.verdict == Verdict::fails || finding.verdict == Verdict::undecided)
            all.push_back(told_of(finding, telling, start));
    add_asked(telling, all);
    if (of.report->coverage.not_stated > 0)
        all.push_back({start,
                       Severity::hint,
                       "coverage",
                       text::safe_print(report::verdict_sentence(*of.report)),
                       {},
                       {},
                       {}});
    return all;
}

}  // namespace packproof::serve
