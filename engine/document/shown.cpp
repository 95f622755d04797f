#include "engine/document/shown.hpp"

#include "engine/text/safe_print.hpp"

namespace packproof::document {

std::string shown(std::string_view untrusted, std::size_t most) {
    std::size_t end = 0;
    std::size_t points = 0;
    while (end < untrusted.size() && points < most) {
        ++end;
        while (end < untrusted.size() && (static_cast<unsigned char>(untrusted[end]) & 0xC0U) == 0x80U)
            ++end;
        ++points;
    }
    std::string result = text::safe_print(untrusted.substr(0, end));
    if (end < untrusted.size()) result += "…";
    return result;
}

std::string in_quotes(std::string_view untrusted) {
    return '"' + shown(untrusted) + '"';
}

}  // namespace packproof::document
