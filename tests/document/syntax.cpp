// Texts that are not TOML: what is said, and where. Places are counted by hand.
#include <doctest/doctest.h>

#include "tests/document/reading.hpp"

using packproof::testing::parse;

namespace {

std::string said(std::string bytes) {
    const auto parsed = parse(std::move(bytes));
    CHECK_FALSE(parsed.root);
    return parsed.said();
}

std::string one(const std::string& place, const std::string& error, const std::string& note) {
    return "a.toml:" + place + ": error: " + error + "\na.toml:" + place + ": note: " + note + "\n";
}

bool holds(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

}  // namespace

// These five ended a process through an assertion in the parser library's header-only form.
TEST_CASE("broken headers of a few characters are reported, not fatal") {
    CHECK(said("[\n") == one("1:1", "the header \"[\" is not closed", "put ] at its end"));
    for (const char* text :
         {"[.]\n", "[..]\n", "[!]\n", "[[[\n", "[µ]\n", "[[]]\n", "[]\n", "[a.]\n", "[.a]\n", "[[a].b]\n"})
        CHECK_MESSAGE(holds(said(text), "error: "), text);
    for (const char* text : {"[",   "[[",       "[a",    "[a.",    "[\"",     "[\"a",      "[a]b",
                             "]",   "}",        "{",     "=",      ".",       "\"",        "'",
                             ",",   "a",        "a.",    "a=",     "a=[",     "a={",       "a=\"",
                             "a='", "a=\"\"\"", "a='''", "a=\"\\", "a=\"\\u", "a=\"\\u12", "a=1_",
                             "a=+", "a=0x",     "a=1e",  "\r",     "\\"})
        CHECK_MESSAGE(holds(said(text), "error: "), text);
}

TEST_CASE("a missing closing quote is said at the opening one") {
    CHECK(said("a = \"abc\nb = 1\n") ==
          one("1:5", "the text that begins here has no closing quote", "put \" at its end"));
    CHECK(said("a = 'abc\n") ==
          one("1:5", "the text that begins here has no closing quote", "put ' at its end"));
    CHECK(said("x = 1\na = \"\"\"abc\nb = 1\n") == one("2:5",
                                                       "the text that begins here has no closing quotes",
                                                       "close it with the same three quotes"));
}

TEST_CASE("a key without a value is named") {
    const std::string hint = "write torque = \"?\" if it is not known, or take the line out";
    for (const char* text : {"torque =\n", "torque = \nx=1\n", "torque\n", "torque", "torque = # later\n",
                             "torque =\r\nx = 1\r\n"})
        CHECK_MESSAGE(said(text) == one("1:1", "\"torque\" has no value", hint), text);
}

TEST_CASE("a quantity without quotes gets its quotes") {
    const auto expect = [](const std::string& value) {
        return one("1:5", "\"" + value + "\" is not a value",
                   "texts and quantities stand in quotes: a = \"" + value + "\"");
    };
    for (const std::string value :
         {"12 mm", "12mm", "50 %", "2 ± 1", "LFP", "~4 N.m", "<= 5 A", "?", "none", "M6"})
        CHECK_MESSAGE(said("a = " + value + "\n") == expect(value), value);
    CHECK(said("a = 12 mm # width\n") == expect("12 mm"));
}

TEST_CASE("yes, no and their like become true and false") {
    CHECK(said("a = True\n") == one("1:5", "\"True\" is not a value", "write a = true"));
    CHECK(said("a = yes\n") == one("1:5", "\"yes\" is not a value", "write a = true"));
    CHECK(said("a = no\n") == one("1:5", "\"no\" is not a value", "write a = false"));
}

TEST_CASE("dates and numbers that TOML cannot read are named as such") {
    CHECK(holds(said("a = 2026-1-5\n"), "1:5: error: \"2026-1-5\" is not a date"));
    CHECK(holds(said("a = 2026-02-30\n"), "\"2026-02-30\" is not a date"));
    CHECK(holds(said("a = 31.12.2026\n"), "is not a number that TOML can read"));
    CHECK(holds(said("a = .5\n"), "\".5\" is not a number that TOML can read"));
    CHECK(holds(said("a = 007\n"), "\"007\" is not a number"));
    CHECK(holds(said("a = 1,5\n"), "\"1,5\" has a decimal comma"));
    CHECK(holds(said("a = 1e400\n"), "\"1e400\" is not a number"));
    CHECK(holds(said("a = 99999999999999999999\n"), "is not a number"));
}

TEST_CASE("inf and nan are refused") {
    CHECK(said("a = nan\nb = [1.0, -inf]\n") ==
          one("1:5", "nan is not a number of a description", "write \"?\" for what is not known") +
              one("2:11", "-inf is not a number of a description", "write \"?\" for what is not known"));
}

TEST_CASE("a repeated key or header is shown at the second, with the line of the first") {
    CHECK(said("a=1\nb=2\na=3\n") ==
          one("3:1", "\"a\" is stated twice; the first is in line 1", "keep one of them"));
    CHECK(said("[p.x]\na=1\nb='°'\n[q]\na=1\n[p.x]\na=2\n") ==
          one("6:2", "\"p.x\" is stated twice; the first is in line 1", "keep one of them"));
    CHECK(said("[p]\na=1\n[q.\"r s\"]\na=1\n\n  a = 2\n") ==
          one("6:3", "\"q.r s.a\" is stated twice; the first is in line 4", "keep one of them"));
    CHECK(said("[p]\nb.c=1\n[q]\nb.c=1\nb.c=2\n") ==
          one("5:1", "\"q.b.c\" is stated twice; the first is in line 4", "keep one of them"));
    CHECK(said("a={b=1}\n\na.c=3\n") ==
          one("3:1", "\"a\" is stated twice; the first is in line 1", "state it in one place"));
    CHECK(said("a=1\n[a]\n") ==
          one("2:2", "\"a\" is stated twice; the first is in line 1", "keep one of them"));
    CHECK(said("[[z]]\nk=1\n[[z]]\nk=1\nk=2\n") ==
          one("5:1", "\"z.k\" is stated twice; the first is in line 4", "keep one of them"));
    CHECK(holds(said("a={b=1, c=2, b=3}\n"), "\"b\" is stated twice; the first is in line 1"));
    CHECK(holds(said("a=[\n {b=1,\n  c=2}]\n"), "error"));
}

TEST_CASE("an open list is said at its bracket, and what follows is still read") {
    CHECK(said("a = [1,2\nb = 3\nc = 4\nc = 5\n") ==
          one("1:5", "the list that begins here is not closed", "put ] after its last element") +
              one("4:1", "\"c\" is stated twice; the first is in line 3", "keep one of them"));
    CHECK(said("a = [\n  \"x\",\n[cell]\nb =\n") ==
          one("1:5", "the list that begins here is not closed", "put ] after its last element") +
              one("4:1", "\"b\" has no value", "write b = \"?\" if it is not known, or take the line out"));
    CHECK(said("a = [1, 2") ==
          one("1:5", "the list that begins here is not closed", "put ] after its last element"));
    CHECK(said("a = { b = 1") ==
          one("1:5", "the table that begins here is not closed", "put } after its last value"));
}

TEST_CASE("a table in braces over several lines is one mistake, not one a line") {
    CHECK(said("a = {\n b = 1,\n c = 2\n}\nd = 1 mm\n") ==
          one("1:5", "a table in braces stands on one line in TOML 1.0",
              "write it as a table of its own, under a header in brackets") +
              one("5:5", "\"1 mm\" is not a value", "texts and quantities stand in quotes: d = \"1 mm\""));
}

TEST_CASE("every mistake of a file is reported in one run, without echoes") {
    const std::string text =
        "[pack\n"                // the header is broken, so these keys have no home:
        "series = 16\n"          //
        "[cell]\n"               //
        "thickness = 71.7 mm\n"  // no quotes
        "capacity = \"280 Ah\n"  // no closing quote
        "series = 1\n"           //
        "[busbar.x\n"            // broken
        "series = 2\n"           // not a repeat of line 6
        "[fixture]\n"            //
        "bolts =\n"              // no value
        "bolts = 4\n"            //
        "bolts = 5\n";           // a repeat of line 11
    const std::string all = said(text);
    CHECK(holds(all, "a.toml:1:1: error: the header \"[pack\" is not closed"));
    CHECK(holds(all, "a.toml:4:13: error: \"71.7 mm\" is not a value"));
    CHECK(holds(all, "a.toml:5:12: error: the text that begins here has no closing quote"));
    CHECK(holds(all, "a.toml:7:1: error: the header \"[busbar.x\" is not closed"));
    CHECK(holds(all, "a.toml:10:1: error: \"bolts\" has no value"));
    CHECK(holds(all, "a.toml:12:1: error: \"fixture.bolts\" is stated twice; the first is in line 11"));
    std::size_t errors = 0;
    for (std::size_t at = all.find("error: "); at != std::string::npos; at = all.find("error: ", at + 1))
        ++errors;
    CHECK(errors == 6);
}

TEST_CASE("after twenty mistakes of form the rest is not listed") {
    std::string text;
    for (int i = 0; i < 100; ++i)
        text += "k" + std::to_string(i) + " = " + std::to_string(i) + " mm\n";
    const auto parsed = parse(text);
    CHECK_FALSE(parsed.root);
    CHECK(parsed.messages.error_count() == 20);
    CHECK(holds(parsed.said(), "only the first 20 mistakes of this file's form are shown"));
}

TEST_CASE("control and direction characters reach no message raw") {
    const std::string all = said("a = \"x\x01y\"\n[b\x1b]\n\"c\u202E\" = \u202Ex\n# \x07\n");
    CHECK(holds(all, "a.toml:1:7: error: a control character, \\u{1}, stands here"));
    for (char c : all)
        CHECK((c == '\n' || static_cast<unsigned char>(c) >= 0x20));
    CHECK_FALSE(holds(all, "\u202E"));
}

TEST_CASE("a lone carriage return, typographic quotes and escapes have their own sentences") {
    CHECK(holds(said("a=1\rb=2\n"), "1:4: error: a carriage return without a line feed"));
    CHECK(holds(said("a = “x”\n"), "1:5: error: these quotes are typographic ones"));
    CHECK(holds(said("a = \"C:\\qoo\"\n"), "1:8: error: this backslash begins no escape"));
    CHECK(holds(said("a = \"x\" y\n"), "1:9: error: nothing may stand after a value"));
    CHECK(holds(said("a : 1\n"), "1:3: error: an equals sign is due here, not \":\""));
    CHECK(holds(said("a == 1\n"), "error: one equals sign is enough"));
    CHECK(holds(said("µ = 1\n"), "1:1: error: \"µ\" cannot begin a key"));
    CHECK(holds(said("aµ = 1\n"), "1:2: error: \"µ\" may not stand in a key"));
    CHECK(holds(said("[a] [b]\n"), "1:5: error: nothing may stand after a header"));
    CHECK(holds(said("[a b]\n"), "1:4: error: \"b\" may not stand in a header"));
    CHECK(holds(said("a=[1 2]\n"), "1:6: error: \"2\" is not expected here"));
    CHECK(holds(said("a={b=1,}\n"), "1:8: error: a comma before } is not allowed"));
}

TEST_CASE("a text that is cut off anywhere gives a message with a place inside it, or a tree") {
    const std::string whole =
        "\xEF\xBB\xBF[cell.\"a b\"]\r\nt = \"71.7 ± 0.5 mm\" # °\nl = [\"a\", [1, 2.5], {x = 1, \"y\".z = "
        "'''q'''}]\n"
        "d = 2026-01-31\nm = \"\"\"x\n\\\n y\"\"\"\n[[k]]\nb = true\n";
    for (std::size_t length = 0; length <= whole.size(); ++length) {
        const auto parsed = parse(whole.substr(0, length));
        CHECK((parsed.root.has_value() != parsed.messages.has_errors()));
        for (const auto& message : parsed.messages.sorted()) {
            CHECK(message.span.begin <= message.span.end);
            CHECK(message.span.end <= length);
        }
    }
}

TEST_CASE("a byte changed anywhere never ends the process") {
    const std::string whole =
        "[cell.a]\nt = \"7 ± 1\" # °\nl = [\"a\", {x = 1, y.z = 'q'}]\nm = '''x\n'''\n[[k]]\nb = "
        "2026-01-31\n[cell.b]\nt=1\n";
    for (std::size_t at = 0; at < whole.size(); ++at)
        for (char c : {'"', '\'', '[', ']', '{', '}', '=', '.', '\n', '\r', '\\', '#', ',', ' ', 'x', '1',
                       '\x01', '\xC3'}) {
            std::string text = whole;
            text[at] = c;
            const auto parsed = parse(text);
            CHECK((parsed.root.has_value() != parsed.messages.has_errors()));
            for (const auto& message : parsed.messages.sorted())
                CHECK(message.span.end <= text.size());
        }
}
