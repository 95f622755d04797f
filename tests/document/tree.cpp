// Trees and their places. Byte offsets are counted by hand in the texts.
#include <doctest/doctest.h>

#include "tests/document/reading.hpp"

using packproof::document::Node;
using packproof::testing::parse;

TEST_CASE("members come in the order of the file, not of the alphabet") {
    const auto parsed = parse("zinc = 1\n[cell]\nwidth = 1\nheight = 2\n[busbar]\n[cell.b]\n[apple]\n");
    REQUIRE(parsed.root);
    std::string names;
    for (const Node& child : parsed.root->children)
        names += child.key + " ";
    CHECK(names == "zinc cell busbar apple ");
    CHECK(parsed.root->children[1].children[0].key == "width");
    CHECK(parsed.root->children[1].children[1].key == "height");
    CHECK(parsed.root->children[1].children[2].key == "b");
}

TEST_CASE("keys and values know where they are written") {
    const auto parsed = parse("[cell.\"main one\"]\nthickness = \"71.7 ± 0.5 mm\" # °C\n°");
    CHECK_FALSE(parsed.root);
    const auto good = parse("[cell.\"main one\"]\nthickness = \"71.7 ± 0.5 mm\" ; ");
    CHECK_FALSE(good.root);
    const auto read =
        parse("[cell.\"main one\"]\nthickness = \"71.7 ± 0.5 mm\" # °C\nmass=5\nok= [ true, 1.5 ]\n");
    REQUIRE(read.root);
    const Node& cell = read.root->children[0];
    CHECK(read.under(cell.key_span) == "cell");
    const Node& item = cell.children[0];
    CHECK(item.key == "main one");
    CHECK(read.under(item.key_span) == "\"main one\"");
    CHECK(read.under(item.span) == "[cell.\"main one\"]");
    CHECK(read.under(item.children[0].key_span) == "thickness");
    CHECK(read.under(item.children[0].span) == "\"71.7 ± 0.5 mm\"");
    CHECK(read.under(item.children[1].span) == "5");
    CHECK(item.children[1].integer == 5);
    CHECK(read.under(item.children[2].span) == "[ true, 1.5 ]");
    CHECK(read.under(item.children[2].children[1].span) == "1.5");
    CHECK(item.children[2].children[1].real == 1.5);
    CHECK(item.children[2].children[0].boolean);
}

TEST_CASE("places are right behind characters of several bytes, a byte-order mark and CRLF") {
    const auto parsed =
        parse("\xEF\xBB\xBF\"µ\" = 1\r\n\r\n# ⚡ é\r\na = { b = \"°\", c = 'Ω' }\r\nd.e = 2026-01-31\r\n");
    REQUIRE(parsed.root);
    const auto& root = parsed.root->children;
    CHECK(root[0].key == "µ");
    CHECK(parsed.under(root[0].key_span) == "\"µ\"");
    CHECK(parsed.under(root[1].span) == "{ b = \"°\", c = 'Ω' }");
    CHECK(parsed.under(root[1].children[1].key_span) == "c");
    CHECK(parsed.under(root[1].children[1].span) == "'Ω'");
    CHECK(root[1].children[1].text == "Ω");
    CHECK(parsed.under(root[2].span) == "d");
    CHECK(parsed.under(root[2].children[0].key_span) == "e");
    CHECK(root[2].children[0].kind == Node::Kind::date);
    CHECK(root[2].children[0].text == "2026-01-31");
}

TEST_CASE("a byte-order mark alone and an empty file are empty tables") {
    CHECK(parse("\xEF\xBB\xBF").root->children.empty());
    CHECK(parse("").root->children.empty());
    CHECK(parse("\n\n# nothing\n").root->children.empty());
}

TEST_CASE("a place inside a text counts escapes and the quotes of long texts") {
    const auto at = [](const std::string& bytes, std::size_t begin, std::size_t end) {
        const auto parsed = parse(bytes);
        REQUIRE(parsed.root);
        const Node& node = parsed.root->children[0];
        return std::string(parsed.under(span_inside(parsed.sources, node, begin, end)));
    };
    CHECK(at("a = \"12 mn\"\n", 3, 5) == "mn");
    CHECK(at("a = '12 mn'\n", 3, 5) == "mn");
    CHECK(at("a = \"5 \\u00B1 1 mn\"\n", 7, 9) == "mn");  // ± is two bytes of the value, six of the file
    CHECK(at("a = \"5 \\u00B1 1 mn\"\n", 2, 4) == "\\u00B1");
    CHECK(at("a = \"\\U0001F50B mn\"\n", 5, 7) == "mn");  // four bytes of the value, ten of the file
    CHECK(at("a = \"x\\ty mn\"\n", 4, 6) == "mn");
    CHECK(at("a = \"\"\"12 mn\"\"\"\n", 3, 5) == "mn");
    CHECK(at("a = \"\"\"\n12 mn\"\"\"\n", 3, 5) == "mn");  // the first line break is not part of the value
    CHECK(at("a = \"\"\"\r\n12 mn\"\"\"\n", 3, 5) == "mn");
    CHECK(at("a = '''12 \\mn'''\n", 3, 6) == "\\mn");
    CHECK(at("a = \"\"\"12 \\\n   mn\"\"\"\n", 3, 5) == "\\\n   mn");  // a break that is swallowed
    CHECK(at("a = \"12 mm\"\n", 5, 5).empty());
    CHECK(at("a = \"12 mm\"\n", 0, 99) == "12 mm");
}

TEST_CASE("find looks by name and says nothing of what is not there") {
    const auto parsed = parse("a = 1\nb = 2\n");
    REQUIRE(parsed.root);
    CHECK(parsed.root->find("b")->integer == 2);
    CHECK(parsed.root->find("c") == nullptr);
}

TEST_CASE("every kind of value has a name for messages") {
    CHECK(kind_name(Node::Kind::table) == "a table");
    CHECK(kind_name(Node::Kind::array) == "a list");
    CHECK(kind_name(Node::Kind::string) == "text");
    CHECK(kind_name(Node::Kind::integer) == "a whole number");
    CHECK(kind_name(Node::Kind::real) == "a number");
    CHECK(kind_name(Node::Kind::boolean) == "true or false");
    CHECK(kind_name(Node::Kind::date) == "a date");
}
