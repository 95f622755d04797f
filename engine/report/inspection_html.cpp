#include "engine/report/inspection_html.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>
#include <set>
#include <string_view>
#include <vector>

#include "engine/inspect/compare.hpp"
#include "engine/report/html_page.hpp"
#include "engine/report/html_text.hpp"
#include "engine/report/inspection_html_assets.hpp"
#include "engine/report/inspection_html_finding.hpp"
#include "engine/report/words.hpp"

namespace packproof::report {

namespace {

using inspect::Class;
using inspect::Finding;
using inspect::Report;
using inspect::Verdict;

constexpr std::size_t digest_digits = 8;  // enough to tell versions apart by eye

constexpr std::array classes{Class::critical, Class::major, Class::minor, Class::observation};
constexpr std::array verdicts{Verdict::fails, Verdict::undecided, Verdict::not_stated, Verdict::conforms};

// A part of the page: findings of one verdict, and of one class where classes are told apart. A further state
// that a finding can be in gets a line here.
struct Group {
    std::string_view id;
    std::string_view heading;
    Verdict verdict;
    std::optional<Class> of_class = std::nullopt;

    bool holds(const Finding& finding) const {
        return finding.verdict == verdict && (!of_class || finding.rule_class == *of_class);
    }
};

constexpr std::array<Group, 7> groups{{
    {"critical", "Critical: can injure or burn", Verdict::fails, Class::critical},
    {"major", "Major: stops the build or ruins a part", Verdict::fails, Class::major},
    {"minor", "Minor: margin is gone", Verdict::fails, Class::minor},
    {"observation", "Observations: worth knowing", Verdict::fails, Class::observation},
    {"undecided", "Undecided: the limit lies within the tolerance", Verdict::undecided},
    {"not-stated", "Not stated: checks that wait for values", Verdict::not_stated},
    {"conforms", "Conforms", Verdict::conforms},
}};

bool is_shown(const Finding& finding, const Options& options) {
    return options.all || finding.verdict != Verdict::conforms;
}

bool is_judged(const Finding& finding) {
    return finding.verdict == Verdict::fails || finding.verdict == Verdict::undecided;
}

// Each caution once, in the order of the findings that carry it.
std::vector<std::string_view> cautions_of(const Report& report) {
    std::vector<std::string_view> cautions;
    for (const Finding& finding : report.findings) {
        const bool listed = std::find(cautions.begin(), cautions.end(), finding.caution) != cautions.end();
        if (is_judged(finding) && !finding.caution.empty() && !listed) cautions.push_back(finding.caution);
    }
    return cautions;
}

// One description and where it stands on the page.
struct Part {
    const Report& report;
    std::size_t number;  // from 1
    std::vector<std::string_view> cautions;
    std::vector<std::size_t>
        numbers;  // of its findings, as in the text form; 0: a consequence, or not judged

    Part(const Report& of, std::size_t place) : report(of), number(place), cautions(cautions_of(of)) {
        std::size_t last = 0;
        for (const Finding& finding : of.findings)
            numbers.push_back(is_judged(finding) && !is_consequence(finding) ? ++last : 0);
    }

    std::vector<std::size_t> of_group(const Group& group) const {
        std::vector<std::size_t> indices;
        for (std::size_t i = 0; i < report.findings.size(); ++i)
            if (group.holds(report.findings[i])) indices.push_back(i);
        return indices;
    }
};

void write_glance_row(std::string& out, std::string_view label, std::string_view about,
                      std::string_view html) {
    out += fmt::format("<div><dt>{} <small>{}</small></dt><dd>{}</dd></div>\n", label, about, html);
}

// What fails in a class, as links; where nothing does, how many of its checks are open.
std::string failing_html(const Part& part, Class c) {
    std::string links;
    std::size_t undecided = 0;
    std::size_t waiting = 0;
    for (std::size_t i = 0; i < part.report.findings.size(); ++i) {
        const Finding& finding = part.report.findings[i];
        if (finding.rule_class != c) continue;
        if (finding.verdict == Verdict::undecided) ++undecided;
        if (finding.verdict == Verdict::not_stated) ++waiting;
        if (finding.verdict == Verdict::fails && part.numbers[i] > 0)
            links += fmt::format("<li><a href=\"#{}\">{}. {}</a> {}</li>\n", html_id(part.number, i),
                                 part.numbers[i], html_isolated(item_words(finding)),
                                 html_isolated(finding.asks.empty() ? finding.rule_name : finding.asks));
    }
    std::string open;
    if (undecided > 0) open += fmt::format("; {} undecided", counted(undecided, "is", "are"));
    if (waiting > 0) open += fmt::format("; {} for values", counted(waiting, "waits", "wait"));
    if (links.empty()) return "No such check fails" + open + ".";
    if (!open.empty()) open = "Besides, of such checks " + open.substr(2) + ".";
    return fmt::format("<ol>\n{}</ol>{}", links, open);
}

std::string open_html(const Part& part) {
    const auto& coverage = part.report.coverage;
    std::string html;
    if (coverage.undecided > 0)
        html += fmt::format("<li><a href=\"#undecided-{}\">{} undecided</a>: a tolerance decides</li>\n",
                            part.number, counted(coverage.undecided, "check is", "checks are"));
    if (coverage.not_stated > 0)
        html += fmt::format("<li><a href=\"#not-stated-{}\">{}</a> for values</li>\n", part.number,
                            counted(coverage.not_stated, "check waits", "checks wait"));
    return html.empty() ? "No check is undecided or waits for a value." : "<ul>\n" + html + "</ul>";
}

// How many different values wait for whom.
std::string answerers_html(const Part& part) {
    constexpr std::array<std::array<std::string_view, 2>, 3> names{{
        {"supplier", "from the supplier: packproof rfi writes the letter"},
        {"bench", "at the bench: packproof bench lists them"},
        {"builder", "by the builder's decision"},
    }};
    std::string html;
    for (const auto& name : names) {
        std::set<std::string_view> values;
        for (const Finding& finding : part.report.findings)
            for (const auto& wanted : finding.wanted)
                if (answerer_name(wanted) == name[0]) values.insert(wanted.text);
        if (!values.empty())
            html += fmt::format("<li>{} {}</li>\n", counted(values.size(), "value", "values"), name[1]);
    }
    return html.empty() ? "No value is wanted." : "<ul>\n" + html + "</ul>";
}

void write_glance(std::string& out, const Part& part) {
    const auto& coverage = part.report.coverage;
    const std::size_t made = coverage.conforming + coverage.failing + coverage.undecided;
    out += "<dl class=\"glance\">\n";
    write_glance_row(out, "What can hurt", "critical", failing_html(part, Class::critical));
    write_glance_row(out, "What stops the build", "major", failing_html(part, Class::major));
    write_glance_row(out, "What is open", "undecided, not stated", open_html(part));
    write_glance_row(out, "Who can settle it", "values, each once", answerers_html(part));
    write_glance_row(
        out, "Coverage", "what could be checked",
        fmt::format("{} of {} could be made. <a href=\"#coverage-{}\">All counts</a>", made,
                    counted(coverage.applicable, "check that applies", "checks that apply"), part.number));
    out += "</dl>\n";
}

void write_heading(std::string& out, const Part& part) {
    const Report& report = part.report;
    out += fmt::format("<h2 id=\"heading-{}\">{}</h2>\n", part.number,
                       html_isolated(report.title.empty() ? report.file : report.title));
    std::string origin = html_isolated(inspect::name_of(report));
    if (!report.input_digest.empty())
        origin += ", digest " + html_isolated(report.input_digest.substr(0, digest_digits));
    origin += "; inspected by rules";
    if (!report.rules_version.empty()) origin += " " + html_isolated(report.rules_version);
    if (!report.rules_digest.empty())
        origin += ", digest " + html_isolated(report.rules_digest.substr(0, digest_digits));
    if (!report.judged_on.empty())
        origin += fmt::format("<br>concessions judged on {}{}", html_isolated(report.judged_on),
                              report.judged_today ? " (today)" : "");
    for (const std::string& chosen : report.chosen)
        origin += "<br>by " + html_isolated(chosen);
    out += fmt::format("<p class=\"origin\">{}</p>\n", origin);
    out += fmt::format("<p class=\"verdict\">{}</p>\n", html_text(verdict_sentence(report)));
    for (const inspect::Relaxed& one : report.relaxed)
        out += fmt::format("<p><strong>Rule relaxed.</strong> {}</p>\n", html_isolated(relaxed_words(one)));
    if (!report.comparison) return;
    out += fmt::format("<p>{}</p>\n", html_isolated(comparison_words(*report.comparison)));
    if (report.comparison->gone.empty()) return;
    out += "<ul>\n";
    for (const inspect::Gone& gone : report.comparison->gone)
        out += fmt::format("<li>gone: {}</li>\n", html_isolated(gone_words(gone)));
    out += "</ul>\n";
}

void write_next(std::string& out, const Report& report) {
    if (report.next.empty()) return;
    out += "<p>These would settle the most, by the weight of their class:</p>\n<ol>\n";
    for (const auto& next : report.next) {
        const std::string_view who = answerer_name(next.value);
        std::string rules;
        for (const std::string& name : next.rule_names)
            rules += (rules.empty() ? "" : ", ") + html_isolated(name);
        out += fmt::format(
            "<li><strong>{}</strong>{}{}<br><span class=\"rule\">{}{}</span></li>\n",
            html_isolated(missing_words(next.value)), next.value.ask.empty() ? "" : ": ",
            html_isolated(next.value.ask), who.empty() ? "" : fmt::format("{}; ", who),
            counted(next.rules, "check waits", "checks wait") + (rules.empty() ? rules : ": " + rules));
    }
    out += "</ol>\n";
}

void write_group(std::string& out, const Part& part, const Group& group, const text::Sources& sources,
                 const Options& options) {
    const auto indices = part.of_group(group);
    if (indices.empty() || !is_shown(part.report.findings[indices.front()], options)) return;
    out += fmt::format("<section class=\"group\" id=\"{0}-{1}\">\n<h3>{2}</h3>\n", group.id, part.number,
                       group.heading);
    const auto follow =
        static_cast<std::size_t>(std::count_if(indices.begin(), indices.end(), [&](std::size_t i) {
            return is_consequence(part.report.findings[i]);
        }));
    out +=
        fmt::format("<p class=\"origin\">{}{}</p>\n", counted(indices.size(), "finding", "findings"),
                    follow > 0 ? fmt::format("; {} from another", counted(follow, "follows", "follow")) : "");
    if (group.verdict == Verdict::not_stated) write_next(out, part.report);
    for (const std::size_t i : indices) {
        const Finding& finding = part.report.findings[i];
        const auto caution = std::find(part.cautions.begin(), part.cautions.end(), finding.caution);
        const bool cautioned = is_judged(finding) && caution != part.cautions.end();
        write_html_finding(
            out, part.report, i, sources,
            {part.number, part.numbers[i],
             cautioned ? static_cast<std::size_t>(caution - part.cautions.begin()) + 1 : 0, options.all});
    }
    out += "</section>\n";
}

void write_assumptions(std::string& out, const Report& report) {
    if (report.assumptions.empty() && report.tried.empty()) return;
    out += "<h3>Assumed where the description says nothing</h3>\n<ul>\n";
    for (const auto& assumption : joined_assumptions(report.assumptions)) {
        out += fmt::format("<li>{}", html_isolated(assumption.text));
        if (!assumption.basis.empty())
            out += fmt::format("<br><span class=\"rule\">{}</span>", html_isolated(assumption.basis));
        out += "</li>\n";
    }
    for (const std::string& tried : report.tried)
        out += fmt::format("<li>tried in turn: {}</li>\n", html_isolated(tried));
    out += "</ul>\n";
}

void write_coverage(std::string& out, const Part& part) {
    const auto& coverage = part.report.coverage;
    out += fmt::format(
        "<h3 id=\"coverage-{}\">Coverage</h3>\n<table class=\"coverage\">\n"
        "<caption>Each rule on each item that it speaks of is one check.</caption>\n"
        "<thead><tr><th scope=\"col\">checks that</th><th class=\"count\" scope=\"col\">number</th>"
        "</tr></thead>\n<tbody>\n",
        part.number);
    const std::array<std::pair<std::string_view, std::size_t>, 7> rows{{
        {"apply", coverage.applicable},
        {"conform", coverage.conforming},
        {"fail", coverage.failing},
        {"are undecided", coverage.undecided},
        {"wait for values not stated", coverage.not_stated},
        {"are conceded", coverage.conceded},
        {"do not apply", coverage.not_applicable},
    }};
    for (const auto& row : rows)
        out += fmt::format("<tr><th scope=\"row\">{}</th><td class=\"count\">{}</td></tr>\n", row.first,
                           row.second);
    out += "</tbody>\n</table>\n";
}

void write_cautions(std::string& out, const Part& part) {
    if (part.cautions.empty()) return;
    out += "<h3>Cautions</h3>\n<ol>\n";
    for (std::size_t i = 0; i < part.cautions.size(); ++i)
        out += fmt::format("<li id=\"caution-{}-{}\">{}</li>\n", part.number, i + 1,
                           html_isolated(part.cautions[i]));
    out += "</ol>\n";
}

void write_box(std::string& out, std::string_view name, std::string_view value, std::size_t count) {
    out += fmt::format("<label><input type=\"checkbox\" name=\"{}\" value=\"{}\" checked> {} ({})</label>\n",
                       name, value, value, count);
}

// How many findings of the page a question holds for.
template <typename Holds>
std::size_t count_shown(std::span<const Report> reports, const Options& options, Holds holds) {
    std::size_t count = 0;
    for (const Report& report : reports)
        for (const Finding& finding : report.findings)
            if (is_shown(finding, options) && holds(finding)) ++count;
    return count;
}

// Hidden until the script runs, without which it could do nothing.
std::string filter_html(std::span<const Report> reports, const Options& options) {
    std::string out =
        "<section id=\"filter\" aria-label=\"Filter of the findings\" hidden>\n"
        "<p class=\"show\">Show</p>\n<fieldset>\n<legend>Verdict</legend>\n";
    for (const Verdict verdict : verdicts)
        if (options.all || verdict != Verdict::conforms)
            write_box(out, "verdict", rules::verdict_name(verdict),
                      count_shown(reports, options, [&](const Finding& f) { return f.verdict == verdict; }));
    out += "</fieldset>\n<fieldset>\n<legend>Class</legend>\n";
    for (const Class c : classes)
        write_box(out, "class", rules::class_name(c),
                  count_shown(reports, options, [&](const Finding& f) { return f.rule_class == c; }));
    out +=
        "</fieldset>\n<div class=\"seek\">\n"
        "<label class=\"words\" for=\"filter-words\">Words, all of which a finding must hold: an item, a "
        "rule, "
        "a file</label>\n<input type=\"search\" id=\"filter-words\" autocomplete=\"off\" "
        "spellcheck=\"false\">\n"
        "<button type=\"button\" id=\"filter-reset\">Show all</button>\n"
        "<button type=\"button\" id=\"open-proofs\">Open every working</button>\n"
        "<button type=\"button\" id=\"close-proofs\">Close every working</button>\n"
        "<output id=\"filter-count\" for=\"filter-words\"></output>\n</div>\n</section>\n"
        "<p id=\"filter-paper\" class=\"on-paper\" hidden></p>\n";
    return out;
}

// The filter of a page with one description stands after its verdict, before its findings.
void write_part(std::string& out, const Part& part, std::string_view filter, const text::Sources& sources,
                const Options& options) {
    out += fmt::format(
        "<section class=\"description\" id=\"description-{0}\" aria-labelledby=\"heading-{0}\">\n",
        part.number);
    write_heading(out, part);
    write_glance(out, part);
    out += filter;
    for (const Group& group : groups)
        write_group(out, part, group, sources, options);
    write_assumptions(out, part.report);
    write_coverage(out, part);
    write_cautions(out, part);
    out += "</section>\n";
}

void write_not_inspected(std::string& out, const Options& options) {
    if (options.not_inspected.empty()) return;
    out += fmt::format(
        "<p class=\"verdict\">This report is not complete: {} not inspected, for the input has "
        "errors.</p>\n<ul>\n",
        counted(options.not_inspected.size(), "file was", "files were"));
    for (const std::string& file : options.not_inspected)
        out += fmt::format("<li>{}</li>\n", html_isolated(file));
    out += "</ul>\n";
}

void write_contents(std::string& out, std::span<const Report> reports) {
    if (reports.size() < 2) return;
    out += fmt::format("<nav aria-label=\"Descriptions\">\n<p>{} inspected:</p>\n<ol>\n",
                       counted(reports.size(), "description", "descriptions"));
    for (std::size_t i = 0; i < reports.size(); ++i)
        out +=
            fmt::format("<li><a href=\"#description-{}\">{}</a>: {}</li>\n", i + 1,
                        html_isolated(inspect::name_of(reports[i])), html_text(verdict_sentence(reports[i])));
    out += "</ol>\n</nav>\n";
}

}  // namespace

std::string print_inspection_html(std::span<const Report> reports, const text::Sources& sources,
                                  const Options& options) {
    const HtmlFrame frame{inspection_style(), inspection_script()};
    std::string out = begin_html(
        "Inspection: " + (reports.size() == 1 ? inspect::name_of(reports.front())
                                              : counted(reports.size(), "description", "descriptions")),
        frame);
    out += "<main>\n<h1>Inspection</h1>\n";
    write_not_inspected(out, options);
    write_contents(out, reports);
    const std::string filter = filter_html(reports, options);
    const bool single = reports.size() == 1;
    if (!single) out += filter;
    for (std::size_t i = 0; i < reports.size(); ++i)
        write_part(out, Part(reports[i], i + 1), single ? filter : "", sources, options);
    out += fmt::format("</main>\n<footer>\n<p>{}</p>\n</footer>\n", html_text(inspect::general_caution()));
    return out + end_html(frame);
}

}  // namespace packproof::report
