#include "engine/document/statement.hpp"

#include <algorithm>

namespace packproof::document {
namespace {

bool blank(char c) {
    return c == ' ' || c == '\t' || c == '\r';
}

class Walk {
  public:
    explicit Walk(std::string_view bytes) : bytes_(bytes) {}

    Statement until(std::size_t offset) {
        begin_statement(bytes_.substr(0, 3) == "\xEF\xBB\xBF" ? 3 : 0);
        while (at_ < std::min(offset, bytes_.size())) {
            if (result_.open_quote != nowhere)
                quoted();
            else
                outside();
        }
        return result_;
    }

  private:
    void begin_statement(std::size_t at) {
        const std::size_t under = result_.header ? result_.begin : result_.under;
        at_ = at;
        result_ = Statement{};
        result_.begin = at;
        result_.under = under;
        std::size_t first = at;
        while (first < bytes_.size() && blank(bytes_[first]))
            ++first;
        result_.header = first < bytes_.size() && bytes_[first] == '[';
    }

    void outside() {
        const char c = bytes_[at_];
        if (c == '\n') {
            if (result_.open.empty())
                begin_statement(at_ + 1);
            else
                ++at_;
            return;
        }
        if (c == '#') {
            at_ = std::min(bytes_.find('\n', at_), bytes_.size());
            return;
        }
        if (c == '"' || c == '\'') return open_quote(c);
        if (c == '=' && result_.equals == nowhere) result_.equals = at_;
        if (!result_.header) bracket(c);
        ++at_;
    }

    void bracket(char c) {
        if (c == '[' || c == '{') result_.open.push_back(at_);
        if ((c == ']' || c == '}') && !result_.open.empty()) result_.open.pop_back();
    }

    void open_quote(char quote) {
        result_.open_quote = at_;
        result_.long_quote = bytes_.substr(at_, 3) == std::string_view{quote == '"' ? "\"\"\"" : "'''"};
        at_ += result_.long_quote ? 3 : 1;
    }

    void quoted() {
        const char quote = bytes_[result_.open_quote];
        const char c = bytes_[at_];
        if (c == '\\' && quote == '"') {
            at_ += 2;
        } else if (c != quote) {
            // A line break ends a short text: there the mistake lies, or it is behind us.
            if (c == '\n' && !result_.long_quote)
                begin_statement(at_ + 1);
            else
                ++at_;
        } else if (!result_.long_quote) {
            result_.open_quote = nowhere;
            ++at_;
        } else if (bytes_.substr(at_, 3) == bytes_.substr(result_.open_quote, 3)) {
            at_ += 3;
            while (at_ < bytes_.size() && bytes_[at_] == quote)
                ++at_;
            result_.open_quote = nowhere;
        } else {
            ++at_;
        }
    }

    std::string_view bytes_;
    std::size_t at_ = 0;
    Statement result_;
};

}  // namespace

Statement statement_at(std::string_view bytes, std::size_t offset) {
    return Walk(bytes).until(offset);
}

bool begins_statement(std::string_view line) {
    const std::string_view text = trimmed(line);
    if (text.empty()) return false;
    if (text.front() == '[') return text.find('=') == std::string_view::npos && text.find(',') == text.npos;
    const std::size_t equals = text.find('=');
    if (equals == std::string_view::npos || equals == 0) return false;
    return text.substr(0, equals).find_first_of("{}[],#") == std::string_view::npos;
}

std::string_view line_from(std::string_view bytes, std::size_t begin) {
    std::size_t end = std::min(bytes.find('\n', begin), bytes.size());
    if (end > begin && bytes[end - 1] == '\r') --end;
    return bytes.substr(begin, end - begin);
}

std::size_t next_line(std::string_view bytes, std::size_t offset) {
    const std::size_t end = bytes.find('\n', offset);
    return end == std::string_view::npos ? bytes.size() : end + 1;
}

std::string_view trimmed(std::string_view text) {
    while (!text.empty() && blank(text.front()))
        text.remove_prefix(1);
    while (!text.empty() && blank(text.back()))
        text.remove_suffix(1);
    return text;
}

std::string_view value_on_line(std::string_view bytes, std::size_t after_equals) {
    const std::string_view line = line_from(bytes, std::min(after_equals, bytes.size()));
    char quote = '\0';
    std::size_t end = 0;
    for (; end < line.size(); ++end) {
        const char c = line[end];
        if (quote == '\0' && c == '#') break;
        if (quote == '\0' && (c == '"' || c == '\''))
            quote = c;
        else if (c == quote)
            quote = '\0';
    }
    return trimmed(line.substr(0, end));
}

std::vector<std::string_view> key_path(std::string_view written) {
    std::vector<std::string_view> result;
    std::size_t at = 0;
    while (at < written.size()) {
        const char c = written[at];
        if (c == '.' || blank(c)) {
            ++at;
            continue;
        }
        const bool quoted = c == '"' || c == '\'';
        const std::size_t begin = quoted ? at + 1 : at;
        std::size_t end = begin;
        while (end < written.size() &&
               (quoted ? written[end] != c : written[end] != '.' && !blank(written[end])))
            ++end;
        result.push_back(written.substr(begin, end - begin));
        at = quoted ? end + 1 : end;
    }
    return result;
}

}  // namespace packproof::document
