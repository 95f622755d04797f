// What binds tighter than what, and how literals are read. Expected values are worked by hand.
#include <doctest/doctest.h>

#include "engine/language/pattern.hpp"
#include "world.hpp"

using namespace packproof;
using namespace packproof::language;

namespace {

struct Item : World {
    model::ItemIndex item = add("conductor", "c");
    Item() {
        set(item, "section", "50 mm²");
        set(item, "tinned", "true");
        set(item, "label", "it's");
    }
};

}  // namespace

TEST_CASE_FIXTURE(Item, "operators bind as in school") {
    CHECK(answer(item, "2 + 3 * 4") == "14");
    CHECK(answer(item, "(2 + 3) * 4") == "20");
    CHECK(answer(item, "20 / 2 / 5") == "2");
    CHECK(answer(item, "10 - 4 - 3") == "3");
    CHECK(answer(item, "2 * 3^2") == "18");
    CHECK(answer(item, "-3^2") == "-9");
    CHECK(answer(item, "(-3)^2") == "9");
    CHECK(answer(item, "2 - -3") == "5");
    CHECK(answer(item, "- - 3") == "3");
    CHECK(answer(item, "1 + (if tinned then 2 else 3) * 2") == "5");
    CHECK(answer(item, "if tinned then 1 else 2 + 5") == "1");
    CHECK(answer(item, "true or false and false") == "yes");
    CHECK(answer(item, "(true or false) and false") == "no");
    CHECK(answer(item, "not true or true") == "yes");
    CHECK(answer(item, "not section < 3 mm²") == "yes");
    CHECK(answer(item, "not tinned == false") == "yes");
    CHECK(answer(item, "section + 1 mm² > 50 mm² and tinned") == "yes");
}

TEST_CASE_FIXTURE(Item, "literals are numbers with units, texts and truths") {
    CHECK(answer(item, "1.5e3") == "1500");
    CHECK(answer(item, "2.5 kA") == "2500");
    CHECK(answer(item, "50 %") == "0.5");
    CHECK(answer(item, "10 A / 2") == "5");
    CHECK(answer(item, "2.5 A/mm² * 2 mm²") == "5");
    CHECK(answer(item, "section >= 2 mm^2") == "yes");
    CHECK(answer(item, "section < 3 in * 1 mm") == "yes");  // an inch is 25.4 mm: 76.2 mm²
}

TEST_CASE_FIXTURE(Item, "a wire gauge is a literal") {
    // ASTM B258: AWG 2/0 has 0.3648 in = 9.266 mm, 67.43 mm²
    const model::Value gauge = ask(item, "2/0 AWG");
    const auto* number = gauge.number();
    REQUIRE(number != nullptr);
    CHECK(number->range.low == doctest::Approx(67.43e-6).epsilon(1e-3));
    CHECK(answer(item, "section < 2/0 AWG") == "yes");
    CHECK(answer(item, "section > 1 AWG") == "yes");  // 42.41 mm²
}

TEST_CASE_FIXTURE(Item, "a quote inside a text is doubled, and a backslash stands for itself") {
    CHECK(answer(item, "label == 'it''s'") == "yes");
    CHECK(answer(item, "label matches 'it''\\w'") == "yes");
}

TEST_CASE_FIXTURE(Item, "the quantities that an expression uses are listed, each once, ascending") {
    CHECK(quantities_used(compile("joint", "sum(layers as l : l.hole)")) == std::vector<std::uint16_t>{1});
    CHECK(quantities_used(compile("conductor", "resistance + resistance")) == std::vector<std::uint16_t>{0});
    CHECK(quantities_used(compile("conductor", "length")).empty());
}

TEST_CASE("patterns match whole texts, and bad ones say why and match nothing") {
    CHECK(pattern_error("M[0-9]+").empty());
    CHECK(pattern_matches("M[0-9]+", "M12"));
    CHECK_FALSE(pattern_matches("M[0-9]+", "M12x"));
    CHECK(pattern_matches("µ.", "µ²"));  // characters, not bytes
    CHECK(pattern_error("\\C") == "\\C is not allowed");
    CHECK(pattern_error("\\\\C").empty());  // a backslash, then C
    CHECK(pattern_error("(") == "missing ): (");
    CHECK_FALSE(pattern_matches("(", "("));
    CHECK_FALSE(pattern_error("(a{100}){100}").empty());
    CHECK_FALSE(pattern_error(std::string(2000, 'a')).empty());
    CHECK_FALSE(
        pattern_error("((a{30}){30}){30}|(b{900}c{900}d{900}e{900})").empty());  // needs more than 64 KiB
    for (int i = 0; i < 200; ++i)
        CHECK(pattern_matches("x" + std::to_string(i), "x" + std::to_string(i)));
    CHECK(pattern_matches("M[0-9]+", "M12"));  // still, after many others
}
