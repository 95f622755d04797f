// UTF-8 read strictly, one code point at a time: no overlong forms, no surrogates, nothing above U+10FFFF.
// A bad byte is one bad code point of length one, so that a reader always moves on.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace packproof::text {

struct CodePoint {
    char32_t value = 0xFFFD;
    std::size_t length = 1;  ///< in bytes
    bool good = false;
};

/// The code point that begins at `offset`, which lies inside the text.
[[nodiscard]] CodePoint code_point_at(std::string_view text, std::size_t offset);

void append_utf8(std::string& text, char32_t code_point);

/// Terminal cells of one code point: 0, 1 or 2 (Unicode's general category and East Asian width).
[[nodiscard]] std::size_t cell_width(char32_t code_point);

}  // namespace packproof::text
