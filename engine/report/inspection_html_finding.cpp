#include "engine/report/inspection_html_finding.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>
#include <vector>

#include "engine/report/finding_block.hpp"
#include "engine/report/html_text.hpp"
#include "engine/report/words.hpp"

namespace packproof::report {

namespace {

using inspect::Finding;
using inspect::Report;
using inspect::Step;
using inspect::Verdict;

// `html` is harmless already.
void write_row(std::string& out, std::string_view label, std::string_view html) {
    if (!html.empty()) out += fmt::format("<div><dt>{}</dt><dd>{}</dd></div>\n", label, html);
}

// One as it is, several as a list.
std::string list_of(const std::vector<std::string>& html) {
    if (html.size() == 1) return html.front();
    std::string list;
    for (const std::string& each : html)
        list += fmt::format("<li>{}</li>\n", each);
    return list.empty() ? list : "<ul>\n" + list + "</ul>";
}

std::vector<std::string> isolated(const std::vector<std::string>& words) {
    std::vector<std::string> html;
    html.reserve(words.size());
    for (const std::string& each : words)
        html.push_back(html_isolated(each));
    return html;
}

// A state of a finding that a reader must see at once is a word beside its class.
std::vector<std::string_view> tags_of(const Finding& finding) {
    std::vector<std::string_view> tags{rules::class_name(finding.rule_class)};
    if (finding.at_once && finding.verdict == Verdict::fails) tags.emplace_back("before all else");
    if (finding.change && *finding.change == inspect::Change::arrived) tags.emplace_back("new");
    if (finding.change && *finding.change == inspect::Change::changed)
        tags.emplace_back(finding.worse ? "worse" : "changed");
    if (finding.conceded) tags.emplace_back("conceded");
    return tags;
}

std::string state_words(const Finding& finding) {
    switch (finding.verdict) {
        case Verdict::undecided:
            return fmt::format("undecided, {} if it fails", rules::class_name(finding.rule_class));
        case Verdict::not_stated:
            return "waits for values";
        default:
            return std::string(rules::verdict_name(finding.verdict));
    }
}

std::string style_names(const Finding& finding) {
    std::string names(rules::class_name(finding.rule_class));
    if (finding.verdict == Verdict::undecided) names += " undecided";
    if (finding.verdict == Verdict::not_stated) names += " not-stated";
    if (finding.verdict == Verdict::conforms) names += " conforms";
    return names;
}

void write_heading(std::string& out, const Finding& finding, const HtmlPlace& place) {
    out += "<h4>";
    if (place.number > 0) out += fmt::format("<span class=\"number\">{}</span> ", place.number);
    bool first = true;
    for (const std::string_view tag : tags_of(finding)) {
        out += fmt::format("<span class=\"tag{}\">{}</span> ", first ? " class" : "", tag);
        first = false;
    }
    out += fmt::format("{}: {}</h4>\n", html_isolated(item_words(finding)), state_words(finding));
    if (!finding.asks.empty()) out += fmt::format("<p class=\"asks\">{}</p>\n", html_isolated(finding.asks));
}

std::string link_to(const Report& report, std::size_t index, const HtmlPlace& place) {
    return fmt::format("<a href=\"#{}\">{}</a>", html_id(place.description, index),
                       html_isolated(short_words(report.findings[index])));
}

// A finding that is not on the page cannot be a link: what conforms may be left out, never what follows.
std::vector<std::string> links_to(const Report& report, std::span<const std::size_t> indices,
                                  const HtmlPlace& place) {
    std::vector<std::string> links;
    for (const std::size_t index : indices)
        if (index < report.findings.size() && report.findings[index].verdict != Verdict::conforms)
            links.push_back(link_to(report, index, place));
    return links;
}

void write_remedies(std::string& out, const Finding& finding) {
    std::vector<std::string> remedies;
    for (const auto& remedy : finding.clears)
        remedies.push_back((remedies.empty() ? "" : "or ") + html_isolated(remedy.text));
    if (!finding.advice.empty()) remedies.push_back(html_isolated(finding.advice));
    write_row(out, finding.clears.empty() ? "advice" : "clears it", list_of(remedies));
}

std::string wanted_html(const inspect::Wanted& wanted) {
    std::string html = html_isolated(missing_words(wanted));
    if (!wanted.ask.empty()) html += ": " + html_isolated(wanted.ask);
    const std::string_view who = answerer_name(wanted);
    return who.empty() ? html : fmt::format("{} ({})", html, who);
}

void write_missing(std::string& out, const Finding& finding) {
    std::vector<std::string> missing;
    for (const auto& wanted : finding.wanted)
        missing.push_back(wanted_html(wanted));
    write_row(out, "waits for", list_of(missing));
}

// name, = formula, = numbers, = result: each on a line; a comparison has a verdict and does not equal it.
std::string step_html(const Step& step) {
    const bool judged = rules::read_verdict(step.result).has_value();
    std::string html;
    auto line = [&](std::string_view sign, std::string_view words) {
        html += fmt::format("<span>{}{}</span>", html.empty() ? "" : sign, html_isolated(words));
    };
    if (!step.name.empty()) html = fmt::format("<span class=\"name\">{}</span>", html_isolated(step.name));
    if (!step.formula.empty()) line("= ", step.formula);
    if (judged) {
        line("", step.numbers.empty() ? step.result : step.numbers + ": " + step.result);
        return html;
    }
    if (!step.numbers.empty() && step.numbers != step.formula) line("= ", step.numbers);
    if (!step.result.empty() && step.result != step.numbers) line("= ", step.result);
    return html;
}

std::string working_html(const Finding& finding, bool whole) {
    std::string steps;
    std::size_t inner = 0;
    for (const Step& step : finding.working) {
        if (step.detail && !whole)
            ++inner;
        else
            steps += fmt::format("<li>{}</li>\n", step_html(step));
    }
    if (inner > 0)
        steps += fmt::format("<li>{} inside the solved network, with --all</li>\n",
                             counted(inner, "step", "steps"));
    return steps.empty() ? steps : "<ol class=\"working\">\n" + steps + "</ol>";
}

std::string basis_html(const Finding& finding) {
    std::vector<std::string> lines;
    for (const auto& authority : finding.basis) {
        std::string line = html_isolated(rules::print_authority(authority));
        if (std::find(lines.begin(), lines.end(), line) == lines.end()) lines.push_back(std::move(line));
    }
    return list_of(lines);
}

// Open as it stands, so that nothing is hidden where no script runs.
void write_proof_html(std::string& out, const Finding& finding, bool whole) {
    std::string rows;
    write_row(rows, "working", working_html(finding, whole));
    write_row(rows, "rests on", list_of(isolated(finding.rests_on)));
    write_row(rows, "also", list_of(isolated(finding.shows)));
    write_row(rows, "basis", basis_html(finding));
    if (rows.empty()) return;
    out += fmt::format("<details open>\n<summary>Working and sources</summary>\n<dl>\n{}</dl>\n</details>\n",
                       rows);
}

void write_origin(std::string& out, const Finding& finding, const text::Sources& sources,
                  const HtmlPlace& place) {
    std::string html = "Rule " + html_isolated(finding.rule_name);
    const std::string where = place_words(finding.place, sources);
    if (!where.empty()) html += ", at " + html_isolated(where);
    if (place.caution > 0)
        html +=
            fmt::format(", <a href=\"#caution-{0}-{1}\">caution {1}</a>", place.description, place.caution);
    out += fmt::format("<p class=\"rule\">{}</p>\n", html);
}

}  // namespace

std::string html_id(std::size_t description, std::size_t finding) {
    return fmt::format("finding-{}-{}", description, finding + 1);
}

void write_html_finding(std::string& out, const Report& report, std::size_t index,
                        const text::Sources& sources, const HtmlPlace& place) {
    const Finding& finding = report.findings[index];
    out += fmt::format("<article class=\"finding {}\" id=\"{}\" data-verdict=\"{}\" data-class=\"{}\">\n",
                       style_names(finding), html_id(place.description, index),
                       rules::verdict_name(finding.verdict), rules::class_name(finding.rule_class));
    out += "<div class=\"head\">\n";
    write_heading(out, finding, place);
    std::string rows;
    write_row(rows, "has", html_isolated(has_words(finding)));
    write_row(rows, "needs", html_isolated(needs_words(finding)));
    write_row(rows, "by", html_isolated(finding.by));
    write_row(rows, "decided by", html_isolated(finding.decides));
    write_missing(rows, finding);
    write_remedies(rows, finding);
    if (finding.verdict != Verdict::conforms) write_row(rows, "why", html_isolated(finding.because));
    if (finding.cause && *finding.cause < report.findings.size())
        write_row(rows, "follows from", link_to(report, *finding.cause, place));
    write_row(rows, "leads to", list_of(links_to(report, finding.consequences, place)));
    if (finding.concession && *finding.concession < report.concessions.size()) {
        const inspect::Concession& one = report.concessions[*finding.concession];
        write_row(rows, one.honoured ? "conceded by" : "not conceded", html_isolated(concession_words(one)));
    }
    if (finding.change && *finding.change == inspect::Change::changed)
        write_row(rows, "before", html_isolated(finding.before));
    if (!rows.empty()) out += "<dl>\n" + rows + "</dl>\n";
    out += "</div>\n";
    write_proof_html(out, finding, place.whole);
    write_origin(out, finding, sources, place);
    out += "</article>\n";
}

}  // namespace packproof::report
