#include "engine/report/finding_block.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "engine/inspect/concession.hpp"
#include "engine/report/words.hpp"

namespace packproof::report {

namespace {

using inspect::Class;
using inspect::Concession;
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
        return fmt::format(" ({} if it fails){}", rules::class_name(finding.rule_class),
                           finding.conceded ? ", conceded" : "");
    return fmt::format(" {}{}{}", rules::verdict_name(finding.verdict), finding.conceded ? ", conceded" : "",
                       finding.announced ? ", not counted yet" : "");
}

void write_concession(Page& page, const Concession& one, const text::Sources& sources) {
    page.labelled("conceded by", inspect::conceded_words(one), 2);
    page.labelled_if("", place_words(one.place, sources));
}

void write_refused(Page& page, const Concession& one) {
    page.labelled("not conceded",
                  fmt::format("{} is not honoured: {}", one.id, fmt::join(one.refused_by, ", ")), 2);
}

// A long formula has many branches, of which the numbers show the one that was taken.
bool shows_formula(const Page& page, const Step& step, bool whole) {
    if (step.formula.empty()) return false;
    return whole || page.fits_beside_label(step.name + " = " + step.formula);
}

constexpr std::size_t step_hang = 4;

// A comparison does not equal its verdict, it has one.
void write_comparison(Page& page, std::string_view label, const Step& step) {
    page.labelled(label, step.name.empty() ? step.formula : step.name, step_hang);
    const std::string numbers = step.numbers.empty() ? "" : step.numbers + ": ";
    page.labelled("", numbers + step.result, step_hang, "  ");
}

// name = formula = numbers = result: on one line where it fits, else below each other.
void write_step(Page& page, std::string_view label, const Step& step, bool whole) {
    constexpr std::string_view equals = "  = ";
    std::string end = step.numbers == step.formula ? "" : step.numbers;
    if (!step.result.empty() && step.result != step.numbers) end += (end.empty() ? "" : " = ") + step.result;
    const bool formula = shows_formula(page, step, whole);
    std::string start = step.name;
    if (formula) start += (start.empty() ? "" : " = ") + step.formula;
    const bool both = !start.empty() && !end.empty();
    const std::string line = start + (both ? " = " : "") + end;
    if (!both || page.fits_beside_label(line)) {
        page.labelled(label, line, step_hang);
        return;
    }
    const bool apart = formula && !step.name.empty() && !page.fits_beside_label(start);
    page.labelled(label, apart ? step.name : start, step_hang);
    if (apart) page.labelled("", step.formula, step_hang, equals);
    page.labelled("", end, step_hang, equals);
}

void write_steps(Page& page, std::span<const Step> steps, bool whole) {
    std::string_view label = "working";
    for (const Step& step : steps) {
        if (step.detail && !whole) continue;
        if (rules::read_verdict(step.result))
            write_comparison(page, label, step);
        else
            write_step(page, label, step, whole);
        label = "";
    }
}

void write_list(Page& page, std::string_view label, std::span<const std::string> lines) {
    for (std::size_t i = 0; i < lines.size(); ++i)
        page.labelled(i == 0 ? label : "", lines[i], 2);
}

// File names without their folders where that names one file only among those read for this description.
std::string with_short_paths(std::string words, text::Sources::Stretch files, const text::Sources& sources) {
    for (text::SourceIndex i = files.first; i < files.end; ++i) {
        const std::string path = std::string(sources.path(i)) + ":";
        const std::size_t at = words.find(path);
        const std::size_t folder = path.rfind('/');
        if (at == std::string::npos || folder == std::string::npos) continue;
        const std::string ending = path.substr(folder, path.size() - folder - 1);
        std::size_t alike = 0;
        for (text::SourceIndex other = files.first; other < files.end; ++other)
            if (sources.path(other).ends_with(ending) && sources.path(other) != sources.path(i)) ++alike;
        if (alike == 0) words.erase(at, folder + 1);
    }
    return words;
}

// The source of a default stands once, among the assumptions.
std::string without_source_of_default(std::string words) {
    const std::size_t at = words.find("(assumed: ");
    if (at != std::string::npos) words.replace(at, std::string::npos, "(assumed)");
    return words;
}

void write_inputs(Page& page, const Finding& finding, const text::Sources& sources, bool whole) {
    constexpr std::size_t most_lines = 16;  // of what the solver of a pattern rests on there are many
    std::vector<std::string> lines;
    lines.reserve(finding.rests_on.size());
    const text::Sources::Stretch files = sources.read_with(finding.place.source);
    for (const std::string& input : finding.rests_on) {
        if (!whole && lines.size() == most_lines && finding.rests_on.size() > most_lines + 1) {
            lines.push_back(fmt::format("{} more, with --all", finding.rests_on.size() - most_lines));
            break;
        }
        lines.push_back(whole ? input : with_short_paths(without_source_of_default(input), files, sources));
    }
    write_list(page, "rests on", lines);
}

void write_remedies(Page& page, const Finding& finding) {
    std::string_view label = "clears it";
    for (const auto& remedy : finding.clears) {
        page.labelled(label, (label.empty() ? "or " : "") + remedy.text, 3);
        label = "";
    }
    if (!finding.advice.empty()) page.labelled(label, finding.advice);
}

void write_basis(Page& page, const Finding& finding, bool whole) {
    std::vector<std::string> lines;
    lines.reserve(finding.basis.size());
    for (model::Authority authority : finding.basis) {
        if (!whole && !authority.document.empty()) authority.note.clear();
        std::string line = rules::print_authority(authority);
        if (std::find(lines.begin(), lines.end(), line) == lines.end()) lines.push_back(std::move(line));
    }
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
    if (!sources.holds(span.source)) return {};
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

void write_proof(Page& page, const Finding& finding, const text::Sources& sources) {
    write_steps(page, finding.working, true);
    write_inputs(page, finding, sources, true);
    write_list(page, "also", finding.shows);
    write_basis(page, finding, true);
}

void write_finding(Page& page, const Finding& finding, std::span<const Finding> all,
                   const text::Sources& sources, BlockPlace place) {
    const Heading heading = heading_of(finding);
    page.headline(fmt::format("{:<4}{}", place.number, heading.words), heading.ink,
                  "  " + item_words(finding) + verdict_words(finding), place_words(finding.place, sources));
    page.paragraph(finding.asks, 4);
    if (place.concessions != nullptr && finding.concession) {
        const Concession& one = (*place.concessions)[*finding.concession];
        if (finding.conceded)
            write_concession(page, one, sources);
        else
            write_refused(page, one);
    }
    if (finding.change) page.labelled_if("since then", change_words(finding));
    page.labelled_if("has", has_words(finding));
    page.labelled_if("needs", needs_words(finding));
    page.labelled_if("by", finding.by);
    page.labelled_if("decided by", finding.decides);
    write_remedies(page, finding);
    page.labelled_if("why", finding.because);
    write_consequences(page, finding, all);
    write_steps(page, finding.working, place.whole);
    write_inputs(page, finding, sources, place.whole);
    write_list(page, "also", finding.shows);
    write_basis(page, finding, place.whole);
    page.labelled_if("rule", finding.rule_name +
                                 (place.caution > 0 ? fmt::format("; caution {} below", place.caution) : ""));
}

}  // namespace packproof::report
