#include "engine/report/reference_html.hpp"

#include <fmt/format.h>

#include "engine/report/html_text.hpp"
#include "engine/text/sha256.hpp"

namespace packproof::report {

namespace {

constexpr std::string_view style = R"(
body { font: 1rem/1.5 system-ui, sans-serif; color: #111; background: #fff; max-width: 60rem; margin: 1.5rem auto;
       padding: 0 1rem; }
h1 { font-size: 1.5rem; line-height: 1.2; overflow-wrap: anywhere; }
h2 { font-size: 1.1rem; margin: 1.5rem 0 .3rem; border-bottom: 1px solid #999; overflow-wrap: anywhere; }
dl { margin: .4rem 0; display: grid; grid-template-columns: 9rem minmax(0, 1fr); gap: .2rem .8rem; }
dt { color: #444; grid-column: 1; }
dd { margin: 0; grid-column: 2; overflow-wrap: anywhere; }
code { font: .92em/1.4 ui-monospace, monospace; white-space: pre-wrap; }
a { color: #0645ad; }
.scroll { overflow-x: auto; }
table { border-collapse: collapse; margin: .5rem 0; }
th, td { border: 1px solid #999; padding: .15rem .5rem; text-align: left; }
input { font: inherit; width: 100%; box-sizing: border-box; padding: .3rem; border: 1px solid #555; }
ul { padding-left: 1.2rem; }
li[hidden], section[hidden] { display: none; }
@media print { nav, form { display: none; } }
)";

// Every word written must stand in an entry.
constexpr std::string_view script = R"(
const box = document.getElementById('search');
const entries = Array.from(document.querySelectorAll('li'), (li) => [li, li.textContent.toLowerCase()]);
const count = document.getElementById('count');
function search() {
  const words = box.value.toLowerCase().split(/\s+/).filter((word) => word !== '');
  let shown = 0;
  for (const [li, text] of entries) {
    li.hidden = !words.every((word) => text.includes(word));
    if (!li.hidden) shown += 1;
  }
  for (const section of document.querySelectorAll('section'))
    section.hidden = section.querySelector('li:not([hidden])') === null;
  count.textContent = shown + ' of ' + entries.length + ' pages';
}
document.getElementById('form').hidden = false;
box.addEventListener('input', search);
search();
)";

// RFC 4648, section 4.
std::string base64_of_hexadecimal(std::string_view digits) {
    constexpr std::string_view alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    const auto value = [](char c) { return static_cast<unsigned>(c <= '9' ? c - '0' : c - 'a' + 10); };
    std::string result;
    unsigned bits = 0;
    int held = 0;
    for (const char c : digits) {
        bits = (bits << 4U) | value(c);
        held += 4;
        if (held < 6) continue;
        held -= 6;
        result += alphabet[(bits >> static_cast<unsigned>(held)) & 63U];
    }
    if (held > 0) result += alphabet[(bits << static_cast<unsigned>(6 - held)) & 63U];
    while (result.size() % 4 != 0)
        result += '=';
    return result;
}

std::string hash(std::string_view content) {
    return "'sha256-" + base64_of_hexadecimal(text::sha256(content)) + "'";
}

std::string beginning(const std::string& title, bool with_script) {
    static const std::string style_hash = hash(style);
    static const std::string script_hash = hash(script);
    std::string policy = "default-src 'none'; base-uri 'none'; form-action 'none'; style-src " + style_hash;
    if (with_script) policy += "; script-src " + script_hash;
    return fmt::format(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
        "<meta name=\"generator\" content=\"packproof manual\">\n"
        "<meta http-equiv=\"Content-Security-Policy\" content=\"{}\">\n"
        "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>{}</title>\n"
        "<style>{}</style>\n</head>\n<body>\n",
        policy, html_text(title), style);
}

std::string shown(const Passage& passage) {
    std::string words = html_text(passage.text);
    if (passage.code) words = "<code>" + words + "</code>";
    if (passage.page.empty()) return words;
    return fmt::format("<a href=\"{}.html{}{}\">{}</a>", html_text(passage.page),
                       passage.anchor.empty() ? "" : "#", html_text(passage.anchor), words);
}

void write_lines(std::string& out, const std::vector<ReferenceLine>& lines) {
    if (lines.empty()) return;
    out += "<dl>\n";
    for (const ReferenceLine& line : lines) {
        if (!line.label.empty()) out += fmt::format("<dt>{}</dt>\n", html_text(line.label));
        out += "<dd>";
        for (std::size_t i = 0; i < line.words.size(); ++i)
            out += (i > 0 ? (line.words[i].code && line.words[i - 1].code ? ", " : " ") : "") +
                   shown(line.words[i]);
        out += "</dd>\n";
    }
    out += "</dl>\n";
}

void write_table(std::string& out, const ReferenceSection& section) {
    if (section.columns.empty()) return;
    out += fmt::format(
        "<div class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"{}\">\n<table>\n<thead>\n<tr>",
        html_text(section.heading));
    for (const std::string& column : section.columns)
        out += fmt::format("<th scope=\"col\">{}</th>", html_text(column));
    out += "</tr>\n</thead>\n<tbody>\n";
    for (const auto& row : section.rows) {
        out += "<tr>";
        for (const std::string& cell : row)
            out += fmt::format("<td>{}</td>", html_text(cell));
        out += "</tr>\n";
    }
    out += "</tbody>\n</table>\n</div>\n";
}

}  // namespace

std::string print_reference_html(const ReferencePage& page) {
    std::string out = beginning(page.title + ", packproof", false);
    out += fmt::format("<nav><a href=\"index.html\">Reference</a>, {}</nav>\n<main>\n<h1>{}</h1>\n",
                       html_text(page.group), html_text(page.title));
    if (!page.summary.empty()) out += fmt::format("<p>{}</p>\n", html_text(page.summary));
    for (const ReferenceSection& section : page.sections) {
        if (section.heading.empty()) {
            write_lines(out, section.lines);
            continue;
        }
        out += section.anchor.empty() ? "<h2>" : fmt::format("<h2 id=\"{}\">", html_text(section.anchor));
        out += html_text(section.heading) + "</h2>\n";
        write_lines(out, section.lines);
        write_table(out, section);
    }
    return out + "</main>\n</body>\n</html>\n";
}

std::string print_reference_index_html(std::span<const ReferencePage> pages) {
    std::string out = beginning("Reference, packproof", true);
    out += "<main>\n<h1>Reference</h1>\n<form id=\"form\" role=\"search\" hidden>\n";
    out += "<label for=\"search\">Search names and what they are for</label>\n";
    out += "<input id=\"search\" type=\"search\" autocomplete=\"off\">\n";
    out += "<p id=\"count\" role=\"status\"></p>\n</form>\n";
    std::string_view group;
    for (const ReferencePage& page : pages) {
        if (page.group != group) {
            if (!group.empty()) out += "</ul>\n</section>\n";
            group = page.group;
            out += fmt::format("<section>\n<h2>{}</h2>\n<ul>\n", html_text(group));
        }
        out += fmt::format("<li><a href=\"{}.html\">{}</a> {}</li>\n", html_text(page.file),
                           html_text(page.title), html_text(page.summary));
    }
    if (!group.empty()) out += "</ul>\n</section>\n";
    return out + fmt::format("</main>\n<script>{}</script>\n</body>\n</html>\n", script);
}

}  // namespace packproof::report
