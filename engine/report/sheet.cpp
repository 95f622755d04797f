#include "engine/report/sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <span>

#include "engine/inspect/concession.hpp"
#include "engine/report/bench_words.hpp"
#include "engine/report/content_policy.hpp"
#include "engine/report/drawing_labels.hpp"
#include "engine/report/drawing_svg.hpp"
#include "engine/report/html_text.hpp"
#include "engine/report/sheet_style.hpp"
#include "engine/report/words.hpp"

namespace packproof::report {

namespace {

using inspect::BuildSheet;
using inspect::Finding;
using inspect::Sheet;
using inspect::SheetLine;
using rules::SheetLayout;
using State = inspect::SheetLine::State;

constexpr std::size_t digest_digits = 8;
constexpr double page_width = 190.0;  // millimetres
constexpr double plan_width = 120.0;  // leaves a column beside it
constexpr double plan_height = 82.0;
constexpr std::size_t most_to_find_out = 12;
constexpr std::size_t title_columns = 120;  // a longer name would take the page from the drawing
constexpr std::size_t longest_kept = 12;    // bytes of a value that is not broken between two lines

/// Words of strangers cannot turn round what stands beside them.
std::string words(std::string_view untrusted) {
    return fmt::format("<bdi>{}</bdi>", html_text(untrusted));
}

std::string box(State state) {
    const char mark = mark_of(state);
    return fmt::format("<span class=\"box\">{}</span>", mark == ' ' ? std::string() : std::string(1, mark));
}

std::string item_class(const SheetLine& line, std::string_view more = {}) {
    std::string names(more);
    if (line.hold) names += names.empty() ? "hold" : " hold";
    if (line.state == State::outside) names += names.empty() ? "wrong" : " wrong";
    return names.empty() ? std::string() : fmt::format(" class=\"{}\"", names);
}

std::string blank_or_read(const SheetLine& line) {
    if (!line.found.empty()) return " read " + words(read_words(line));
    return line.measured ? " <span class=\"keep\">read <span class=\"blank\"></span></span>" : std::string();
}

const std::string& text_of(const SheetLine& line) {
    return line.brief.empty() ? line.text : line.brief;
}

void write_item(std::string& out, const SheetLine& line, const std::string& end) {
    out += fmt::format("<li{}>{}{}{}", item_class(line), box(line.state), line.hold ? "Hold: " : "",
                       words(text_of(line)));
    if (!line.expects.empty())
        out +=
            fmt::format(": <b{}>{}</b>", expect_words(line).size() <= longest_kept ? " class=\"keep\"" : "",
                        words(expect_words(line)));
    out += blank_or_read(line) + end + "</li>\n";
}

/// The lines from `begin` on that one definition repeats; past the last.
std::size_t end_of_series(const Sheet& sheet, std::size_t begin) {
    std::size_t end = begin + 1;
    while (end < sheet.lines.size() && sheet.lines[end].number == sheet.lines[end - 1].number + 1 &&
           sheet.lines[end].item == sheet.lines[begin].item)
        ++end;
    return end;
}

std::string stop_of(const SheetLine& line) {
    return fmt::format(" <b>Stop:</b> {}", words(line.stop));
}

bool is_series(const Sheet& sheet, std::size_t begin) {
    return sheet.lines[begin].number == 1 && end_of_series(sheet, begin) > begin + 1;
}

/// Where all expect alike, their span says enough.
bool expects_alike(const Sheet& sheet, std::size_t begin, std::size_t end) {
    return std::all_of(sheet.lines.data() + begin, sheet.lines.data() + end, [&](const SheetLine& line) {
        return expect_words(line) == expect_words(sheet.lines[begin]);
    });
}

/// One line for a series that expects alike: the lowest and the highest; what was read of it, by number.
void write_span(std::string& out, const Sheet& sheet, std::size_t begin, std::size_t end) {
    const SheetLine& first = sheet.lines[begin];
    out += fmt::format(
        "<li{}>{}{}: <b>{}</b> <span class=\"keep\">lowest <span "
        "class=\"blank\"></span></span> <span class=\"keep\">highest <span "
        "class=\"blank\"></span></span>",
        item_class(first), box(State::open), words(text_of(first)), words(expect_words(first)));
    for (std::size_t i = begin; i < end; ++i)
        if (!sheet.lines[i].found.empty())
            out += fmt::format("; {}: {}", sheet.lines[i].number, words(read_words(sheet.lines[i])));
    if (!first.stop.empty()) out += stop_of(first);
    out += "</li>\n";
}

/// One cell for each: its number, what to expect, a blank.
void write_series(std::string& out, const Sheet& sheet, std::size_t begin, std::size_t end) {
    const std::span lines(sheet.lines.data() + begin, end - begin);
    out += fmt::format("<p>{}</p>\n<ol class=\"grid\">\n", words(text_of(lines.front())));
    for (const SheetLine& line : lines) {
        const bool as_expected = line.state == State::inside;
        const bool filled = !line.found.empty() && !as_expected;
        out += fmt::format("<li{}><b>{}</b>", item_class(line, filled ? "filled" : ""), line.number);
        if (!as_expected) out += words(expect_words(line));
        out += fmt::format("<span class=\"blank\">{}</span></li>\n",
                           line.found.empty()
                               ? std::string()
                               : fmt::format(" {} {}", mark_of(line.state), words(read_words(line))));
    }
    out += "</ol>\n";
}

void begin_section(std::string& out, const Sheet& sheet) {
    out += fmt::format("<section>\n<h2>{}</h2>\n", words(sheet.title));
    if (!sheet.brief.empty()) out += fmt::format("<p>{}</p>\n", words(sheet.brief));
}

/// Lines that stand alone; series are written elsewhere.
void write_list(std::string& out, const Sheet& sheet, std::string_view classes) {
    begin_section(out, sheet);
    out += fmt::format("<ul class=\"{}\">\n", classes);
    for (std::size_t i = 0; i < sheet.lines.size();) {
        if (is_series(sheet, i)) {
            const std::size_t end = end_of_series(sheet, i);
            if (expects_alike(sheet, i, end)) write_span(out, sheet, i, end);
            i = end;
            continue;
        }
        const SheetLine& line = sheet.lines[i];
        write_item(out, line, ends_its_stop(sheet, i) && !line.stop.empty() ? stop_of(line) : std::string());
        ++i;
    }
    out += "</ul>\n</section>\n";
}

void write_table(std::string& out, const Sheet& sheet) {
    out += fmt::format(
        "<table>\n<caption>{}{}</caption>\n<thead><tr><th scope=\"col\">done</th><th "
        "scope=\"col\">what</th><th scope=\"col\">parts in their order</th><th "
        "scope=\"col\">value</th></tr></thead>\n<tbody>\n",
        words(sheet.title), sheet.brief.empty() ? "" : ". " + words(sheet.brief));
    for (const SheetLine& line : sheet.lines)
        out += fmt::format("<tr{}><td>{}</td><td>{}</td><td>{}</td><td><b>{}</b>{}</td></tr>\n",
                           item_class(line), box(line.state), words(text_of(line)), words(line.detail),
                           words(expect_words(line)), blank_or_read(line));
    out += "</tbody>\n</table>\n";
}

bool has_grid(const Sheet& sheet) {
    for (std::size_t i = 0; i < sheet.lines.size(); ++i)
        if (is_series(sheet, i) && !expects_alike(sheet, i, end_of_series(sheet, i))) return true;
    return false;
}

bool is_grid_alone(const Sheet& sheet) {
    return is_series(sheet, 0) && !expects_alike(sheet, 0, end_of_series(sheet, 0)) &&
           end_of_series(sheet, 0) == sheet.lines.size();
}

void write_grids(std::string& out, const Sheet& sheet) {
    out += fmt::format("<section>\n<h2>{}</h2>\n", words(sheet.title));
    for (std::size_t i = 0; i < sheet.lines.size();) {
        const std::size_t end = is_series(sheet, i) ? end_of_series(sheet, i) : i + 1;
        if (end > i + 1 && !expects_alike(sheet, i, end)) {
            write_series(out, sheet, i, end);
            if (!sheet.lines[i].stop.empty())
                out += fmt::format("<p class=\"hold\">Stop: {}</p>\n", words(sheet.lines[i].stop));
        }
        i = end;
    }
    out += "</section>\n";
}

std::string head(const BuildSheet& sheet) {
    const inspect::BenchList& list = sheet.list;
    const std::string name = shortened(list.title.empty() ? list.file : list.title, title_columns);
    const std::string title = "Build sheet: " + name;
    std::string out = "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n";
    out += content_policy(sheet_style);
    out += "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n";
    out +=
        fmt::format("<title>{}</title>\n<style>{}</style>\n</head>\n<body>\n", html_text(title), sheet_style);
    out += fmt::format(
        "<header>\n<div>\n<h1>{}</h1>\n<p>{}, digest {}; rules {}, digest {}</p>\n</div>\n<ul "
        "class=\"fields\">\n",
        words(name), words(shortened(list.file, title_columns)),
        html_text(list.input_digest.substr(0, digest_digits)), html_text(list.rules_version),
        html_text(list.rules_digest.substr(0, digest_digits)));
    for (const std::string_view field : {"Name", "Date", "Second person", "Tools, numbers"})
        out += fmt::format("<li>{}</li>\n", field);
    out += "</ul>\n</header>\n<main>\n";
    if (!list.stops.empty()) {
        out += "<div class=\"stop\">\n<h2>Stop: these are critical</h2>\n<ul>\n";
        for (const std::string& stop : list.stops)
            out += fmt::format("<li>{}</li>\n", words(stop));
        out += "</ul>\n</div>\n";
    }
    return out;
}

/// Drawings to scale with short lists beside them, the others below.
void write_drawings(std::string& out, const BuildSheet& sheet) {
    std::vector<inspect::Figure> to_scale;
    std::vector<inspect::Figure> others;
    for (const inspect::Figure& figure : sheet.figures)
        (figure.to_scale ? to_scale : others).push_back(figure);
    std::string beside;
    for (const Sheet& one : sheet.list.sheets)
        if (one.layout == SheetLayout::beside) write_list(beside, one, "todo");
    if (!to_scale.empty()) {
        const double width = beside.empty() ? page_width : plan_width;
        out += fmt::format("<div class=\"plan\">\n{}<div>\n{}</div>\n</div>\n",
                           print_drawing(to_scale, {width, plan_height, "plan"}), beside);
        beside.clear();
    }
    out += print_drawing(others, {page_width, plan_height, "way"});
    if (!beside.empty()) out += fmt::format("<div class=\"columns\">\n{}</div>\n", beside);
}

/// A verdict that somebody lives with for a time stays, marked.
std::string conceded_mark(const Finding& finding, const inspect::Report& report) {
    if (!finding.conceded) return {};
    return fmt::format("; <b>conceded</b> by {}",
                       words(inspect::conceded_words(report.concessions[*finding.concession])));
}

void write_findings(std::string& out, const BuildSheet& sheet) {
    out += fmt::format("<section>\n<h2>What the inspection found</h2>\n<p>{}</p>\n<ul class=\"todo\">\n",
                       words(verdict_sentence(sheet.report)));
    std::size_t folded = 0;
    for (const Finding& finding : sheet.report.findings) {
        const bool open =
            finding.verdict == inspect::Verdict::fails || finding.verdict == inspect::Verdict::undecided;
        // An observation stops nothing; what is critical and fails stands above.
        const bool critical = finding.rule_class == inspect::Class::critical;
        const bool told = finding.rule_class == inspect::Class::observation ||
                          (critical && finding.verdict == inspect::Verdict::fails);
        if (!open || told) continue;
        if (finding.cause && !critical) {
            ++folded;
            continue;
        }
        out += fmt::format("<li>{}<b>{} {}</b> {}; needs {}{}</li>\n", box(State::open),
                           rules::class_name(finding.rule_class), rules::verdict_name(finding.verdict),
                           words(finding.item_name + ": " + finding.asks), words(needs_words(finding)),
                           conceded_mark(finding, sheet.report));
    }
    if (folded > 0)
        out += fmt::format("<li>{} from these: packproof inspect names them.</li>\n",
                           counted(folded, "more follows", "more follow"));
    const auto& measure = sheet.list.measure;
    out += "</ul>\n";
    if (!measure.empty()) {
        out += "<p><b>To find out</b>, the first decide most:</p>\n<ul class=\"flow\">\n";
        for (std::size_t i = 0; i < std::min(measure.size(), most_to_find_out); ++i)
            out += fmt::format("<li>{}{}</li>\n", box(State::open), words(measure[i].title));
        if (measure.size() > most_to_find_out)
            out +=
                fmt::format("<li>and {} more on the bench list.</li>\n", measure.size() - most_to_find_out);
        out += "</ul>\n";
    }
    out += "</section>\n";
}

void write_cautions(std::string& out, const BuildSheet& sheet) {
    out += "<section>\n<h2>Cautions</h2>\n<ul>\n";
    for (const std::string& caution : sheet.cautions)
        out += fmt::format("<li>{}</li>\n", words(caution));
    out += "</ul>\n</section>\n";
}

}  // namespace

std::string print_sheet(const BuildSheet& sheet) {
    std::string out = head(sheet);
    write_drawings(out, sheet);
    for (const Sheet& one : sheet.list.sheets)
        if (one.layout == SheetLayout::table) write_table(out, one);
    for (const Sheet& one : sheet.list.sheets)
        if (has_grid(one)) write_grids(out, one);
    out += "<div class=\"columns\">\n";
    for (const Sheet& one : sheet.list.sheets) {
        if (one.layout == SheetLayout::list && !is_grid_alone(one)) write_list(out, one, "todo");
        if (one.layout == SheetLayout::flow) write_list(out, one, "flow");
    }
    write_findings(out, sheet);
    write_cautions(out, sheet);
    out += fmt::format("</div>\n</main>\n<footer>{}</footer>\n</body>\n</html>\n",
                       words(inspect::general_caution()));
    return out;
}

}  // namespace packproof::report
