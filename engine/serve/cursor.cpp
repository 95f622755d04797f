#include "engine/serve/cursor.hpp"

#include <algorithm>

#include "engine/document/statement.hpp"

namespace packproof::serve {

namespace {

bool in_word(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' || c == '-';
}

std::vector<std::string> split(std::string_view written) {
    std::vector<std::string> keys;
    if (document::trimmed(written).empty()) return keys;
    std::string key;
    char quote = '\0';
    for (const char c : written) {
        if (quote != '\0') {
            if (c == quote)
                quote = '\0';
            else
                key += c;
        } else if (c == '"' || c == '\'') {
            quote = c;
        } else if (c == '.') {
            keys.push_back(std::move(key));
            key.clear();
        } else if (c != ' ' && c != '\t' && c != '\r') {
            key += c;
        }
    }
    keys.push_back(std::move(key));
    return keys;
}

// What stands between the brackets of a header, from the byte after them.
std::string_view inside_header(std::string_view line) {
    const std::size_t begin = std::min(line.find_first_not_of("[ \t"), line.size());
    const std::size_t end = std::min(line.find(']', begin), line.size());
    return line.substr(begin, end - begin);
}

// A table that is open at the cursor: the statement itself, `{` or `[`.
struct Level {
    std::size_t key_begin = 0;
    std::vector<std::string> key;
    bool after_equals = false;
    bool list = false;
};

class Scan {
  public:
    Scan(std::string_view bytes, std::size_t begin, std::size_t stop) : bytes_(bytes), stop_(stop) {
        levels.push_back({begin, {}, false, false});
        for (std::size_t at = begin; at < stop;)
            at = step(at);
    }

    std::vector<Level> levels;
    std::size_t quote_at = document::nowhere;  // of the text in which the cursor stands

  private:
    std::size_t step(std::size_t at) {
        const char c = bytes_[at];
        Level& top = levels.back();
        switch (c) {
            case '"':
            case '\'':
                return text(at);
            case '#':
                return std::min(bytes_.find('\n', at), stop_);
            case '=':
                if (!top.after_equals) {
                    top.key = split(bytes_.substr(top.key_begin, at - top.key_begin));
                    top.after_equals = true;
                }
                break;
            case '{':
            case '[':
                levels.push_back({at + 1, {}, c == '[', c == '['});
                break;
            case '}':
            case ']':
                if (levels.size() > 1) levels.pop_back();
                break;
            case ',':
                if (!top.list) top = {at + 1, {}, false, false};
                break;
            default:
                break;
        }
        return at + 1;
    }

    std::size_t text(std::size_t at) {
        const char quote = bytes_[at];
        const bool is_long = bytes_.substr(at, 3) == std::string(3, quote);
        const std::size_t length = is_long ? 3 : 1;
        std::size_t next = at + length;
        for (; next < stop_; ++next) {
            if (bytes_[next] == '\\' && quote == '"') {
                ++next;
            } else if (bytes_.substr(next, length) == std::string(length, quote)) {
                return next + length;
            }
        }
        quote_at = at + length - 1;
        return stop_;
    }

    std::string_view bytes_;
    std::size_t stop_;
};

// The end of a text's inside: its closing quote, or the end of the line.
std::size_t text_end(std::string_view bytes, std::size_t at, char quote) {
    for (; at < bytes.size() && bytes[at] != '\n' && bytes[at] != '\r'; ++at) {
        if (bytes[at] == quote) break;
        if (bytes[at] == '\\' && quote == '"' && at + 1 < bytes.size() && bytes[at + 1] != '\n') ++at;
    }
    return at;
}

}  // namespace

Cursor cursor_at(std::string_view bytes, std::uint32_t offset) {
    const std::size_t stop = std::min<std::size_t>(offset, bytes.size());
    const document::Statement statement = document::statement_at(bytes, stop);
    Cursor cursor;
    std::size_t begin = stop;
    std::size_t end = stop;
    while (begin > statement.begin && in_word(bytes[begin - 1]))
        --begin;
    while (end < bytes.size() && in_word(bytes[end]))
        ++end;
    if (statement.header) {
        const std::size_t first = bytes.find_first_not_of("[ \t", statement.begin);
        cursor.where = Cursor::Where::header;
        if (first != std::string_view::npos && first < end)
            cursor.path = split(bytes.substr(first, end - first));
        if (cursor.path.empty()) cursor.path.emplace_back();
    } else {
        const Scan scan(bytes, statement.begin, stop);
        const Level& top = scan.levels.back();
        if (scan.quote_at != document::nowhere) {
            cursor.quoted = true;
            cursor.quote = bytes[scan.quote_at];
            begin = scan.quote_at + 1;
            end = text_end(bytes, stop, cursor.quote);
        }
        if (statement.under != document::nowhere)
            cursor.path = split(inside_header(document::line_from(bytes, statement.under)));
        for (const Level& level : scan.levels)
            cursor.path.insert(cursor.path.end(), level.key.begin(), level.key.end());
        cursor.where = top.after_equals ? Cursor::Where::value : Cursor::Where::key;
        if (!top.after_equals) {
            const std::size_t key_end = std::max(end, top.key_begin);
            auto key = split(bytes.substr(top.key_begin, key_end - top.key_begin));
            if (key.empty()) key.emplace_back();
            cursor.path.insert(cursor.path.end(), key.begin(), key.end());
        }
    }
    cursor.begin = static_cast<std::uint32_t>(begin);
    cursor.end = static_cast<std::uint32_t>(end);
    return cursor;
}

std::vector<Header> headers_of(std::string_view bytes) {
    std::vector<Header> headers;
    for (std::size_t at = 0; at < bytes.size(); at = document::next_line(bytes, at)) {
        const std::string_view line = document::line_from(bytes, at);
        if (!document::trimmed(line).starts_with('[')) continue;
        const std::string_view inside = inside_header(line);
        Header header{split(inside), 0, 0};
        if (header.path.empty() || inside.find('=') != std::string_view::npos) continue;
        const std::size_t last = inside.size() - std::min(header.path.back().size(), inside.size());
        const auto from = static_cast<std::size_t>(inside.data() - bytes.data());
        header.begin = static_cast<std::uint32_t>(from + last);
        header.end = static_cast<std::uint32_t>(from + inside.size());
        headers.push_back(std::move(header));
    }
    return headers;
}

std::vector<std::string> top_keys(std::string_view bytes) {
    std::vector<std::string> keys = keys_under(bytes, {});
    for (const Header& header : headers_of(bytes))
        keys.push_back(header.path.front());
    return keys;
}

std::vector<std::string> keys_under(std::string_view bytes, const std::vector<std::string>& header) {
    std::vector<std::string> keys;
    std::vector<std::string> here;
    for (std::size_t at = 0; at < bytes.size(); at = document::next_line(bytes, at)) {
        const std::string_view line = document::trimmed(document::line_from(bytes, at));
        if (line.starts_with('[')) {
            if (line.find('=') == std::string_view::npos) here = split(inside_header(line));
            continue;
        }
        const std::size_t equals = line.find('=');
        if (here != header || equals == std::string_view::npos || line.starts_with('#')) continue;
        const auto key = split(line.substr(0, equals));
        if (!key.empty()) keys.push_back(key.front());
    }
    return keys;
}

}  // namespace packproof::serve
