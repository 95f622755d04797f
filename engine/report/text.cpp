#include "engine/report/text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>

#include "engine/inspect/compare.hpp"
#include "engine/report/finding_block.hpp"
#include "engine/report/page.hpp"
#include "engine/report/table.hpp"
#include "engine/report/words.hpp"
#include "engine/text/safe_print.hpp"

namespace packproof::report {

namespace {

using inspect::Class;
using inspect::Finding;
using inspect::Report;
using inspect::Verdict;

constexpr std::size_t digest_digits = 8;  // enough to tell versions apart by eye

bool is_shown_whole(const Finding& finding) {
    return !is_consequence(finding) &&
           (finding.verdict == Verdict::fails || finding.verdict == Verdict::undecided);
}

// Each caution once, in the order of the findings that carry it.
std::vector<std::string_view> cautions_of(const Report& report) {
    std::vector<std::string_view> cautions;
    for (const Finding& finding : report.findings) {
        const bool listed = std::find(cautions.begin(), cautions.end(), finding.caution) != cautions.end();
        if (is_shown_whole(finding) && !finding.caution.empty() && !listed)
            cautions.push_back(finding.caution);
    }
    return cautions;
}

void write_heading(Page& page, const Report& report) {
    page.headline(report.file, Ink::strong, "", report.title.size() <= 40 ? report.title : "");
    for (const std::string& overlay : report.overlays)
        page.headline("  with " + overlay, Ink::plain, "", "");
    if (report.title.size() > 40) page.paragraph(report.title, 0, 0, Ink::faint);
    std::string versions = "Inspected by rules";
    if (!report.rules_version.empty()) versions += " " + report.rules_version;
    if (!report.rules_digest.empty()) versions += ", digest " + report.rules_digest.substr(0, digest_digits);
    if (!report.input_digest.empty())
        versions += "; description, digest " + report.input_digest.substr(0, digest_digits);
    page.paragraph(versions, 0, 0, Ink::faint);
    if (!report.judged_on.empty())
        page.paragraph(fmt::format("Concessions judged on {}{}", report.judged_on,
                                   report.judged_today ? " (today)" : ""),
                       0, 2, Ink::faint);
    for (const std::string& chosen : report.chosen)
        page.paragraph("By " + chosen, 0, 2, Ink::faint);
    page.blank();
    page.paragraph(verdict_sentence(report), 0, 0, Ink::strong);
}

void write_comparison(Page& page, const Report& report) {
    if (!report.comparison) return;
    const inspect::Comparison& since = *report.comparison;
    page.blank();
    page.paragraph(comparison_words(since), 0, 2, Ink::strong);
    if (!since.earlier_file.empty() && since.earlier_file != inspect::name_of(report))
        page.paragraph("There it was " + since.earlier_file + ".", 4, 2, Ink::faint);
    if (!since.earlier_file.empty() && since.earlier_rules_digest != report.rules_digest)
        page.paragraph(fmt::format("It was made by other rules: {}, digest {}.", since.earlier_rules_version,
                                   since.earlier_rules_digest.substr(0, digest_digits)),
                       4, 2, Ink::faint);
    for (const auto& gone : since.gone)
        page.paragraph("gone: " + gone_words(gone), 4, 2);
}

bool is_known_already(const Finding& finding) {
    return finding.change && *finding.change == inspect::Change::unchanged;
}

// What the earlier report said already: a line each, unless everything is asked for.
void write_unchanged(Page& page, const Report& report) {
    bool any = false;
    for (const Finding& finding : report.findings) {
        if (!is_shown_whole(finding) || !is_known_already(finding)) continue;
        if (!any) {
            page.blank();
            page.headline("UNCHANGED", Ink::strong, "", "");
        }
        any = true;
        page.paragraph(short_words(finding) + (finding.conceded ? ", conceded" : ""), 4, 2);
    }
}

void write_findings(Page& page, const Report& report, const text::Sources& sources,
                    std::span<const std::string_view> cautions, bool whole) {
    std::size_t number = 0;
    for (const Finding& finding : report.findings) {
        if (!is_shown_whole(finding) || (!whole && is_known_already(finding))) continue;
        const auto found = std::find(cautions.begin(), cautions.end(), finding.caution);
        const std::size_t caution =
            found == cautions.end() ? 0 : static_cast<std::size_t>(found - cautions.begin()) + 1;
        page.blank();
        write_finding(page, finding, report.findings, sources,
                      {++number, caution, whole, &report.concessions});
    }
    if (number == 0 || whole) return;
    page.blank();
    page.paragraph("packproof explain RULE shows a rule with all its formulas, tables and examples.", 4, 0,
                   Ink::faint);
}

std::string wanted_words(const inspect::Wanted& wanted) {
    std::string words = missing_words(wanted);
    if (!wanted.ask.empty()) words += ": " + wanted.ask;
    return words;
}

void write_next(Page& page, const Report& report) {
    if (report.coverage.not_stated == 0) return;
    page.blank();
    std::string head = counted(report.coverage.not_stated, "check waits", "checks wait") + " for values.";
    if (!report.next.empty()) head += " These would settle the most, by the weight of their class:";
    page.headline("NOT STATED", Ink::strong, "", "");
    page.paragraph(head, 4);
    for (const auto& next : report.next)
        page.counted_line(fmt::format("{} {:<6}", next.rules, next.rules == 1 ? "check" : "checks"),
                          wanted_words(next.value));
}

void write_not_stated(Page& page, const Report& report) {
    for (const Finding& finding : report.findings) {
        if (finding.verdict != Verdict::not_stated) continue;
        page.paragraph(finding.rule_name + " on " + item_words(finding) + " waits for:", 4, 2);
        for (const auto& wanted : finding.wanted)
            page.paragraph(wanted_words(wanted), 8, 2);
    }
}

void write_conforming(Page& page, const Report& report, const text::Sources& sources) {
    bool any = false;
    for (const Finding& finding : report.findings) {
        if (finding.verdict != Verdict::conforms) continue;
        if (!any) {
            page.blank();
            page.headline("CONFORMS", Ink::strong, "", "");
        }
        any = true;
        page.paragraph(finding.rule_name + " on " + item_words(finding), 4, 2);
        page.labelled_if("has", has_words(finding));
        page.labelled_if("needs", needs_words(finding));
        write_proof(page, finding, sources);
    }
}

void write_assumptions(Page& page, const Report& report) {
    if (report.assumptions.empty() && report.tried.empty()) return;
    page.blank();
    page.headline("ASSUMED", Ink::strong, "  where the description says nothing", "");
    for (const auto& assumption : joined_assumptions(report.assumptions)) {
        page.paragraph(assumption.text, 4, 2);
        if (!assumption.basis.empty()) page.paragraph(assumption.basis, 8);
    }
    for (const std::string& tried : report.tried)
        page.paragraph("tried in turn: " + tried, 4, 2);
}

void write_relaxed(Page& page, const Report& report) {
    if (report.relaxed.empty()) return;
    page.blank();
    page.headline("RULES RELAXED", Ink::strong, "  by the rules folder, among those that guard people", "");
    for (const auto& one : report.relaxed)
        page.paragraph(relaxed_words(one), 4, 2);
}

void write_coverage(Page& page, const Report& report) {
    const auto& coverage = report.coverage;
    page.blank();
    page.headline("COVERAGE", Ink::strong, "", "");
    page.paragraph(
        fmt::format("{}: {} {}, {} {}, {} undecided, {} not stated, {} conceded. {} not apply.",
                    counted(coverage.applicable, "check applies", "checks apply"), coverage.conforming,
                    coverage.conforming == 1 ? "conforms" : "conform", coverage.failing,
                    coverage.failing == 1 ? "fails" : "fail", coverage.undecided, coverage.not_stated,
                    coverage.conceded, counted(coverage.not_applicable, "does", "do")),
        4);
}

void write_cautions(Page& page, std::span<const std::string_view> cautions) {
    page.blank();
    page.headline(cautions.size() > 0 ? "CAUTIONS" : "CAUTION", Ink::strong, "", "");
    for (std::size_t i = 0; i < cautions.size(); ++i)
        page.numbered(i + 1, cautions[i]);
    page.paragraph(inspect::general_caution(), 4);
}

void write_report(Page& page, const Report& report, const text::Sources& sources, const Options& options) {
    const auto cautions = cautions_of(report);
    write_heading(page, report);
    write_comparison(page, report);
    write_findings(page, report, sources, cautions, options.all);
    if (!options.all) write_unchanged(page, report);
    write_next(page, report);
    if (options.all) write_not_stated(page, report);
    if (options.all) write_conforming(page, report, sources);
    write_assumptions(page, report);
    write_relaxed(page, report);
    write_coverage(page, report);
    write_cautions(page, cautions);
}

}  // namespace

std::string print_text(std::span<const Report> reports, const text::Sources& sources,
                       const Options& options) {
    Page page(options.width, options.colour);
    for (std::size_t i = 0; i < reports.size(); ++i) {
        if (i > 0) page.divide();
        write_report(page, reports[i], sources, options);
    }
    if (reports.size() + options.not_inspected.size() > 1) {
        page.divide();
        write_summary(page, reports, options);
    }
    return page.take();
}

}  // namespace packproof::report
