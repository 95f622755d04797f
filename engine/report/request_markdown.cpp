#include "engine/report/request_markdown.hpp"

#include <fmt/format.h>

#include "engine/report/markdown_text.hpp"
#include "engine/report/request_words.hpp"
#include "engine/text/safe_print.hpp"

namespace packproof::report {

namespace {

constexpr std::size_t columns = 100;

void write_paragraph(std::string& out, const std::string& words) {
    out += text::wrap(words, columns, "", "") + "\n\n";
}

void write_line(std::string& out, const LetterLine& line) {
    if (line.texts.size() == 1) {
        out += text::wrap(fmt::format("- *{}:* {}", line.label, markdown_text(line.texts.front())), columns,
                          "", "  ") +
               "\n";
        return;
    }
    out += fmt::format("- *{}:*\n", line.label);
    for (const std::string& one : line.texts)
        out += text::wrap("- " + markdown_text(one), columns, "  ", "    ") + "\n";
}

}  // namespace

std::string print_request_markdown(const inspect::Request& request, RequestOptions options) {
    const Letter letter = letter_of(request, options);
    std::string out = "# " + markdown_text(letter.heading) + "\n\n";
    for (const std::string& paragraph : letter.opening)
        write_paragraph(out, markdown_text(paragraph));
    std::size_t number = 0;
    for (const LetterPart& part : letter.parts) {
        out += fmt::format("## {}\n\n", part.heading);
        write_paragraph(out, std::string(part.lead));
        for (const inspect::Question* question : part.questions) {
            out += fmt::format("### {}. {}\n\n", ++number, markdown_text(question->title));
            write_paragraph(out, markdown_text(question->text));
            for (const LetterLine& line : lines_of(*question))
                write_line(out, line);
            out += '\n';
        }
    }
    for (const std::string& paragraph : letter.closing)
        write_paragraph(out, markdown_text(paragraph));
    out += text::wrap("*" + markdown_text(letter.origin) + "*", columns, "", "") + "\n";
    return out;
}

}  // namespace packproof::report
