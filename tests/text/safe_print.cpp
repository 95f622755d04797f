// Text from strangers. The characters are those of the Unicode data and of the advisories on bidirectional
// controls in source text (CVE-2021-42574) and on terminal escapes.
#include <initializer_list>
#include <string>
#include <string_view>

#include <doctest/doctest.h>

#include "engine/text/safe_print.hpp"
#include "engine/text/utf8.hpp"

using namespace packproof::text;

namespace {

std::string shown(char32_t code_point) {
    std::string text;
    append_utf8(text, code_point);
    return safe_print(text);
}

std::string numbered(char32_t code_point) {
    constexpr std::string_view digits = "0123456789ABCDEF";
    std::string hexadecimal;
    for (auto rest = static_cast<std::uint32_t>(code_point); rest > 0 || hexadecimal.empty(); rest /= 16)
        hexadecimal.insert(hexadecimal.begin(), digits[rest % 16]);
    return "\\u{" + hexadecimal + "}";
}

}  // namespace

TEST_CASE("ordinary text in any script passes as it is") {
    for (const char* text : {"", "50 mm²", "25 °C ± 5 K", "µΩ · ½", "電池", "аккумулятор", "e\u0301",
                             "\U0001F50B", "\\u{41}", "\uFF21", "\u00A0"}) {
        CAPTURE(text);
        CHECK(safe_print(text) == text);
    }
}

TEST_CASE("control characters show as numbers: C0, DEL and C1") {
    for (char32_t c = 0; c < 0x20; ++c)
        CHECK(shown(c) == numbered(c));
    for (char32_t c = 0x7F; c < 0xA0; ++c)
        CHECK(shown(c) == numbered(c));
    CHECK(safe_print("\x1b[31mred") == "\\u{1B}[31mred");
    CHECK(safe_print("a\nb\tc") == "a\\u{A}b\\u{9}c");
    CHECK(safe_print(std::string_view{"a\0b", 3}) == "a\\u{0}b");
    CHECK(safe_print("\u009B31m") == "\\u{9B}31m");  // CSI in one character
}

TEST_CASE("all twelve bidirectional controls show as numbers") {
    for (const char32_t c : std::initializer_list<char32_t>{0x061C, 0x200E, 0x200F, 0x202A, 0x202B, 0x202C,
                                                            0x202D, 0x202E, 0x2066, 0x2067, 0x2068, 0x2069})
        CHECK(shown(c) == numbered(c));
    CHECK(safe_print("user\u202E\u2066admin") == "user\\u{202E}\\u{2066}admin");
}

TEST_CASE("invisible characters show as numbers") {
    for (const char32_t c : std::initializer_list<char32_t>{
             0x00AD, 0x034F, 0x115F, 0x1160, 0x180E, 0x200B, 0x200C, 0x200D,  0x2028,  0x2029,  0x2060,
             0x2064, 0x3164, 0xFE0F, 0xFEFF, 0xFFF9, 0xFFFA, 0xFFFB, 0xE0001, 0xE0020, 0xE007F, 0xE0100})
        CHECK(shown(c) == numbered(c));
}

TEST_CASE("noncharacters show as numbers") {
    for (const char32_t c :
         std::initializer_list<char32_t>{0xFDD0, 0xFDEF, 0xFFFE, 0xFFFF, 0x1FFFE, 0x10FFFF})
        CHECK(shown(c) == numbered(c));
}

TEST_CASE("bad UTF-8 shows as replacement characters and is found at its first byte") {
    struct Row {
        std::string_view bytes;
        std::string_view shown;
        std::size_t bad;
    };
    const Row rows[] = {
        {"a\xff", "a\uFFFD", 1},
        {"\xC0\x80", "\uFFFD\uFFFD", 0},                      // overlong NUL
        {"\xE0\x80\xAF", "\uFFFD\uFFFD\uFFFD", 0},            // overlong slash
        {"\xED\xA0\x80", "\uFFFD\uFFFD\uFFFD", 0},            // a surrogate
        {"\xF4\x90\x80\x80", "\uFFFD\uFFFD\uFFFD\uFFFD", 0},  // above U+10FFFF
        {"ab\xC2", "ab\uFFFD", 2},                            // cut off
        {"\x80z", "\uFFFDz", 0},                              // a continuation alone
        {"\xC2\x41", "\uFFFD\x41", 0},
    };
    for (const Row& row : rows) {
        CAPTURE(row.bad);
        CHECK(safe_print(row.bytes) == row.shown);
        CHECK_FALSE(check_utf8(row.bytes).good);
        CHECK(check_utf8(row.bytes).bad_offset == row.bad);
    }
    CHECK(check_utf8("50 mm² \U0001F50B").good);
    CHECK(check_utf8("").good);
}

TEST_CASE("whatever goes in, what comes out is good UTF-8 without controls, and stays as it is") {
    std::uint32_t state = 1;
    for (int i = 0; i < 20'000; ++i) {
        std::string bytes;
        for (int j = 0; j < 12; ++j) {
            state = state * 1664525U + 1013904223U;  // Numerical Recipes' generator
            bytes.push_back(static_cast<char>(state >> 24U));
        }
        const std::string text = safe_print(bytes);
        REQUIRE(check_utf8(text).good);
        REQUIRE(safe_print(text) == text);
        for (const char c : text)
            REQUIRE(static_cast<unsigned char>(c) >= 0x20U);
    }
}

TEST_CASE("every code point that UTF-8 can hold goes in and comes out") {
    for (char32_t c = 0; c <= 0x10FFFF; ++c) {
        if (c >= 0xD800 && c <= 0xDFFF) continue;
        std::string bytes;
        append_utf8(bytes, c);
        const CodePoint point = code_point_at(bytes, 0);
        if (!point.good || point.value != c || point.length != bytes.size()) FAIL(static_cast<unsigned>(c));
    }
}

TEST_CASE("width counts terminal cells without asking the locale") {
    CHECK(display_width("") == 0);
    CHECK(display_width("50 mm²") == 6);
    CHECK(display_width("µΩ") == 2);
    CHECK(display_width("電池") == 4);
    CHECK(display_width("e\u0301") == 1);
    CHECK(display_width("\U0001F50B") == 2);
    CHECK(display_width("\uFF21") == 2);  // fullwidth A
    CHECK(display_width("\uFF71") == 1);  // halfwidth katakana
    CHECK(display_width("\u200B") == 0);
    CHECK(display_width("±≤≥°") == 4);
}

TEST_CASE("text is broken at spaces to a width that counts the indent") {
    CHECK(wrap("one two three", 7, "", "") == "one two\nthree");
    CHECK(wrap("one two three", 100, "", "") == "one two three");
    CHECK(wrap("one two three", 9, "- ", "  ") == "- one two\n  three");
    CHECK(wrap("a verylongwordindeed b", 6, "", "") == "a\nverylongwordindeed\nb");
    CHECK(wrap("verylongwordindeed", 4, "> ", "") == "> verylongwordindeed");
    CHECK(wrap("", 10, "> ", "  ") == "> ");
    CHECK(wrap("a  b   c", 10, "", "") == "a b c");
    CHECK(wrap("電池 電池", 8, "", "") == "電池\n電池");  // 4 + 1 + 4 cells
    CHECK(wrap("電池 電池", 9, "", "") == "電池 電池");
}
