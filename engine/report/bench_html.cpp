#include "engine/report/bench_html.hpp"

#include <fmt/format.h>

#include "engine/report/bench_words.hpp"
#include "engine/report/html_page.hpp"
#include "engine/report/html_text.hpp"

namespace packproof::report {

namespace {

using inspect::BenchList;
using inspect::Sheet;
using inspect::SheetLine;

constexpr std::string_view style = R"(
body { font: 10.5pt/1.35 "Liberation Sans", Arial, sans-serif; color: #111; background: #fff; max-width: 52rem;
       margin: 1.5rem auto; padding: 0 1rem; }
h1 { font-size: 1.4rem; margin: 0; }
h2 { font-size: 1.1rem; margin: 1.4rem 0 .2rem; border-bottom: 2px solid #111; }
p { margin: .3rem 0; }
table { border-collapse: collapse; width: 100%; margin: .4rem 0; }
th, td { text-align: left; vertical-align: top; border-bottom: 1px solid #777; padding: .25rem .4rem; }
th { font-weight: normal; font-style: italic; }
tr { break-inside: avoid; }
.box { width: 1.2rem; }
.box span { display: inline-block; width: .9rem; height: .9rem; border: 1.5px solid #111; text-align: center;
            line-height: .9rem; font-weight: bold; }
.read { width: 9rem; }
.hold { font-weight: bold; }
.stop { border: 2px solid #111; padding: .4rem .6rem; margin: .5rem 0; }
.outside td { border: 2px solid #111; font-weight: bold; }
@page { margin: 14mm; }
@media print { body { margin: 0; max-width: none; } }
)";

void write_sheet(std::string& out, const Sheet& sheet) {
    out +=
        fmt::format("<section id=\"{}\">\n<h2>{}</h2>\n", html_text(sheet.name), html_isolated(sheet.title));
    if (!sheet.about.empty()) out += fmt::format("<p>{}</p>\n", html_isolated(sheet.about));
    out +=
        "<table>\n<thead><tr><th class=\"box\" scope=\"col\">done</th><th scope=\"col\">what</th><th "
        "scope=\"col\">expect</th><th class=\"read\" scope=\"col\">read</th></tr></thead>\n<tbody>\n";
    for (std::size_t i = 0; i < sheet.lines.size(); ++i) {
        const SheetLine& line = sheet.lines[i];
        const char mark = mark_of(line.state);
        out += fmt::format(
            "<tr{}><td class=\"box\"><span>{}</span></td><td{}>{}{}</td><td>{}</td><td "
            "class=\"read\">{}</td></tr>\n",
            line.state == SheetLine::State::outside ? " class=\"outside\"" : "",
            mark == ' ' ? std::string("&nbsp;") : std::string(1, mark), line.hold ? " class=\"hold\"" : "",
            line.hold ? "Hold: " : "", html_isolated(line.text), html_isolated(expect_words(line)),
            html_isolated(read_words(line)));
        if (ends_its_stop(sheet, i) && !line.stop.empty())
            out += fmt::format("<tr><td colspan=\"4\" class=\"hold\">Stop if not: {}</td></tr>\n",
                               html_isolated(line.stop));
    }
    out += "</tbody>\n</table>\n</section>\n";
}

}  // namespace

std::string print_bench_html(const BenchList& list) {
    const std::string heading = "Bench list: " + (list.title.empty() ? list.file : list.title);
    const HtmlFrame frame{style};
    std::string out = begin_html(heading, frame);
    out += fmt::format("<main>\n<h1>{}</h1>\n", html_isolated(heading));
    out += fmt::format("<p>{}, digest {}; rules {}, digest {}</p>\n", html_isolated(list.file),
                       html_isolated(list.input_digest.substr(0, 8)), html_isolated(list.rules_version),
                       html_isolated(list.rules_digest.substr(0, 8)));
    if (!list.stops.empty()) {
        out += "<div class=\"stop\">\n<h2>Stop: these are critical</h2>\n<ul>\n";
        for (const std::string& stop : list.stops)
            out += fmt::format("<li>{}</li>\n", html_isolated(stop));
        out += "</ul>\n</div>\n";
    }
    for (const Sheet& sheet : list.sheets)
        write_sheet(out, sheet);
    if (!list.measure.empty()) {
        out +=
            "<section id=\"to-find-out\">\n<h2>To find out</h2>\n<p>Checks wait for these; the first decide "
            "most.</p>\n<table>\n<thead><tr><th scope=\"col\">what</th><th scope=\"col\">how</th><th "
            "class=\"read\" scope=\"col\">found</th></tr></thead>\n<tbody>\n";
        for (const inspect::Question& question : list.measure)
            out += fmt::format("<tr><td>{}</td><td>{}</td><td class=\"read\">{}</td></tr>\n",
                               html_isolated(question.title), html_isolated(how_words(question)), "");
        out += "</tbody>\n</table>\n</section>\n";
    }
    out += "<section id=\"cautions\">\n<h2>Cautions</h2>\n<ol>\n";
    for (const std::string& caution : list.cautions)
        out += fmt::format("<li>{}</li>\n", html_isolated(caution));
    out += fmt::format("</ol>\n<p>{}</p>\n</section>\n</main>\n", html_isolated(inspect::general_caution()));
    return out + end_html(frame);
}

}  // namespace packproof::report
