#include "engine/report/json_text.hpp"

#include <fmt/format.h>

#include "engine/text/safe_print.hpp"
#include "engine/text/utf8.hpp"

namespace packproof::report {

namespace {

std::string escape(char32_t point) {
    const auto value = static_cast<unsigned>(point);
    if (value < 0x10000U) return fmt::format("\\u{:04x}", value);
    const unsigned rest = value - 0x10000U;  // a surrogate pair (RFC 8259, 7)
    return fmt::format("\\u{:04x}\\u{:04x}", 0xD800U + (rest >> 10U), 0xDC00U + (rest & 0x3FFU));
}

}  // namespace

std::string escape_invisible(std::string_view json) {
    std::string safe;
    safe.reserve(json.size());
    for (std::size_t at = 0; at < json.size();) {
        if (static_cast<unsigned char>(json[at]) < 0x7FU) {  // the line ends between values are ours
            safe += json[at++];
            continue;
        }
        const text::CodePoint point = text::code_point_at(json, at);
        const std::string_view bytes = json.substr(at, point.length);
        if (text::safe_print(bytes) == bytes)
            safe += bytes;
        else
            safe += escape(point.value);
        at += point.length;
    }
    return safe;
}

}  // namespace packproof::report
