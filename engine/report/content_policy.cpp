#include "engine/report/content_policy.hpp"

#include <fmt/format.h>

#include <cstdint>

#include "engine/text/sha256.hpp"

namespace packproof::report {

namespace {

unsigned digit_of(char hexadecimal) {
    return hexadecimal <= '9' ? static_cast<unsigned>(hexadecimal - '0')
                              : static_cast<unsigned>(hexadecimal - 'a') + 10U;
}

/// Base64 (RFC 4648, section 4) of what the hexadecimal digits stand for.
std::string base64_of(std::string_view hexadecimal) {
    static constexpr std::string_view letters =
        "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string text;
    std::uint32_t held = 0;
    unsigned bits = 0;
    for (const char digit : hexadecimal) {
        held = (held << 4U) | digit_of(digit);
        bits += 4;
        if (bits < 6) continue;
        bits -= 6;
        text += letters[(held >> bits) & 63U];
    }
    if (bits > 0) text += letters[(held << (6 - bits)) & 63U];
    while (text.size() % 4 != 0)
        text += '=';
    return text;
}

}  // namespace

std::string content_policy(std::string_view style, std::string_view script) {
    std::string policy =
        fmt::format("default-src 'none'; style-src 'sha256-{}'", base64_of(text::sha256(style)));
    if (!script.empty()) policy += fmt::format("; script-src 'sha256-{}'", base64_of(text::sha256(script)));
    return fmt::format(
        "<meta http-equiv=\"Content-Security-Policy\" content=\"{}; base-uri 'none'; "
        "form-action 'none'\">\n",
        policy);
}

}  // namespace packproof::report
