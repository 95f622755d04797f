#include "engine/report/bench_words.hpp"

#include <fmt/format.h>

namespace packproof::report {

using State = inspect::SheetLine::State;

char mark_of(State state) {
    switch (state) {
        case State::inside:
            return 'x';
        case State::outside:
            return '!';
        case State::uncertain:
            return '?';
        case State::open:
            break;
    }
    return ' ';
}

std::string read_words(const inspect::SheetLine& line) {
    if (line.found.empty()) return {};
    if (line.state == State::outside) return line.found + ": NOT as expected";
    if (line.state == State::uncertain)
        return line.found + ": not settled, packproof inspect says what it waits for";
    return line.found;
}

std::string expect_words(const inspect::SheetLine& line) {
    if (line.doubt.empty()) return line.expects;
    return fmt::format("{} is stated, but {}: do not go by it, ask", line.expects, line.doubt);
}

std::string how_words(const inspect::Question& question) {
    std::string words = question.ask;
    for (const std::string& part : question.parts)
        words += (words.empty() ? "" : ", ") + part.substr(0, part.find(':'));
    return words;
}

bool ends_its_stop(const inspect::Sheet& sheet, std::size_t line) {
    return line + 1 == sheet.lines.size() || sheet.lines[line + 1].stop != sheet.lines[line].stop;
}

}  // namespace packproof::report
