#include "engine/serve/position.hpp"

#include <algorithm>

#include "engine/text/utf8.hpp"

namespace packproof::serve {

namespace {

std::uint32_t units_of(const text::CodePoint& point, Encoding encoding) {
    switch (encoding) {
        case Encoding::utf16:
            return point.value > 0xFFFF ? 2 : 1;
        case Encoding::utf8:
            return static_cast<std::uint32_t>(point.length);
        case Encoding::utf32:
            return 1;
    }
    return 1;
}

}  // namespace

Position position_of(std::string_view bytes, std::uint32_t offset, Encoding encoding) {
    const std::size_t stop = std::min<std::size_t>(offset, bytes.size());
    Position position;
    std::size_t at = 0;
    for (std::size_t end = bytes.find('\n'); end != std::string_view::npos && end < stop;
         end = bytes.find('\n', at)) {
        ++position.line;
        at = end + 1;
    }
    while (at < stop) {
        const text::CodePoint point = text::code_point_at(bytes, at);
        if (at + point.length > stop) break;  // the offset lies inside this code point
        position.character += units_of(point, encoding);
        at += point.length;
    }
    return position;
}

std::uint32_t offset_of(std::string_view bytes, Position position, Encoding encoding) {
    std::size_t at = 0;
    for (std::uint32_t line = 0; line < position.line; ++line) {
        const std::size_t end = bytes.find('\n', at);
        if (end == std::string_view::npos) return static_cast<std::uint32_t>(bytes.size());
        at = end + 1;
    }
    std::size_t stop = std::min(bytes.find('\n', at), bytes.size());
    if (stop > at && bytes[stop - 1] == '\r') --stop;
    std::uint32_t left = position.character;
    while (at < stop) {
        const text::CodePoint point = text::code_point_at(bytes, at);
        const std::uint32_t units = units_of(point, encoding);
        if (units > left) break;
        left -= units;
        at += point.length;
    }
    return static_cast<std::uint32_t>(at);
}

Extent extent_of(std::string_view bytes, std::uint32_t begin, std::uint32_t end, Encoding encoding) {
    return {position_of(bytes, begin, encoding), position_of(bytes, std::max(begin, end), encoding)};
}

}  // namespace packproof::serve
