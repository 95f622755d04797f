#include "engine/report/finding_block.hpp"

#include <fmt/format.h>

#include "engine/report/words.hpp"

namespace packproof::report {

namespace {

using inspect::Class;
using inspect::Finding;
using inspect::Step;
using inspect::Verdict;

struct Heading {
    std::string_view words;
    Ink ink;
};

Heading heading_of(const Finding& finding) {
    if (finding.verdict == Verdict::undecided) return {"UNDECIDED", Ink::strong};
    switch (finding.rule_class) {
        case Class::critical:
            return {"CRITICAL", Ink::alarm};
        case Class::major:
            return {"MAJOR", Ink::warning};
        case Class::minor:
            return {"MINOR", Ink::strong};
        case Class::observation:
            return {"OBSERVATION", Ink::strong};
    }
    return {"", Ink::plain};
}

// "fails" stands after the item; an undecided one says how grave it would be.
std::string verdict_words(const Finding& finding) {
    if (finding.verdict == Verdict::undecided)
        return fmt::format(" ({} if it fails)", rules::class_name(finding.rule_class));
    return fmt::format(" {}", rules::verdict_name(finding.verdict));
}

// name = formula on one line where it fits, then = numbers, then = result, each below the other.
void write_step(Page& page, std::string_view label, const Step& step) {
    constexpr std::size_t hang = 4;
    constexpr std::string_view equals = "  = ";
    const std::string whole = step.name + " = " + step.formula;
    if (step.formula.empty() || step.name.empty() || page.fits_beside_label(whole)) {
        page.labelled(label, step.formula.empty() ? step.name : (step.name.empty() ? step.formula : whole),
                      hang);
    } else {
        page.labelled(label, step.name, hang);
        page.labelled("", step.formula, hang, equals);
    }
    if (!step.numbers.empty() && step.numbers != step.formula) page.labelled("", step.numbers, hang, equals);
    if (!step.result.empty() && step.result != step.numbers) page.labelled("", step.result, hang, equals);
}

void write_steps(Page& page, std::span<const Step> steps) {
    std::string_view label = "working";
    for (const Step& step : steps) {
        write_step(page, label, step);
        label = "";
    }
}

void write_list(Page& page, std::string_view label, std::span<const std::string> lines) {
    for (std::size_t i = 0; i < lines.size(); ++i)
        page.labelled(i == 0 ? label : "", lines[i], 2);
}

void write_remedies(Page& page, const Finding& finding) {
    std::string_view label = "clears it";
    for (const auto& remedy : finding.clears) {
        page.labelled(label, (label.empty() ? "or " : "") + remedy.text, 3);
        label = "";
    }
    if (!finding.advice.empty()) page.labelled(label, finding.advice);
}

void write_basis(Page& page, const Finding& finding) {
    std::vector<std::string> lines;
    lines.reserve(finding.basis.size());
    for (const auto& authority : finding.basis)
        lines.push_back(rules::print_authority(authority));
    write_list(page, "basis", lines);
}

void write_consequences(Page& page, const Finding& finding, std::span<const Finding> all) {
    std::string_view label = "leads to";
    for (const std::size_t index : finding.consequences) {
        if (index >= all.size()) continue;
        page.labelled(label, short_words(all[index]), 2);
        label = "";
    }
}

}  // namespace

std::string place_words(const text::Span& span, const text::Sources& sources) {
    if (span.source == text::no_source || span.source >= sources.size()) return {};
    const text::Place place = sources.place(span.source, span.begin);
    return fmt::format("{}:{}:{}", sources.path(span.source), place.line, place.column);
}

std::string short_words(const Finding& finding) {
    std::string words = finding.rule_name;
    if (!finding.item_name.empty()) words += " on " + finding.item_name;
    words += fmt::format(", {}", rules::class_name(finding.rule_class));
    if (finding.verdict != Verdict::fails) words += fmt::format(" {}", rules::verdict_name(finding.verdict));
    if (!finding.has.text.empty()) words += ": has " + finding.has.text;
    const std::string needs = needs_words(finding);
    if (!needs.empty()) words += (finding.has.text.empty() ? ": needs " : "; needs ") + needs;
    return words;
}

void write_finding(Page& page, const Finding& finding, std::span<const Finding> all,
                   const text::Sources& sources, BlockPlace place) {
    const Heading heading = heading_of(finding);
    page.headline(fmt::format("{:<4}{}", place.number, heading.words), heading.ink,
                  "  " + item_words(finding) + verdict_words(finding), place_words(finding.place, sources));
    page.paragraph(finding.asks, 4);
    page.labelled_if("has", has_words(finding));
    page.labelled_if("needs", needs_words(finding));
    page.labelled_if("by", finding.by);
    page.labelled_if("decided by", finding.decides);
    write_remedies(page, finding);
    write_steps(page, finding.working);
    write_list(page, "rests on", finding.rests_on);
    write_list(page, "also", finding.shows);
    write_basis(page, finding);
    page.labelled_if("why", finding.because);
    write_consequences(page, finding, all);
    if (place.caution > 0) page.labelled("caution", fmt::format("number {} below", place.caution));
    page.labelled_if("rule", finding.rule_name);
}

}  // namespace packproof::report
