#include "engine/document/syntax_message.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "engine/document/shown.hpp"

namespace packproof::document {
namespace {

using text::Message;
using text::Severity;
using text::Span;

bool has(std::string_view text, std::string_view part) {
    return text.find(part) != std::string_view::npos;
}

Span span_of(const Complaint& c, std::size_t begin, std::size_t end) {
    const std::size_t size = c.bytes.size();
    begin = std::min(begin, size);
    end = std::clamp(end, begin, size);
    return {c.source, static_cast<std::uint32_t>(begin), static_cast<std::uint32_t>(end)};
}

// The span of a piece of the complaint's own text.
Span span_of(const Complaint& c, std::string_view piece) {
    const auto begin = static_cast<std::size_t>(piece.data() - c.bytes.data());
    return span_of(c, begin, begin + piece.size());
}

std::string_view statement_line(const Complaint& c) {
    return trimmed(line_from(c.bytes, c.statement.begin));
}

std::string_view key_of(const Complaint& c) {
    const Statement& s = c.statement;
    if (s.equals == nowhere) return trimmed(statement_line(c).substr(0, statement_line(c).find('=')));
    return trimmed(c.bytes.substr(s.begin, s.equals - s.begin));
}

std::string_view character_at(const Complaint& c) {
    std::size_t end = c.offset + 1;
    while (end < c.bytes.size() && (static_cast<unsigned char>(c.bytes[end]) & 0xC0U) == 0x80U)
        ++end;
    return c.bytes.substr(std::min(c.offset, c.bytes.size()), end - c.offset);
}

bool at_line_end(const Complaint& c) {
    return c.offset >= c.bytes.size() || c.bytes[c.offset] == '\n' || c.bytes[c.offset] == '\r';
}

std::string lower(std::string_view text) {
    std::string result(text);
    for (char& c : result)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c | 0x20);
    return result;
}

Message at(Span span, std::string text, std::string hint = {}) {
    return {Severity::error, span, std::move(text), std::move(hint)};
}

Message missing_quote(const Complaint& c) {
    const std::size_t begin = c.statement.open_quote;
    if (c.statement.long_quote)
        return at(span_of(c, begin, begin + 3), "the text that begins here has no closing quotes",
                  "close it with the same three quotes");
    return at(span_of(c, begin, next_line(c.bytes, begin) - 1),
              "the text that begins here has no closing quote",
              fmt::format("put {} at its end", c.bytes[begin]));
}

Message control_character(const Complaint& c) {
    const std::string_view character = character_at(c);
    const bool newline = at_line_end(c);
    if (newline && c.statement.open_quote != nowhere) return missing_quote(c);
    return at(span_of(c, character), fmt::format("a control character, {}, stands here", shown(character)),
              "take it out");
}

// Something stands open at the mistake: a text, or a list or table whose bracket is at `begin`.
Message left_open(const Complaint& c, std::size_t begin) {
    if (c.statement.open_quote != nowhere) return missing_quote(c);
    const bool list = c.bytes[begin] == '[';
    return at(span_of(c, begin, begin + 1),
              list ? "the list that begins here is not closed" : "the table that begins here is not closed",
              list ? "put ] after its last element" : "put } after its last value");
}

Message inside_brackets(const Complaint& c) {
    const std::vector<std::size_t>& open = c.statement.open;
    const std::size_t begin = open.back();
    const bool list = c.bytes[begin] == '[';
    if (c.offset >= c.bytes.size()) return left_open(c, begin);
    const std::size_t line_begin = c.offset == 0 ? 0 : c.bytes.rfind('\n', c.offset - 1) + 1;
    if (open.front() < line_begin && begins_statement(line_from(c.bytes, line_begin)))
        return left_open(c, *(std::lower_bound(open.begin(), open.end(), line_begin) - 1));
    if (!list && at_line_end(c))
        return at(span_of(c, begin, begin + 1), "a table in braces stands on one line in TOML 1.0",
                  "write it as a table of its own, under a header in brackets");
    if (has(c.said, "dangling comma"))
        return at(span_of(c, character_at(c)), "a comma before } is not allowed in TOML 1.0",
                  "take the comma out");
    if (has(c.said, "saw comma")) return at(span_of(c, character_at(c)), "a comma too many", "take it out");
    return at(span_of(c, character_at(c)), fmt::format("{} is not expected here", in_quotes(character_at(c))),
              list ? "put a comma between the elements, and texts and quantities in quotes"
                   : "put a comma between the values, and texts and quantities in quotes");
}

Message header_message(const Complaint& c) {
    const std::string_view line = statement_line(c);
    if (has(c.said, "comment or whitespace"))
        return at(span_of(c, character_at(c)), "nothing may stand after a header on its line",
                  "begin a new line");
    if (has(c.said, "expected ']'") || at_line_end(c)) {
        if (at_line_end(c))
            return at(span_of(c, line), fmt::format("the header {} is not closed", in_quotes(line)),
                      line.substr(0, 2) == "[[" ? "put ]] at its end" : "put ] at its end");
        return at(span_of(c, character_at(c)),
                  fmt::format("{} may not stand in a header", in_quotes(character_at(c))),
                  "names in a header are joined with dots and have no blanks");
    }
    return at(span_of(c, character_at(c)),
              fmt::format("the header {} has no name that TOML can read", in_quotes(line)),
              "names have letters A to Z, digits, - and _; other names stand in quotes");
}

Message no_value(const Complaint& c) {
    const std::string_view key = key_of(c);
    return at(span_of(c, key), fmt::format("{} has no value", in_quotes(key)),
              fmt::format("write {} = \"?\" if it is not known, or take the line out", shown(key)));
}

Message equals_sign(const Complaint& c) {
    if (at_line_end(c)) return no_value(c);
    const std::string_view character = character_at(c);
    if (static_cast<signed char>(character.front()) < 0)
        return at(span_of(c, character), fmt::format("{} may not stand in a key", in_quotes(character)),
                  "keys have letters A to Z, digits, - and _; other keys stand in quotes");
    return at(span_of(c, character), fmt::format("an equals sign is due here, not {}", in_quotes(character)),
              "write KEY = VALUE");
}

Message bad_key(const Complaint& c) {
    const std::string_view character = character_at(c);
    if (character == "=") return at(span_of(c, character), "a value without a key", "write KEY = VALUE");
    return at(span_of(c, character), fmt::format("{} cannot begin a key", in_quotes(character)),
              "keys have letters A to Z, digits, - and _; other keys stand in quotes");
}

// true for "yes", "True" and their like; then `word` is what TOML writes.
bool truth_word(std::string_view value, std::string_view& word) {
    const std::string small = lower(value);
    for (std::string_view yes : {"true", "yes", "on", "y"})
        if (small == yes) word = "true";
    for (std::string_view no : {"false", "no", "off", "n"})
        if (small == no) word = "false";
    return !word.empty();
}

bool looks_like_number(std::string_view value) {
    return !value.empty() && value.find_first_not_of("0123456789+-._eE") == std::string_view::npos &&
           value.find_first_of("0123456789") != std::string_view::npos;
}

bool decimal_comma(std::string_view value) {
    const std::size_t comma = value.find(',');
    return comma != std::string_view::npos && looks_like_number(value.substr(0, comma)) &&
           looks_like_number(value.substr(comma + 1));
}

bool curly_quote(std::string_view value) {
    for (std::string_view quote : {"\u201C", "\u201D", "\u201E", "\u2018", "\u2019", "\u00AB"})
        if (value.substr(0, quote.size()) == quote) return true;
    return false;
}

Message unreadable_value(const Complaint& c) {
    const std::string_view key = key_of(c);
    const std::string_view value = value_on_line(c.bytes, c.statement.equals + 1);
    const Span span = value.empty() ? span_of(c, character_at(c)) : span_of(c, value);
    std::string_view word;
    if (truth_word(value, word))
        return at(span, fmt::format("{} is not a value", in_quotes(value)),
                  fmt::format("write {} = {}", shown(key), word));
    if (has(c.said, "parsing date") || has(c.said, "parsing time"))
        return at(span, fmt::format("{} is not a date", in_quotes(value)),
                  "a date is written as year, month and day: 2026-01-31");
    if (curly_quote(value)) return at(span, "these quotes are typographic ones", "use straight quotes: \"");
    if (value.front() == '=') return at(span, "one equals sign is enough", "write KEY = VALUE");
    if (decimal_comma(value))
        return at(span, fmt::format("{} has a decimal comma", in_quotes(value)),
                  "the decimal sign is a point");
    if (looks_like_number(value))
        return at(span, fmt::format("{} is not a number that TOML can read", in_quotes(value)),
                  "digits stand on both sides of the point, with no zero in front: 0.5, 12, 3.0; "
                  "whole numbers have at most 18 digits");
    const bool starts_quoted = value.front() == '"' || value.front() == '\'';
    if (starts_quoted)
        return at(span_of(c, character_at(c)), "nothing may stand after a value on its line",
                  "put the whole text in one pair of quotes");
    return at(span, fmt::format("{} is not a value", in_quotes(value)),
              fmt::format("texts and quantities stand in quotes: {} = \"{}\"", shown(key), shown(value)));
}

Message in_its_own_words(const Complaint& c) {
    std::string_view said = c.said;
    const std::size_t cut = said.find(": ");
    if (cut != std::string_view::npos) said.remove_prefix(cut + 2);
    return at(span_of(c, character_at(c)), "not TOML: " + shown(said, 200));
}

// How far a path of names leads, and to what.
struct Met {
    const Node* node = nullptr;
    std::size_t names = 0;
};

Met follow(const Node& from, const std::vector<std::string_view>& path) {
    Met met;
    const Node* here = &from;
    for (std::string_view name : path) {
        if (here->is_array() && !here->children.empty()) here = &here->children.back();
        here = here->find(name);
        if (here == nullptr) break;
        met.node = here;
        ++met.names;
    }
    return met;
}

// An earlier `key =` inside the same statement, for repeats inside braces.
std::size_t earlier_in_statement(const Complaint& c, std::string_view key) {
    const std::string_view text = c.bytes.substr(c.statement.begin, c.offset - c.statement.begin);
    const std::size_t last = text.rfind(key);
    if (key.empty() || last == std::string_view::npos || last == 0) return nowhere;
    const std::size_t first = text.rfind(key, last - 1);
    return first == std::string_view::npos ? nowhere : c.statement.begin + first;
}

// The name between the last two quotes of "cannot redefine existing integer 'a.b'"; only its last part.
std::string_view named_key(std::string_view said) {
    const std::size_t end = said.rfind('\'');
    const std::size_t begin = end == std::string_view::npos ? end : said.rfind('\'', end - 1);
    if (begin == std::string_view::npos || end == 0) return {};
    const std::string_view path = said.substr(begin + 1, end - begin - 1);
    return path.substr(path.rfind('.') + 1);
}

Message repeat_in_braces(const Complaint& c, const text::Sources& sources) {
    const std::string_view name = named_key(c.said);
    const std::size_t offset = earlier_in_statement(c, name);
    const Span span = span_of(c, c.offset, c.offset + 1);
    if (offset == nowhere)
        return at(span, fmt::format("{} is stated twice", in_quotes(name)), "keep one of them");
    const auto line = sources.place(c.source, static_cast<std::uint32_t>(offset)).line;
    return at(span, fmt::format("{} is stated twice; the first is in line {}", in_quotes(name), line),
              "keep one of them");
}

}  // namespace

Message syntax_message(const Complaint& c) {
    const Statement& s = c.statement;
    if (has(c.said, "invalid utf-8")) return at(span_of(c, c.offset, c.offset + 1), "this is not UTF-8");
    if (has(c.said, "maximum nested value depth"))
        return at(span_of(c, c.offset, c.offset + 1), "too deeply nested");
    if (has(c.said, "after '\\r'"))
        return at(span_of(c, c.offset - 1, c.offset), "a carriage return without a line feed",
                  "end lines with a line feed, or with both");
    if (has(c.said, "multi-line strings are prohibited in keys"))
        return at(span_of(c, c.offset, c.offset + 3), "a key has one quote on each side, not three");
    if (has(c.said, "control character")) return control_character(c);
    if (has(c.said, "escape"))
        return at(span_of(c, c.offset - 1, c.offset + 1),
                  "this backslash begins no escape that TOML 1.0 knows",
                  "double the backslash, or put the text in single quotes");
    if (s.open_quote != nowhere && c.offset >= c.bytes.size()) return missing_quote(c);
    if (s.header) return header_message(c);
    if (!s.open.empty()) return inside_brackets(c);
    if (has(c.said, "root table") || has(c.said, "parsing key:")) return bad_key(c);
    if (s.equals == nowhere) return equals_sign(c);
    if (has(c.said, "expected value, saw") || value_on_line(c.bytes, s.equals + 1).empty())
        return no_value(c);
    if (has(c.said, "surrogate") || has(c.said, "hex digit") || has(c.said, "U+10FFFF"))
        return in_its_own_words(c);
    return unreadable_value(c);
}

Message repeat_message(const Complaint& c, const Node& before, std::string_view header,
                       const text::Sources& sources) {
    const Statement& s = c.statement;
    std::string_view written = key_of(c);
    std::vector<std::string_view> path;
    if (s.header) {
        written = written.substr(0, written.find(']'));
        while (!written.empty() && written.front() == '[')
            written.remove_prefix(1);
    } else {
        path = key_path(header);
    }
    const std::vector<std::string_view> own = key_path(written);
    path.insert(path.end(), own.begin(), own.end());

    if (!s.open.empty()) return repeat_in_braces(c, sources);
    const Met met = follow(before, path);
    const Span span = span_of(c, trimmed(written));
    if (met.node == nullptr)
        return at(span, fmt::format("{} is stated twice", in_quotes(trimmed(written))), "keep one of them");
    std::string name;
    for (std::size_t i = 0; i < met.names; ++i)
        name += (i > 0 ? "." : "") + std::string(path[i]);
    const auto line = sources.place(c.source, met.node->key_span.begin).line;
    return at(span, fmt::format("{} is stated twice; the first is in line {}", in_quotes(name), line),
              met.names < path.size() ? "state it in one place" : "keep one of them");
}

}  // namespace packproof::document
