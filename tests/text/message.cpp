// Messages: collected, put in order, printed in the GNU form (GNU coding standards, 4.4).
#include <string>

#include <doctest/doctest.h>

#include "engine/text/message.hpp"

using namespace packproof::text;

TEST_CASE("messages come in the order of their places, repeats once") {
    Messages messages;
    messages.error({1, 5, 6}, "second file");
    messages.error({0, 9, 10}, "later");
    messages.warning({0, 2, 3}, "early");
    messages.error({0, 9, 10}, "later");
    messages.error({}, "nowhere");
    messages.error({0, 9, 10}, "another at the same place");
    const auto sorted = messages.sorted();
    REQUIRE(sorted.size() == 5);
    CHECK(sorted[0].text == "early");
    CHECK(sorted[1].text == "another at the same place");
    CHECK(sorted[2].text == "later");
    CHECK(sorted[3].text == "second file");
    CHECK(sorted[4].text == "nowhere");
}

TEST_CASE("the order does not depend on the order of adding") {
    Messages one;
    Messages other;
    one.error({0, 1, 2}, "a", "hint a");
    one.note({0, 1, 2}, "a", "hint b");
    one.error({0, 1, 3}, "b");
    other.error({0, 1, 3}, "b");
    other.note({0, 1, 2}, "a", "hint b");
    other.error({0, 1, 2}, "a", "hint a");
    const auto first = one.sorted();
    const auto second = other.sorted();
    REQUIRE(first.size() == second.size());
    for (std::size_t i = 0; i < first.size(); ++i) {
        CHECK(first[i].text == second[i].text);
        CHECK(first[i].hint == second[i].hint);
        CHECK(first[i].severity == second[i].severity);
    }
}

TEST_CASE("only errors count as errors") {
    Messages messages;
    CHECK(messages.empty());
    messages.warning({}, "careful");
    messages.note({}, "by the way");
    CHECK_FALSE(messages.has_errors());
    CHECK_FALSE(messages.empty());
    messages.error({}, "wrong");
    messages.add({Severity::error, {}, "wrong too", ""});
    CHECK(messages.has_errors());
    CHECK(messages.error_count() == 2);
}

TEST_CASE("a message prints its file, line and column, and its hint as a note") {
    Sources sources;
    const SourceIndex file = sources.add("packs/cabin.toml", "[cell]\nthickness = \"71.7\"\n");
    const Message message{
        Severity::error, {file, 20, 24}, "\"71.7\" has no unit", "write for example \"71.7 mm\""};
    CHECK(print_message(message, sources) ==
          "packs/cabin.toml:2:14: error: \"71.7\" has no unit\n"
          "packs/cabin.toml:2:14: note: write for example \"71.7 mm\"");
    CHECK(print_message({Severity::warning, {file, 0, 1}, "odd", ""}, sources) ==
          "packs/cabin.toml:1:1: warning: odd");
}

TEST_CASE("a message without a place names the program") {
    const Sources sources;
    CHECK(print_message({Severity::error, {}, "no such file", ""}, sources) ==
          "packproof: error: no such file");
    CHECK(print_message({Severity::note, {}, "a", "b"}, sources) == "packproof: note: a\npackproof: note: b");
}

TEST_CASE("text and file names from strangers are made harmless") {
    Sources sources;
    const SourceIndex file = sources.add("a\x1b[2Jb", "x");
    CHECK(print_message({Severity::error, {file, 0, 1}, "bad \u202E name\n", "h\x07"}, sources) ==
          "a\\u{1B}[2Jb:1:1: error: bad \\u{202E} name\\u{A}\na\\u{1B}[2Jb:1:1: note: h\\u{7}");
}
