// Places as an editor counts them: line and character from 0, characters in the units agreed upon (LSP 3.17,
// "Position", PositionEncodingKind).
#pragma once

#include <cstdint>
#include <string_view>

#include "engine/text/source.hpp"

namespace packproof::serve {

enum class Encoding : std::uint8_t { utf16, utf8, utf32 };

struct Position {
    std::uint32_t line = 0;
    std::uint32_t character = 0;
    friend bool operator==(const Position&, const Position&) = default;
    friend auto operator<=>(const Position&, const Position&) = default;
};

struct Extent {
    Position start;
    Position end;
    friend bool operator==(const Extent&, const Extent&) = default;
};

/// Of a byte offset. A byte-order mark is a character of the first line, as editors that send it count.
[[nodiscard]] Position position_of(std::string_view bytes, std::uint32_t offset, Encoding encoding);

/// The byte offset of a position. A character beyond the line is its end, a line beyond the text its end; one
/// inside a code point is that code point's begin.
[[nodiscard]] std::uint32_t offset_of(std::string_view bytes, Position position, Encoding encoding);

[[nodiscard]] Extent extent_of(std::string_view bytes, std::uint32_t begin, std::uint32_t end,
                               Encoding encoding);

}  // namespace packproof::serve
