#include "engine/report/html_page.hpp"

#include <fmt/format.h>

#include <cstdint>

#include "engine/report/html_text.hpp"
#include "engine/text/sha256.hpp"

namespace packproof::report {

namespace {

std::uint32_t digit_value(char digit) {
    return static_cast<std::uint32_t>(digit <= '9' ? digit - '0' : digit - 'a' + 10);
}

// Content Security Policy level 2: a hash source names the bytes between the tags.
std::string hash_source(std::string_view bytes) {
    return fmt::format("'sha256-{}'", base64_of_hex(text::sha256(bytes)));
}

}  // namespace

std::string base64_of_hex(std::string_view digits) {
    constexpr std::string_view alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string text;
    for (std::size_t at = 0; at < digits.size(); at += 6) {
        const std::string_view three = digits.substr(at, 6);  // three bytes are four characters
        std::uint32_t bits = 0;
        for (std::size_t i = 0; i < 6; ++i)
            bits = bits * 16 + (i < three.size() ? digit_value(three[i]) : 0);
        const std::size_t characters = three.size() / 2 + 1;
        for (std::size_t i = 0; i < 4; ++i)
            text += i < characters ? alphabet[bits >> (18 - 6 * i) & 63U] : '=';
    }
    return text;
}

std::string begin_html(std::string_view title, const HtmlFrame& frame) {
    std::string policy = "default-src 'none'; style-src " + hash_source(frame.style);
    if (!frame.script.empty()) policy += "; script-src " + hash_source(frame.script);
    return fmt::format(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
        "<meta http-equiv=\"Content-Security-Policy\" content=\"{}; base-uri 'none'; form-action 'none'\">\n"
        "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
        "<title>{}</title>\n<style>{}</style>\n</head>\n<body>\n",
        policy, html_text(title), frame.style);
}

std::string end_html(const HtmlFrame& frame) {
    if (frame.script.empty()) return "</body>\n</html>\n";
    return fmt::format("<script>{}</script>\n</body>\n</html>\n", frame.script);
}

}  // namespace packproof::report
