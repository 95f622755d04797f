// Places in a file. Columns are worked out by hand: code points, UTF-16 units and terminal cells differ as
// soon as a line holds more than ASCII.
#include <stdexcept>
#include <string>
#include <string_view>

#include <doctest/doctest.h>

#include "engine/text/source.hpp"

using namespace packproof::text;

namespace {

bool is(const Place& place, std::uint32_t line, std::uint32_t column, std::uint32_t utf16,
        std::uint32_t display) {
    return place.line == line && place.column == column && place.utf16_column == utf16 &&
           place.display_column == display;
}

/// The place of a mark in a one-file text.
Place place_of(const std::string& text, std::string_view mark) {
    Sources sources;
    const SourceIndex file = sources.add("pack.toml", text);
    return sources.place(file, static_cast<std::uint32_t>(text.find(mark)));
}

}  // namespace

TEST_CASE("lines and columns count from one") {
    const std::string text = "a = 1\nb = 2\n";
    CHECK(is(place_of(text, "a"), 1, 1, 1, 1));
    CHECK(is(place_of(text, "1"), 1, 5, 5, 5));
    CHECK(is(place_of(text, "b"), 2, 1, 1, 1));
}

TEST_CASE("degree sign and power are two bytes but one column") {
    CHECK(is(place_of("t = \"25 °C\" # x", "#"), 1, 13, 13, 13));
    CHECK(is(place_of("a = \"50 mm²\" # x", "#"), 1, 14, 14, 14));
    CHECK(is(place_of("r = \"5 µΩ\"#", "#"), 1, 11, 11, 11));
}

TEST_CASE("a combining mark is a column of its own but takes no cell") {
    CHECK(is(place_of("e\u0301x", "x"), 1, 3, 3, 2));
}

TEST_CASE("a character beyond the basic plane is one code point, two UTF-16 units and two cells") {
    CHECK(is(place_of("\U0001F50Bx", "x"), 1, 2, 3, 3));
    CHECK(is(place_of("電x", "x"), 1, 2, 2, 3));
}

TEST_CASE("a tab is one column and goes to the next stop of eight cells") {
    CHECK(is(place_of("\tx", "x"), 1, 2, 2, 9));
    CHECK(is(place_of("ab\tx", "x"), 1, 4, 4, 9));
    CHECK(is(place_of("12345678\tx", "x"), 1, 10, 10, 17));
}

TEST_CASE("CR LF ends a line and a lone CR does not") {
    CHECK(is(place_of("a\r\nb", "b"), 2, 1, 1, 1));
    CHECK(place_of("a\rb", "b").line == 1);
    Sources sources;
    const SourceIndex file = sources.add("x", "ab\r\ncd");
    CHECK(sources.line_at(file, 0) == "ab");
    CHECK(sources.line_at(file, 2) == "ab");
    CHECK(is(sources.place(file, 3), 1, 3, 3, 3));  // at the LF: still the end of the line's text
    CHECK(sources.line_at(file, 4) == "cd");
}

TEST_CASE("a byte-order mark takes no column") {
    CHECK(is(place_of("\xEF\xBB\xBFx = 1", "x"), 1, 1, 1, 1));
    Sources sources;
    const SourceIndex file = sources.add("x", "\xEF\xBB\xBFx = 1\ny");
    CHECK(is(sources.place(file, 0), 1, 1, 1, 1));
    CHECK(sources.offset(file, 1, 1) == 3);
    CHECK(sources.line_at(file, 0) == "x = 1");
}

TEST_CASE("line separator U+2028 and next line U+0085 do not end a line") {
    CHECK(is(place_of("a\u2028b", "b"), 1, 3, 3, 3));
    CHECK(place_of("a\u0085b", "b").line == 1);
}

TEST_CASE("an offset past the end gives the end, one inside a character its beginning") {
    Sources sources;
    const SourceIndex file = sources.add("x", "a = °C");
    CHECK(is(sources.place(file, 1000), 1, 7, 7, 7));
    CHECK(is(sources.place(file, 5), 1, 5, 5, 5));  // the second byte of °
    const SourceIndex empty = sources.add("empty", "");
    CHECK(is(sources.place(empty, 0), 1, 1, 1, 1));
    CHECK(sources.line_at(empty, 5).empty());
    const SourceIndex ended = sources.add("ended", "a\n");
    CHECK(is(sources.place(ended, 2), 2, 1, 1, 1));
}

TEST_CASE("a line and column lead back to their offset") {
    const std::string text = "\xEF\xBB\xBFkey = \"25 °C\"\r\n\tµ = e\u0301\n\U0001F50B = 電\n";
    Sources sources;
    const SourceIndex file = sources.add("x", text);
    for (std::uint32_t at = 3; at < text.size(); ++at) {
        const bool continues = (static_cast<unsigned char>(text[at]) & 0xC0U) == 0x80U;
        if (continues || text[at] == '\n') continue;
        const Place place = sources.place(file, at);
        CAPTURE(at);
        CHECK(sources.offset(file, place.line, place.column) == at);
    }
}

TEST_CASE("a column or line beyond the text gives the nearest end") {
    Sources sources;
    const SourceIndex file = sources.add("x", "ab\ncd\n");
    CHECK(sources.offset(file, 1, 99) == 2);
    CHECK(sources.offset(file, 99, 1) == 6);
    CHECK(sources.offset(file, 0, 0) == 0);
    CHECK(sources.offset(file, 2, 2) == 4);
}

TEST_CASE("bad UTF-8 counts one column a byte") {
    CHECK(is(place_of("\xff\xfe#", "#"), 1, 3, 3, 3));
    CHECK(is(place_of("\xC3#", "#"), 1, 2, 2, 2));
}

TEST_CASE("texts handed out stay valid when more sources come") {
    Sources sources;
    const SourceIndex first = sources.add("first.toml", "alpha");
    const std::string_view bytes = sources.bytes(first);
    const std::string_view path = sources.path(first);
    for (int i = 0; i < 1000; ++i)
        (void)sources.add("other", "text");
    CHECK(bytes.data() == sources.bytes(first).data());
    CHECK(bytes == "alpha");
    CHECK(path == "first.toml");
    CHECK(sources.size() == 1001);
}

TEST_CASE("a branch sees the trunk, and is adopted under the numbers that its files have") {
    Sources trunk;
    const auto rule = trunk.add("rules.toml", "a\nb");
    Sources left(trunk, 10);
    Sources right(trunk, 20);
    const auto l = left.add("left.toml", "x\ny");
    const auto r = right.add("right.toml", "z");
    right.add("right-part.toml", "");
    CHECK(l == 10);
    CHECK(r == 20);
    CHECK(left.path(rule) == "rules.toml");
    CHECK_FALSE(left.holds(20));
    CHECK_FALSE(left.holds(5));
    CHECK_THROWS_AS((void)left.bytes(20), std::out_of_range);
    trunk.adopt(std::move(left));
    trunk.adopt(std::move(right));
    CHECK(trunk.size() == 22);
    CHECK(trunk.path(10) == "left.toml");
    CHECK(trunk.place(10, 2).line == 2);
    CHECK(trunk.bytes(20) == "z");
    CHECK_FALSE(trunk.holds(11));
    CHECK_FALSE(trunk.holds(no_source));
    CHECK(trunk.read_with(21).first == 20);
    CHECK(trunk.read_with(21).end == 22);
    CHECK(trunk.read_with(rule).end == 1);
    CHECK(trunk.read_with(12).end == 0);
    CHECK(trunk.add("later.toml", "q") == 22);
    CHECK(trunk.path(22) == "later.toml");
}
