#include "engine/report/json_text.hpp"

#include <fmt/format.h>

#include <array>
#include <cstdint>

namespace packproof::report {

namespace {

struct Stretch {
    std::uint32_t first;
    std::uint32_t last;
};

// Unicode 15: Bidi_Control, line and paragraph separators, zero-width and other invisible characters,
// interlinear marks, tags; and the C1 controls with DEL.
constexpr std::array<Stretch, 12> escaped{{{0x7F, 0x9F},
                                           {0xAD, 0xAD},
                                           {0x61C, 0x61C},
                                           {0x180E, 0x180E},
                                           {0x200B, 0x200F},
                                           {0x2028, 0x202E},
                                           {0x2060, 0x206F},
                                           {0xFDD0, 0xFDEF},
                                           {0xFEFF, 0xFEFF},
                                           {0xFFF9, 0xFFFB},
                                           {0xFFFE, 0xFFFF},
                                           {0xE0000, 0xE007F}}};

bool is_escaped(std::uint32_t point) {
    if ((point & 0xFFFEU) == 0xFFFEU) return true;  // the last two of every plane are noncharacters
    for (const Stretch& stretch : escaped)
        if (stretch.first <= point && point <= stretch.last) return true;
    return false;
}

std::size_t length_of(unsigned char lead) {
    if (lead < 0x80) return 1;
    if (lead < 0xE0) return 2;
    return lead < 0xF0 ? 3 : 4;
}

std::uint32_t code_point(std::string_view bytes) {
    const auto byte = [&](std::size_t i) {
        return static_cast<std::uint32_t>(static_cast<unsigned char>(bytes[i]));
    };
    switch (bytes.size()) {
        case 1:
            return byte(0);
        case 2:
            return ((byte(0) & 0x1FU) << 6U) | (byte(1) & 0x3FU);
        case 3:
            return ((byte(0) & 0x0FU) << 12U) | ((byte(1) & 0x3FU) << 6U) | (byte(2) & 0x3FU);
        default:
            return ((byte(0) & 0x07U) << 18U) | ((byte(1) & 0x3FU) << 12U) | ((byte(2) & 0x3FU) << 6U) |
                   (byte(3) & 0x3FU);
    }
}

std::string escape(std::uint32_t point) {
    if (point < 0x10000) return fmt::format("\\u{:04x}", point);
    const std::uint32_t rest = point - 0x10000;
    return fmt::format("\\u{:04x}\\u{:04x}", 0xD800 + (rest >> 10U), 0xDC00 + (rest & 0x3FFU));
}

}  // namespace

std::string escape_invisible(std::string_view json) {
    std::string safe;
    safe.reserve(json.size());
    for (std::size_t i = 0; i < json.size();) {
        const std::string_view bytes = json.substr(i, length_of(static_cast<unsigned char>(json[i])));
        const std::uint32_t point = code_point(bytes);
        if (is_escaped(point))
            safe += escape(point);
        else
            safe += bytes;
        i += bytes.size();
    }
    return safe;
}

}  // namespace packproof::report
