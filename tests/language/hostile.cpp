// Texts from strangers: bounded in length, depth and time, and never a crash.
#include <doctest/doctest.h>

#include <random>
#include <string>

#include "world.hpp"

using namespace packproof::language;

namespace {

std::string repeated(std::string_view text, std::size_t times) {
    std::string all;
    for (std::size_t i = 0; i < times; ++i)
        all += text;
    return all;
}

}  // namespace

TEST_CASE("an expression may be 4096 bytes long and no longer") {
    const World world;
    // 30 texts of about 130 bytes in one list stay shallow
    std::string fits = "label in ['x'";
    while (fits.size() + 4 < 4096)
        fits += ",'y'";
    fits += std::string(4095 - fits.size(), ' ') + "]";
    REQUIRE(fits.size() == 4096);
    CHECK(world.mistakes("conductor", fits).empty());
    CHECK(world.mistakes("conductor", fits + " ") ==
          "4096..4097 the expression is longer than 4096 bytes (name its parts as derived quantities)");
    CHECK(world.mistakes("conductor", std::string(1 << 20, '(')) ==
          "4096..1048576 the expression is longer than 4096 bytes (name its parts as derived quantities)");
}

TEST_CASE("nesting is bounded at 64 levels, whatever nests") {
    const World world;
    const std::string too_deep =
        "the expression nests more than 64 levels deep (name its parts as derived quantities)";
    CHECK(world.mistakes("conductor", repeated("(", 1000) + "1" + repeated(")", 1000)) ==
          "64..65 " + too_deep);
    CHECK(world.mistakes("conductor", repeated("(", 60) + "length" + repeated(")", 60)).empty());
    const auto last = [](const std::string& words) { return words.substr(words.find(' ') + 1); };
    CHECK(last(world.mistakes("conductor", repeated("- ", 1000) + "length")) == too_deep);
    CHECK(last(world.mistakes("conductor", repeated("not ", 1000) + "tinned")) == too_deep);
    CHECK(last(world.mistakes("conductor", "length" + repeated(" + length", 300))) == too_deep);
    CHECK(last(world.mistakes("conductor", "tinned" + repeated(" and tinned", 300))) == too_deep);
    CHECK(last(world.mistakes("conductor", "this" + repeated(".x", 300))) == too_deep);
    CHECK(last(world.mistakes("conductor", repeated("if tinned then ", 200) + "1")) == too_deep);
    CHECK(last(world.mistakes("conductor", repeated("abs(", 200) + "1")) == too_deep);
    CHECK(last(world.mistakes("conductor", repeated("min(1, ", 200) + "1")) == too_deep);
    CHECK(world.mistakes("conductor", "length" + repeated(" + length", 60)).empty());
}

TEST_CASE("folds stand at most four inside one another") {
    const World world;
    CHECK(
        world.mistakes("pack", "count(lug as a where any(lug as b : any(lug as c : any(lug as d : a == d))))")
            .empty());
    CHECK(
        world.mistakes(
            "pack", "any(lug as a : any(lug as b : any(lug as c : any(lug as d : any(lug as e : true)))))") ==
        "60..72 more than 4 of these stand inside one another");
}

TEST_CASE("no text at all makes the parser, the checker or the evaluator fall over") {
    World world;
    const auto item = world.add("conductor", "c");
    std::mt19937 random(99);
    constexpr std::string_view words[] = {
        "section", "length", " ",        "(",     ")",       "+",       "-",         "*",
        "/",       "^",      "2",        "2 mm²", "°C",      "<",       "<=",        "==",
        "and",     "or",     "not",      "is",    "stated",  "none",    "in",        "[",
        "]",       "'x'",    "'",        "if",    "then",    "else",    "count",     "sum",
        "as",      "where",  ":",        ",",     ".",       "the",     "this",      "pack",
        "limit",   "lookup", "min",      "label", "layers",  "max",     "matches",   "within",
        "pi",      "true",   "capacity", "1e5",   "2/0 AWG", "x",       "conductor", "protected_by",
        "\xff",    "≤",      "%",        "sqrt",  "known",   "assumed", "mentioned"};
    std::size_t good = 0;
    for (int round = 0; round < 6000; ++round) {
        std::string text;
        const auto length = random() % 12 + 1;
        for (unsigned i = 0; i < length; ++i) {
            text += words[random() % std::size(words)];
            if (random() % 2 == 0) text += ' ';
        }
        std::vector<Mistake> mistakes;
        auto tree = parse(text, mistakes);
        CHECK(tree.has_value() == mistakes.empty());
        if (tree && check(*tree, world.kind("conductor"), world.names(), mistakes)) {
            ++good;
            (void)evaluate(*tree, item, world.context());
        }
        for (const Mistake& mistake : mistakes) {
            CHECK(mistake.begin <= mistake.end);
            CHECK(mistake.end <= text.size());
            CHECK_FALSE(mistake.text.empty());
        }
    }
    CHECK(good > 50);  // the words do make sense at times
    for (int round = 0; round < 3000; ++round) {
        std::string bytes;
        const auto length = random() % 200;
        for (unsigned i = 0; i < length; ++i)
            bytes += static_cast<char>(random() % 256);
        std::vector<Mistake> mistakes;
        const auto tree = parse(bytes, mistakes);
        CHECK(tree.has_value() == mistakes.empty());
    }
}
