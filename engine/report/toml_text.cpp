#include "engine/report/toml_text.hpp"

#include <fmt/format.h>

namespace packproof::report {

namespace {

std::size_t digits_at(std::string_view text, std::size_t at) {
    std::size_t count = 0;
    while (at + count < text.size() && text[at + count] >= '0' && text[at + count] <= '9')
        ++count;
    return count;
}

// An integer or a float with digits on both sides of its point, without leading zeros.
bool is_number(std::string_view text) {
    std::size_t at = !text.empty() && (text[0] == '-' || text[0] == '+') ? 1 : 0;
    const std::size_t whole = digits_at(text, at);
    if (whole == 0 || (whole > 1 && text[at] == '0')) return false;
    at += whole;
    if (at == text.size()) return true;
    if (text[at++] != '.') return false;
    const std::size_t fraction = digits_at(text, at);
    return fraction > 0 && at + fraction == text.size();
}

std::string basic_string(std::string_view text) {
    std::string quoted = "\"";
    for (const char c : text) {
        if (c == '"' || c == '\\')
            quoted += fmt::format("\\{}", c);
        else if (static_cast<unsigned char>(c) < 0x20U || c == 0x7F)
            quoted += fmt::format("\\u{:04X}", static_cast<unsigned>(c));
        else
            quoted += c;
    }
    return quoted + "\"";
}

}  // namespace

std::string toml_value(std::string_view value, std::string_view old) {
    const bool bare = !old.starts_with('"') && !old.starts_with('\'');
    return bare && is_number(value) ? std::string(value) : basic_string(value);
}

}  // namespace packproof::report
