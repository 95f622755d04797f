#include "engine/report/table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
#include <set>
#include <tuple>

#include "engine/inspect/compare.hpp"
#include "engine/report/words.hpp"
#include "engine/text/safe_print.hpp"

namespace packproof::report {

namespace {

using inspect::Finding;
using inspect::Report;
using inspect::Verdict;
using rules::Class;

constexpr std::size_t number_columns = 6;
constexpr std::array<std::string_view, number_columns> column_names{"critical",  "major",      "minor",
                                                                    "undecided", "not stated", "conform"};
constexpr std::size_t most_names = 6;  // in a list of items or reports

bool counts_as_failing(const Finding& finding) {
    return finding.verdict == Verdict::fails && finding.counts() &&
           finding.rule_class != Class::observation && !is_consequence(finding);
}

std::array<std::size_t, number_columns> summary_of(const Report& report) {
    std::array<std::size_t, number_columns> row{};
    for (const Finding& finding : report.findings)
        if (counts_as_failing(finding)) ++row[static_cast<std::size_t>(finding.rule_class)];
    row[3] = report.coverage.undecided;
    row[4] = report.coverage.not_stated;
    row[5] = report.coverage.conforming;
    return row;
}

std::string summary_row(const std::array<std::string, number_columns>& cells) {
    std::string row;
    for (std::size_t i = 0; i < number_columns; ++i)
        row += fmt::format("{:>{}}", cells[i], column_names[i].size() + 2);
    return row;
}

std::string without_ending(std::string_view path) {
    return std::string(path.ends_with(".toml") ? path.substr(0, path.size() - 5) : path);
}

// Each path's shortest end that no other ends with: "cables/35.toml" is "35", unless there is "old/35.toml".
std::map<std::string, std::string> short_names(std::span<const Report> reports) {
    std::set<std::string> paths;
    for (const Report& report : reports)
        paths.insert(report.overlays.begin(), report.overlays.end());
    const auto end_of = [](const std::string& path, std::size_t folders) {
        std::size_t begin = path.size();
        for (std::size_t i = 0; i <= folders && begin > 0; ++i) {
            const std::size_t slash = path.rfind('/', begin - 1);
            begin = slash == std::string::npos ? 0 : slash;
        }
        return without_ending(
            std::string_view(path).substr(begin > 0 || path.starts_with('/') ? begin + 1 : 0));
    };
    std::map<std::string, std::string> names;
    std::set<std::string> open = paths;
    for (std::size_t folders = 0; !open.empty(); ++folders) {
        std::map<std::string, std::size_t> count;
        for (const std::string& path : paths)
            ++count[end_of(path, folders)];
        std::set<std::string> still_open;
        for (const std::string& path : open) {
            names[path] = end_of(path, folders);
            const bool is_whole = names[path].size() + 6 >= path.size();  // nothing longer to try
            if (count[names[path]] > 1 && !is_whole) still_open.insert(path);
        }
        open = std::move(still_open);
    }
    return names;
}

bool of_one_description(std::span<const Report> reports) {
    return std::all_of(reports.begin(), reports.end(),
                       [&](const Report& report) { return report.file == reports.front().file; });
}

// What reports are called in the table.
struct Names {
    bool one_description = false;
    std::map<std::string, std::string> overlays;  // by path

    explicit Names(std::span<const Report> reports)
        : one_description(of_one_description(reports)), overlays(short_names(reports)) {}

    [[nodiscard]] std::string of(const Report& report) const {
        if (report.overlays.empty()) return report.file;
        std::string names = one_description ? "" : report.file + " with ";
        for (std::size_t i = 0; i < report.overlays.size(); ++i)
            names += (i == 0 ? "" : ", ") + overlays.at(report.overlays[i]);
        return names;
    }
};

std::string few(const std::vector<std::string>& names) {
    std::string list;
    for (std::size_t i = 0; i < names.size(); ++i) {
        if (i == most_names && names.size() > most_names + 1)
            return list + fmt::format(" and {} more", names.size() - i);
        list += (list.empty() ? "" : "; ") + names[i];
    }
    return list;
}

std::string gravest_word(const Report& report) {
    const auto gravest = report.gravest_failing();
    if (!gravest || *gravest == Class::observation) return "none";
    return std::string(rules::class_name(*gravest));
}

std::vector<std::string> along(std::span<const Report> reports, std::size_t axis) {
    std::vector<std::string> names;
    for (const Report& report : reports)
        if (std::find(names.begin(), names.end(), report.overlays[axis]) == names.end())
            names.push_back(report.overlays[axis]);
    return names;
}

// Left out where it would not fit, or show a single row or column: the summary holds the same.
void write_matrix(Page& page, std::span<const Report> reports, const Options& options) {
    constexpr std::size_t widest_word = 8;  // "critical"
    const Names names(reports);
    const bool crossed = names.one_description &&
                         std::all_of(reports.begin(), reports.end(),
                                     [](const Report& report) { return report.overlays.size() == 2; });
    if (!crossed) return;
    const auto downward = along(reports, 0);
    const auto across = along(reports, 1);
    if (downward.size() < 2 || across.size() < 2) return;
    std::map<std::pair<std::string, std::string>, std::string> words;
    for (const Report& report : reports)
        words[{report.overlays[0], report.overlays[1]}] = gravest_word(report);
    std::vector<std::size_t> widths;
    std::string head;
    for (const std::string& name : across) {
        const std::string shown = text::safe_print(names.overlays.at(name));
        widths.push_back(std::max(widest_word, shown.size()) + 2);
        head += fmt::format("{:>{}}", shown, widths.back());
    }
    if (head.size() + 20 > options.width) return;
    page.blank();
    page.headline("GRAVEST CLASS THAT FAILS", Ink::strong, "", head);
    for (const std::string& name : downward) {
        std::string row;
        for (std::size_t i = 0; i < across.size(); ++i) {
            const auto word = words.find({name, across[i]});
            row += fmt::format("{:>{}}", word == words.end() ? "?" : word->second, widths[i]);
        }
        page.row(names.overlays.at(name), row);
    }
    page.paragraph("none: nothing of class minor or graver fails; ?: its input has errors", 4);
}

struct Failing {
    std::vector<std::string> items;
    std::vector<std::string> reports;
};

void add_name(std::vector<std::string>& names, const std::string& name) {
    if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
}

void write_reasons(Page& page, std::span<const Report> reports) {
    std::map<std::pair<Class, std::string>, Failing> reasons;
    const Names names(reports);
    for (const Report& report : reports)
        for (const Finding& finding : report.findings) {
            if (!counts_as_failing(finding)) continue;
            Failing& failing = reasons[{finding.rule_class, finding.rule_name}];
            std::string item = finding.item_name.empty() ? finding.kind_name : finding.item_name;
            if (finding.change && inspect::is_news(finding))
                item += *finding.change == inspect::Change::arrived ? " (new)" : " (worse)";
            add_name(failing.items, item);
            const std::string name = names.of(report);
            if (failing.reports.empty() || failing.reports.back() != name) failing.reports.push_back(name);
        }
    if (reasons.empty()) return;
    page.blank();
    page.paragraph("WHY", 0, 0, Ink::strong);
    for (const auto& [key, failing] : reasons) {
        const auto& [rule_class, rule] = key;
        page.headline("    " + rule, Ink::plain, "",
                      fmt::format("{}, in {} of {}", rules::class_name(rule_class), failing.reports.size(),
                                  reports.size()));
        page.paragraph("on " + few(failing.items), 8, 2);
        page.paragraph("in " + few(failing.reports), 8, 2);
    }
}

// What became of an earlier report, over all descriptions.
void write_since(Page& page, std::span<const Report> reports) {
    inspect::Comparison all;
    std::size_t gone = 0;
    for (const Report& report : reports) {
        if (!report.comparison) continue;
        all.earlier = report.comparison->earlier;
        all.arrived += report.comparison->arrived;
        all.changed += report.comparison->changed;
        all.unchanged += report.comparison->unchanged;
        gone += report.comparison->gone.size();
    }
    if (all.earlier.empty()) return;
    page.blank();
    page.paragraph(fmt::format("Since {}: {} new, {} changed, {} unchanged, {} gone.", all.earlier,
                               all.arrived, all.changed, all.unchanged, gone));
}

void write_conceded(Page& page, std::span<const Report> reports) {
    std::vector<std::string> lines;
    for (const Report& report : reports)
        for (const inspect::Concession& one : report.concessions)
            if (one.honoured)
                add_name(lines, fmt::format("{} on {}: {}", one.rule, one.item_name, concession_words(one)));
    if (lines.empty()) return;
    page.blank();
    page.paragraph("CONCEDED", 0, 0, Ink::strong);
    for (const std::string& line : lines)
        page.paragraph(line, 4, 2);
}

}  // namespace

void write_summary(Page& page, std::span<const Report> reports, const Options& options) {
    std::array<std::string, number_columns> head;
    for (std::size_t i = 0; i < number_columns; ++i)
        head[i] = column_names[i];
    const bool variants = !reports.empty() && !reports.front().overlays.empty();
    page.headline(variants ? counted(reports.size(), "variant", "variants") + " inspected"
                           : counted(reports.size(), "file", "files") + " inspected",
                  Ink::strong, "", summary_row(head));
    const Names names(reports);
    for (const Report& report : reports) {
        const auto row = summary_of(report);
        std::array<std::string, number_columns> cells;
        for (std::size_t i = 0; i < number_columns; ++i)
            cells[i] = fmt::format("{}", row[i]);
        page.row(names.of(report), summary_row(cells));
    }
    for (const std::string& file : options.not_inspected)
        page.row(file, "not inspected: its input has errors");
    if (options.passed_over > 0)
        page.paragraph(fmt::format("{} passed over: no file of theirs was touched",
                                   counted(options.passed_over, "description", "descriptions")));
}

std::string print_table(std::span<const Report> reports, const Options& options) {
    Page page(options.width, options.colour);
    write_summary(page, reports, options);
    write_matrix(page, reports, options);
    write_since(page, reports);
    write_reasons(page, reports);
    write_conceded(page, reports);
    if (!reports.empty() && !reports.front().relaxed.empty()) {
        page.blank();
        page.paragraph("RULES RELAXED", 0, 0, Ink::strong);
        for (const inspect::Relaxed& one : reports.front().relaxed)
            page.paragraph(relaxed_words(one), 4, 2);
    }
    page.blank();
    page.paragraph(inspect::general_caution(), 0, 0);
    return page.take();
}

}  // namespace packproof::report
