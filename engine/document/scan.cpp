#include "engine/document/scan.hpp"

#include <fmt/core.h>

#include <algorithm>

namespace packproof::document {

std::uint32_t Lines::beyond(std::string_view bytes, std::uint32_t line) const {
    return line == 0 || lines.empty() ? 0 : static_cast<std::uint32_t>(bytes.size());
}

std::uint32_t Lines::counted(std::string_view bytes, const Line& line, std::uint32_t column) {
    const auto size = static_cast<std::uint32_t>(bytes.size());
    if (column - 1 <= line.ascii) return size;
    std::uint32_t at = line.start + line.ascii;
    for (std::uint32_t i = line.ascii + 1; i < column && at < size; ++i) {
        ++at;
        while (at < size && (static_cast<unsigned char>(bytes[at]) & 0xC0U) == 0x80U)
            ++at;
    }
    return at;
}

namespace {

constexpr std::size_t most_messages = 20;

enum class State { outside, basic, literal, long_basic, long_literal, comment };

class Scanner {
  public:
    Scanner(text::SourceIndex source, std::string_view bytes, const Limits& limits, Lines& lines,
            text::Messages& messages)
        : source_(source), bytes_(bytes), limits_(limits), lines_(lines.lines), messages_(messages) {}

    bool run() {
        const std::size_t mark = bytes_.substr(0, 3) == "\xEF\xBB\xBF" ? 3 : 0;
        lines_.clear();
        lines_.reserve(bytes_.size() / 20 + 2);
        lines_.push_back({static_cast<std::uint32_t>(mark)});
        for (at_ = mark; at_ < bytes_.size() && found_ < most_messages;)
            step();
        if (found_ < most_messages) end_line(bytes_.size());
        return found_ == 0;
    }

  private:
    void step() {
        const char c = bytes_[at_];
        if (c == '\n') return next_line();
        if (static_cast<signed char>(c) < 0) {
            lines_.back().ascii =
                std::min(lines_.back().ascii, static_cast<std::uint32_t>(at_ - line_start()));
            ++at_;
            return;
        }
        switch (state_) {
            case State::outside:
                outside(c);
                break;
            case State::basic:
                inside(c, '"', true);
                break;
            case State::literal:
                inside(c, '\'', false);
                break;
            case State::long_basic:
                inside_long(c, '"', true);
                break;
            case State::long_literal:
                inside_long(c, '\'', false);
                break;
            case State::comment:
                ++at_;
                break;
        }
    }

    void outside(char c) {
        switch (c) {
            case '.':
                dot();
                break;
            case '=':
            case ',':
            case '[':
            case ']':
            case '{':
            case '}':
                dots_ = 0;
                break;
            case '#':
                state_ = State::comment;
                break;
            case '"':
            case '\'':
                open(c);
                return;
            default:
                break;
        }
        ++at_;
    }

    void open(char quote) {
        const bool is_long = at_ + 2 < bytes_.size() && bytes_[at_ + 1] == quote && bytes_[at_ + 2] == quote;
        if (quote == '"')
            state_ = is_long ? State::long_basic : State::basic;
        else
            state_ = is_long ? State::long_literal : State::literal;
        at_ += is_long ? 3 : 1;
    }

    void inside(char c, char quote, bool escapes) {
        if (c == quote) state_ = State::outside;
        skip(escapes && c == '\\');
    }

    void inside_long(char c, char quote, bool escapes) {
        if (c == quote && at_ + 2 < bytes_.size() && bytes_[at_ + 1] == quote && bytes_[at_ + 2] == quote) {
            // Up to two quotes may stand before the three that close it.
            at_ += 3;
            while (at_ < bytes_.size() && bytes_[at_] == quote)
                ++at_;
            state_ = State::outside;
            return;
        }
        skip(escapes && c == '\\');
    }

    void skip(bool escape) {
        ++at_;
        if (escape && at_ < bytes_.size() && bytes_[at_] != '\n' &&
            static_cast<signed char>(bytes_[at_]) >= 0)
            ++at_;
    }

    void dot() {
        if (++dots_ != limits_.key_dots + 1) return;
        report(line_start(), at_ + 1,
               fmt::format("this key has more than {} dots; no description needs that", limits_.key_dots));
    }

    void next_line() {
        end_line(at_);
        ++at_;
        lines_.push_back({static_cast<std::uint32_t>(at_)});
        dots_ = 0;
        if (state_ != State::long_basic && state_ != State::long_literal) state_ = State::outside;
    }

    void end_line(std::size_t end) {
        const std::size_t start = line_start();
        if (end - start <= limits_.line_bytes) return;
        report(
            start, start + 1,
            fmt::format("this line is {} bytes long; at most {} are read", end - start, limits_.line_bytes));
    }

    [[nodiscard]] std::size_t line_start() const { return lines_.back().start; }

    void report(std::size_t begin, std::size_t end, std::string text) {
        // The place is kept short: the start of the line shows what is meant.
        const std::size_t last = std::min(end, begin + 40);
        messages_.error({source_, static_cast<std::uint32_t>(begin), static_cast<std::uint32_t>(last)},
                        std::move(text));
        ++found_;
    }

    text::SourceIndex source_;
    std::string_view bytes_;
    const Limits& limits_;
    std::vector<Lines::Line>& lines_;
    text::Messages& messages_;
    State state_ = State::outside;
    std::size_t at_ = 0;
    std::size_t dots_ = 0;
    std::size_t found_ = 0;
};

std::uint32_t ascii_before(std::string_view line) {
    const auto other =
        std::find_if(line.begin(), line.end(), [](char c) { return static_cast<signed char>(c) < 0; });
    return static_cast<std::uint32_t>(other - line.begin());
}

bool more_dots_than(std::string_view line, std::size_t most) {
    return line.size() > most && static_cast<std::size_t>(std::count(line.begin(), line.end(), '.')) > most;
}

// Line starts alone, for the text that has no line with so many dots that a key could have too many. False
// where the whole scan is due.
bool plain_lines(std::string_view bytes, const Limits& limits, std::vector<Lines::Line>& lines) {
    lines.clear();
    lines.reserve(bytes.size() / 20 + 2);
    std::size_t at = bytes.substr(0, 3) == "\xEF\xBB\xBF" ? 3 : 0;
    while (true) {
        const std::size_t end = std::min(bytes.find('\n', at), bytes.size());
        const std::string_view line = bytes.substr(at, end - at);
        if (line.size() > limits.line_bytes || more_dots_than(line, limits.key_dots)) return false;
        unsigned char all = 0;
        for (const char c : line)
            all = static_cast<unsigned char>(all | static_cast<unsigned char>(c));
        lines.push_back({static_cast<std::uint32_t>(at)});
        if (all >= 0x80) lines.back().ascii = ascii_before(line);
        if (end == bytes.size()) return true;
        at = end + 1;
    }
}

}  // namespace

bool scan(text::SourceIndex source, std::string_view bytes, const Limits& limits, Lines& lines,
          text::Messages& messages) {
    if (plain_lines(bytes, limits, lines.lines)) return true;
    return Scanner(source, bytes, limits, lines, messages).run();
}

}  // namespace packproof::document
