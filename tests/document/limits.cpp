// Texts meant to exhaust the reader. Limits are those of document::Limits.
#include <doctest/doctest.h>

#include "tests/document/reading.hpp"

using packproof::document::Limits;
using packproof::testing::load;
using packproof::testing::parse;
using packproof::testing::TemporaryFolder;

namespace {

bool holds(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

std::string repeated(const std::string& piece, std::size_t times) {
    std::string result;
    for (std::size_t i = 0; i < times; ++i)
        result += piece;
    return result;
}

}  // namespace

TEST_CASE("a key of 150,000 dots is refused before the parser sees it") {
    const std::string dots = repeated("a.", 150'000) + "a";
    Limits wide;
    wide.line_bytes = 1U << 20U;  // so that the dots themselves are met
    for (const std::string& text : {dots + " = 1\n", "[" + dots + "]\n", "x = {" + dots + " = 1}\n",
                                    "x = 1\n[[" + dots + "]]\n", "x = [{" + dots}) {
        const auto parsed = parse(text, wide);
        CHECK_FALSE(parsed.root);
        CHECK(holds(parsed.said(), "error: this key has more than 32 dots"));
        CHECK_FALSE(parse(text).root);
    }
}

TEST_CASE("dots that a blanked line uncovers are refused too") {
    Limits wide;
    wide.line_bytes = 1U << 20U;
    // The second line is text inside three quotes until the first line, which is broken, is taken out.
    const auto parsed = parse("x = ] \"\"\"\n" + repeated("a.", 150'000) + "a = 1\n\"\"\"\n", wide);
    CHECK_FALSE(parsed.root);
}

TEST_CASE("dots in texts, comments and lists of numbers are no dots of a key") {
    const std::string forty = repeated("1.5, ", 40);
    CHECK(parse("a = \"" + forty + "\" # " + forty + "\nb = [" + forty + "]\nc = '" + forty + "'\nd = '''" +
                forty + "'''\n")
              .root);
    CHECK(parse(repeated("a.", 32) + "b = 1\n").root);
    CHECK_FALSE(parse(repeated("a.", 33) + "b = 1\n").root);
    CHECK_FALSE(parse(repeated("a . ", 33) + "b = 1\n").root);
    CHECK_FALSE(parse(repeated("\"a\".", 33) + "b = 1\n").root);
    CHECK_FALSE(parse(repeated("'a.b'.", 33) + "b = 1\n").root);
}

TEST_CASE("deep nesting is refused with a place") {
    for (std::size_t depth : {65U, 200U, 300U, 5000U, 15000U}) {
        const auto lists = parse("a = " + std::string(depth, '[') + std::string(depth, ']') + "\n");
        CHECK_FALSE(lists.root);
        CHECK(holds(lists.said(), "nested"));
        const auto tables = parse("a = " + repeated("{a=", depth) + "1" + std::string(depth, '}') + "\n");
        CHECK_FALSE(tables.root);
        CHECK(holds(tables.said(), "nested"));
    }
    CHECK(parse("a = " + std::string(60, '[') + std::string(60, ']') + "\n").root);
    CHECK_FALSE(parse(std::string(60000, '[')).root);
    CHECK_FALSE(parse(repeated("{a=", 20000)).root);
}

TEST_CASE("tables, dots and braces together stay within the depth") {
    const std::string key = repeated("a.", 31) + "a";
    const auto parsed = parse("[" + key + "]\n" + key + " = " + repeated("{" + key + " = ", 20) + "1" +
                              std::string(20, '}') + "\n");
    CHECK_FALSE(parsed.root);
    CHECK(holds(parsed.said(), "nested deeper than 64 levels"));
}

TEST_CASE("a line over the limit is named with its length") {
    const auto parsed = parse("x = 1\ny = \"" + std::string(70'000, 'a') + "\"\n");
    CHECK_FALSE(parsed.root);
    CHECK(parsed.said() == "a.toml:2:1: error: this line is 70006 bytes long; at most 65536 are read\n");
}

TEST_CASE("a file over the limit is refused unread") {
    const TemporaryFolder folder;
    const std::string path = folder.write(
        "large.toml", repeated("# fifty bytes of comment, again and again and aga\n", 1'048'576));
    const auto loaded = load(path);
    CHECK_FALSE(loaded.description);
    CHECK(loaded.sources.size() == 0);
    CHECK(loaded.said(folder) ==
          "packproof: error: large.toml is 52428800 bytes large; at most 4194304 are read\n");
}

TEST_CASE("a hundred thousand broken lines are read in bounded time") {
    const auto parsed = parse(repeated("a = [1\n", 100'000));
    CHECK_FALSE(parsed.root);
    CHECK(parsed.messages.error_count() <= 20);
    const auto quotes = parse(repeated("\"", 60'000));
    CHECK_FALSE(quotes.root);
    const auto headers = parse(repeated("[[\n", 100'000));
    CHECK_FALSE(headers.root);
    const auto same = parse(repeated("a = 1\n", 100'000));
    CHECK_FALSE(same.root);
    CHECK(same.messages.error_count() == 20);
}
