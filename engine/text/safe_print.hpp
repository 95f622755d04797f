// Text from strangers made harmless for a screen, at the point of printing.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace packproof::text {

/// Replaces control characters (C0, DEL, C1), bidirectional controls, zero-width and other invisible
/// characters, noncharacters and bad UTF-8 (as U+FFFD) by a visible form such as \u{202E}.
/// Newline and tab too: text of ours that needs them adds them after.
[[nodiscard]] std::string safe_print(std::string_view untrusted);

/// True where bytes are well-formed UTF-8 (no surrogates, no overlong forms); else the first bad offset.
struct Utf8Check {
    bool good = true;
    std::size_t bad_offset = 0;
};
[[nodiscard]] Utf8Check check_utf8(std::string_view bytes);

/// Terminal cells that the text takes (wide East Asian characters 2, combining marks 0), locale-free.
[[nodiscard]] std::size_t display_width(std::string_view text);

/// Breaks text at spaces into lines of at most `width` cells; a longer word stays whole.
[[nodiscard]] std::string wrap(std::string_view text, std::size_t width, std::string_view indent_first,
                               std::string_view indent_rest);

}  // namespace packproof::text
