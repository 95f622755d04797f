#include "engine/report/request_html.hpp"

#include <fmt/format.h>

#include "engine/report/html_page.hpp"
#include "engine/report/html_text.hpp"
#include "engine/report/request_words.hpp"

namespace packproof::report {

namespace {

constexpr std::string_view style = R"(
body { font: 11pt/1.45 Georgia, "Times New Roman", serif; color: #111; background: #fff; max-width: 46rem;
       margin: 2rem auto; padding: 0 1rem; }
h1 { font-size: 1.5rem; line-height: 1.2; }
h2 { font-size: 1.15rem; margin-top: 2rem; border-bottom: 2px solid #111; }
h3 { font-size: 1rem; margin-bottom: .2rem; }
section { break-inside: avoid; }
dl { margin: .4rem 0 .6rem; display: grid; grid-template-columns: 10rem 1fr; gap: .15rem .8rem; }
dt { font-style: italic; }
dd { margin: 0; }
ul { margin: 0; padding-left: 1.1rem; }
.answer { border-bottom: 1px solid #555; height: 1.6rem; margin: .2rem 0 1rem; color: #444; font-size: .85rem; }
footer { margin-top: 2rem; font-size: .85rem; color: #333; }
@page { margin: 18mm; }
@media print { body { margin: 0; max-width: none; } }
)";

void write_line(std::string& out, const LetterLine& line) {
    out += fmt::format("<dt>{}</dt>\n<dd>", html_isolated(line.label));
    if (line.texts.size() == 1) {
        out += html_isolated(line.texts.front());
    } else {
        out += "<ul>\n";
        for (const std::string& one : line.texts)
            out += fmt::format("<li>{}</li>\n", html_isolated(one));
        out += "</ul>";
    }
    out += "</dd>\n";
}

void write_question(std::string& out, const inspect::Question& question, std::size_t number) {
    out += fmt::format("<section id=\"question-{}\">\n<h3>{}. {}</h3>\n<p>{}</p>\n", number, number,
                       html_isolated(question.title), html_isolated(question.text));
    const auto lines = lines_of(question);
    if (!lines.empty()) {
        out += "<dl>\n";
        for (const LetterLine& line : lines)
            write_line(out, line);
        out += "</dl>\n";
    }
    out += "<div class=\"answer\">Answer, and the paper that says so:</div>\n</section>\n";
}

}  // namespace

std::string print_request_html(const inspect::Request& request, RequestOptions options) {
    const Letter letter = letter_of(request, options);
    const HtmlFrame frame{style};
    std::string out = begin_html(letter.heading, frame);
    out += fmt::format("<main>\n<h1>{}</h1>\n", html_isolated(letter.heading));
    for (const std::string& paragraph : letter.opening)
        out += fmt::format("<p>{}</p>\n", html_isolated(paragraph));
    std::size_t number = 0;
    for (const LetterPart& part : letter.parts) {
        out += fmt::format("<h2>{}</h2>\n<p>{}</p>\n", html_isolated(part.heading), html_isolated(part.lead));
        for (const inspect::Question* question : part.questions)
            write_question(out, *question, ++number);
    }
    for (const std::string& paragraph : letter.closing)
        out += fmt::format("<p>{}</p>\n", html_isolated(paragraph));
    out += fmt::format("</main>\n<footer>{}</footer>\n", html_isolated(letter.origin));
    return out + end_html(frame);
}

}  // namespace packproof::report
