// Where in a TOML text with a mistake the broken statement begins and what stands open in it. Used only
// after the parser has refused the text; rests on the text before the mistake being sound.
#pragma once

#include <cstddef>
#include <string_view>
#include <vector>

namespace packproof::document {

inline constexpr std::size_t nowhere = static_cast<std::size_t>(-1);

struct Statement {
    std::size_t begin = 0;          ///< start of its first line
    bool header = false;            ///< begins with "["
    std::size_t under = nowhere;    ///< start of the header that it stands under
    std::size_t equals = nowhere;   ///< its first "=" outside of quotes
    std::vector<std::size_t> open;  ///< brackets of its value that are open at the mistake, outermost first
    std::size_t open_quote = nowhere;  ///< the quote of the text in which the mistake lies
    bool long_quote = false;           ///< three quotes
};

/// The statement in which `offset` lies.
[[nodiscard]] Statement statement_at(std::string_view bytes, std::size_t offset);

/// True if a line reads like the beginning of a statement: a header, or a key and "=".
[[nodiscard]] bool begins_statement(std::string_view line);

/// The line that begins at `begin`, without its end; and where the next one begins.
[[nodiscard]] std::string_view line_from(std::string_view bytes, std::size_t begin);
[[nodiscard]] std::size_t next_line(std::string_view bytes, std::size_t offset);

/// Without blanks (and carriage returns) at both ends.
[[nodiscard]] std::string_view trimmed(std::string_view text);

/// A value as written up to a comment, trimmed: what stands after "=" on the same line.
[[nodiscard]] std::string_view value_on_line(std::string_view bytes, std::size_t after_equals);

/// The keys of "a . 'b c' . d" as {a, b c, d}; escapes inside quotes stay as written.
[[nodiscard]] std::vector<std::string_view> key_path(std::string_view written);

}  // namespace packproof::document
