// What stands at a place in a TOML text that is being written: works on broken texts too, for it reads words,
// not a tree. It rests on document::statement_at.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace packproof::serve {

struct Cursor {
    enum class Where : std::uint8_t { header, key, value };
    Where where = Where::key;
    /// Keys from the top, the last being that at the cursor or that whose value the cursor is in:
    /// {conductor, main, section}. Of a header, what is written of it up to the end of the word at the
    /// cursor.
    std::vector<std::string> path;
    /// Bytes of the word at the cursor: a segment of a key, a bare value, or the inside of a text in quotes.
    std::uint32_t begin = 0;
    std::uint32_t end = 0;
    bool quoted = false;
    char quote = '\0';
};

[[nodiscard]] Cursor cursor_at(std::string_view bytes, std::uint32_t offset);

/// A table header of a text.
struct Header {
    std::vector<std::string> path;
    std::uint32_t begin = 0;  ///< bytes of its last segment
    std::uint32_t end = 0;
};

/// All `[a.b]` and `[[a.b]]` at the beginnings of lines.
[[nodiscard]] std::vector<Header> headers_of(std::string_view bytes);

/// First segments of all that stands at the top of the text: headers and keys before the first header.
[[nodiscard]] std::vector<std::string> top_keys(std::string_view bytes);

/// Keys written directly under the header {kind, id} of a text.
[[nodiscard]] std::vector<std::string> keys_under(std::string_view bytes,
                                                  const std::vector<std::string>& header);

}  // namespace packproof::serve
