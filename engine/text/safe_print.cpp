#include "engine/text/safe_print.hpp"

#include <algorithm>
#include <array>
#include <cstdint>
#include <cstring>

#include <fmt/format.h>

#include "engine/text/utf8.hpp"

namespace packproof::text {

namespace {

struct Range {
    char32_t first;
    char32_t last;
};

// Bidi_Control and default-ignorable code points of the Unicode Character Database, line and paragraph
// separators, interlinear marks and tags; sorted.
constexpr std::array<Range, 20> invisible = {{
    {0x0000, 0x001F}, {0x007F, 0x009F}, {0x00AD, 0x00AD},   {0x034F, 0x034F},   {0x061C, 0x061C},
    {0x115F, 0x1160}, {0x17B4, 0x17B5}, {0x180B, 0x180F},   {0x200B, 0x200F},   {0x2028, 0x202E},
    {0x2060, 0x206F}, {0x3164, 0x3164}, {0xFDD0, 0xFDEF},   {0xFE00, 0xFE0F},   {0xFEFF, 0xFEFF},
    {0xFFA0, 0xFFA0}, {0xFFF0, 0xFFFB}, {0x1BCA0, 0x1BCA3}, {0x1D173, 0x1D17A}, {0xE0000, 0xE0FFF},
}};

bool shown_as_number(char32_t c) {
    if ((c & 0xFFFEU) == 0xFFFEU) return true;  // noncharacters at the end of every plane
    return std::any_of(invisible.begin(), invisible.end(),
                       [c](const Range& range) { return range.first <= c && c <= range.last; });
}

bool plain(unsigned char c) {
    return c >= 0x20U && c < 0x7FU;
}

/// Whether the next eight bytes are all ASCII, as nearly all are.
bool eight_plain(std::string_view bytes, std::size_t at) {
    if (bytes.size() - at < 8) return false;
    std::uint64_t eight = 0;
    std::memcpy(&eight, bytes.data() + at, sizeof eight);
    return (eight & 0x8080808080808080U) == 0;
}

}  // namespace

std::string safe_print(std::string_view untrusted) {
    std::string shown;
    shown.reserve(untrusted.size());
    for (std::size_t at = 0; at < untrusted.size();) {
        if (plain(static_cast<unsigned char>(untrusted[at]))) {
            shown.push_back(untrusted[at++]);
            continue;
        }
        const CodePoint point = code_point_at(untrusted, at);
        if (!point.good) {
            append_utf8(shown, 0xFFFD);
        } else if (shown_as_number(point.value)) {
            shown += fmt::format("\\u{{{:X}}}", static_cast<unsigned>(point.value));
        } else {
            shown.append(untrusted, at, point.length);
        }
        at += point.length;
    }
    return shown;
}

Utf8Check check_utf8(std::string_view bytes) {
    for (std::size_t at = 0; at < bytes.size();) {
        if (eight_plain(bytes, at)) {
            at += 8;
            continue;
        }
        if (static_cast<unsigned char>(bytes[at]) < 0x80U) {
            ++at;
            continue;
        }
        const CodePoint point = code_point_at(bytes, at);
        if (!point.good) return {false, at};
        at += point.length;
    }
    return {};
}

std::size_t display_width(std::string_view text) {
    std::size_t cells = 0;
    for (std::size_t at = 0; at < text.size();) {
        const CodePoint point = code_point_at(text, at);
        cells += cell_width(point.value);
        at += point.length;
    }
    return cells;
}

std::string wrap(std::string_view text, std::size_t width, std::string_view indent_first,
                 std::string_view indent_rest) {
    std::string lines{indent_first};
    std::size_t used = display_width(indent_first);
    bool line_empty = true;
    for (std::size_t at = 0; at < text.size();) {
        if (text[at] == ' ') {
            ++at;
            continue;
        }
        const std::size_t end = std::min(text.find(' ', at), text.size());
        const std::string_view word = text.substr(at, end - at);
        const std::size_t cells = display_width(word);
        if (!line_empty && used + 1 + cells > width) {
            lines.append("\n").append(indent_rest);
            used = display_width(indent_rest);
            line_empty = true;
        }
        if (!line_empty) lines.push_back(' ');
        used += cells + (line_empty ? 0U : 1U);
        lines.append(word);
        line_empty = false;
        at = end;
    }
    return lines;
}

}  // namespace packproof::text
