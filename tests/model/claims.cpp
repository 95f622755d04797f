// Two documents that state different values of one field.
#include <doctest/doctest.h>

#include "tests/model/small_vocabulary.hpp"

using packproof::testing::Built;

namespace {

const char* const papers =
    "[document.sheet]\ngrade = \"maker\"\n[document.second]\ngrade = \"maker\"\n[document.chat]\ngrade = "
    "\"message\"\n"
    "[document.plain]\n[document.bench]\ngrade = \"measured\"\n";

std::string claim(const std::string& id, const std::string& field, const std::string& value,
                  const std::string& source, const std::string& item = "b") {
    return "[claim." + id + "]\nitem = \"" + item + "\"\nfield = \"" + field + "\"\nvalue = " + value + "\n" +
           (source.empty() ? "" : "source = \"" + source + "\"\n");
}

}  // namespace

TEST_CASE("the document of the higher grade speaks, and the conflict is kept") {
    const Built built(papers + std::string("[breaker.b]\nsource = \"sheet\"\nrated_current = \"200 A\"\n") +
                      claim("x", "rated_current", "\"250 A\"", "chat, line 4"));
    REQUIRE_MESSAGE(built.model, built.said());
    CHECK(built.value("b", "rated_current") == "200 by sheet");
    REQUIRE(built.model->conflicts.size() == 1);
    const auto& conflict = built.model->conflicts[0];
    CHECK(conflict.item == built.item("b"));
    CHECK_FALSE(conflict.agree);
    REQUIRE(conflict.sides.size() == 2);
    CHECK(conflict.sides[0].written == "200 A");
    CHECK(conflict.sides[1].written == "250 A");
    CHECK(built.under(conflict.sides[1].span) == "\"250 A\"");
    CHECK(conflict.sides[1].source == built.item("chat"));
    CHECK(built.value("x", "agrees") == "no");
}

TEST_CASE("a claim of a higher grade replaces what the item states") {
    const Built built(papers + std::string("[breaker.b]\nsource = \"chat\"\nrated_current = \"200 A\"\n") +
                      claim("x", "rated_current", "\"250 A\"", "bench"));
    CHECK(built.value("b", "rated_current") == "250 measured by bench");
    CHECK(built.model->conflicts.at(0).sides.at(0).written == "250 A");
}

TEST_CASE("what only a paper of grade guess says is a guess") {
    const Built built(
        "[document.hearsay]\ngrade = \"guess\"\n[breaker.b]\nsource = \"hearsay\"\n"
        "rated_current = \"200 A\"\n[breaker.c]\nrated_current = \"200 A\"\n");
    REQUIRE_MESSAGE(built.model, built.said());
    CHECK(built.slot("b", "rated_current")->value.basis.guess);
    CHECK_FALSE(built.slot("c", "rated_current")->value.basis.guess);
}

TEST_CASE("equal grades give their hull") {
    const Built built(papers +
                      std::string("[breaker.b]\nsource = \"sheet\"\nrated_current = \"200 ± 5 A\"\n") +
                      claim("x", "rated_current", "\"250 A\"", "second"));
    CHECK(built.value("b", "rated_current") == "200 (195 .. 250) by sheet");
    CHECK_FALSE(built.model->conflicts.at(0).agree);
}

TEST_CASE("what has no document, or one without a grade, joins the hull of the best") {
    for (const char* source : {"", "plain"}) {
        const Built built(papers +
                          std::string("[breaker.b]\nsource = \"sheet\"\nrated_current = \"200 A\"\n") +
                          claim("x", "rated_current", "\"250 A\"", source) +
                          claim("y", "rated_current", "\"900 A\"", "chat"));
        REQUIRE_MESSAGE(built.model, built.said());
        CHECK(built.value("b", "rated_current") == "200 (200 .. 250) by sheet");
        CHECK(built.model->conflicts.at(0).sides.size() == 3);
    }
    const Built bare("[breaker.b]\nrated_current = \"200 A\"\n" +
                     claim("x", "rated_current", "\"250 A\"", ""));
    CHECK(bare.value("b", "rated_current") == "200 (200 .. 250)");
}

TEST_CASE("documents that say the same are no conflict; overlapping ones agree") {
    const Built same(papers + std::string("[breaker.b]\nsource = \"sheet\"\nrated_current = \"200 A\"\n") +
                     claim("x", "rated_current", "\"0.2 kA\"", "second"));
    CHECK(same.model->conflicts.empty());
    CHECK(same.value("x", "agrees") == "yes");
    const Built near(papers +
                     std::string("[breaker.b]\nsource = \"sheet\"\nrated_current = \"200 ± 10 A\"\n") +
                     claim("x", "rated_current", "\"205 ± 10 A\"", "second"));
    CHECK(near.model->conflicts.at(0).agree);
    CHECK(near.value("x", "agrees") == "yes");
    CHECK(near.value("b", "rated_current") == "200 (190 .. 215) by sheet");
}

TEST_CASE("a claim speaks where the item says nothing, or that it is not known") {
    const Built absent(papers + std::string("[breaker.b]\n") +
                       claim("x", "rated_current", "\"250 A\"", "chat"));
    CHECK(absent.value("b", "rated_current") == "250 by chat");
    CHECK(absent.model->conflicts.empty());
    const Built asked(papers + std::string("[breaker.b]\nrated_current = \"?\"\n") +
                      claim("x", "rated_current", "\"250 A\"", "chat"));
    CHECK(asked.value("b", "rated_current") == "250 by chat");
    const Built unknown(papers + std::string("[breaker.b]\nrated_current = \"200 A\"\n") +
                        claim("x", "rated_current", "\"?\"", "chat"));
    CHECK(unknown.value("b", "rated_current") == "200");
    CHECK(unknown.model->conflicts.empty());
}

TEST_CASE("a claim keeps a default away") {
    const Built built("[fixture]\n" + claim("x", "nut_factor", "\"0.2\"", "", "fixture"));
    CHECK(built.value("fixture", "nut_factor") == "0.2");
}

TEST_CASE("texts that differ become alternatives, truths open, references missing") {
    const Built text("[cell.b]\nterminal_thread = \"M6\"\nvented = true\n" +
                     claim("x", "terminal_thread", "\"M8\"", "") + claim("y", "vented", "\"false\"", "") +
                     claim("z", "terminal_thread", "\"M6\"", ""));
    REQUIRE_MESSAGE(text.model, text.said());
    CHECK(text.value("b", "terminal_thread") == "M6|M8");
    CHECK(text.value("b", "vented") == "open");
    const Built reference("[breaker.p]\n[breaker.q]\n[conductor.b]\nprotected_by = \"p\"\n" +
                          claim("x", "protected_by", "\"q\"", ""));
    REQUIRE_MESSAGE(reference.model, reference.said());
    CHECK(reference.value("b", "protected_by") == "missing");
    CHECK(reference.model->conflicts.size() == 1);
}

TEST_CASE("the ends of permitted ranges that differ are each in doubt") {
    const Built built("[cell.b]\nclamp_force = \"2.5 .. 3.5 kN\"\n" +
                      claim("x", "clamp_force", "\"2 .. 4 kN\"", ""));
    CHECK(built.value("b", "clamp_force") == "[2000 .. 2500] to [3500 .. 4000]");
    CHECK_FALSE(built.model->conflicts.at(0).agree);
}

TEST_CASE("none against a value is a conflict, and nothing is known") {
    const Built built("[cell.b]\nclamp_force = \"none\"\n" + claim("x", "clamp_force", "\"2 .. 4 kN\"", ""));
    CHECK(built.value("b", "clamp_force") == "missing");
    CHECK_FALSE(built.model->conflicts.at(0).agree);
}

TEST_CASE("counts are claimed as numbers or as text") {
    CHECK(Built("[breaker.b]\npoles = 2\n" + claim("x", "poles", "3", "")).value("b", "poles") ==
          "2 (2 .. 3)");
    CHECK(Built("[breaker.b]\npoles = 2\n" + claim("x", "poles", "\"3\"", "")).value("b", "poles") ==
          "2 (2 .. 3)");
    CHECK_FALSE(Built("[breaker.b]\npoles = 2\n" + claim("x", "poles", "\"three\"", "")).model);
}

TEST_CASE("rates are claimed too, of the capacity that is known in the end") {
    // 0.5C of 200 A·h is 100 A.
    const Built built(
        papers +
        std::string("[cell.b]\nsource = \"chat\"\ncapacity = \"280 Ah\"\ncharge_current = \"140 A\"\n") +
        claim("x", "capacity", "\"200 Ah\"", "bench") + claim("y", "charge_current", "\"0.5C\"", "sheet"));
    REQUIRE_MESSAGE(built.model, built.said());
    CHECK(built.value("b", "charge_current") == "100 by sheet");
    CHECK(built.slot("b", "charge_current")->value.basis.measured);
}

TEST_CASE("what starts from an item takes over what is claimed of it") {
    const Built built(
        papers +
        std::string(
            "[breaker.b]\nsource = \"sheet\"\nrated_current = \"200 A\"\n[breaker.c]\nlike = \"b\"\n") +
        claim("x", "rated_current", "\"250 A\"", "second"));
    CHECK(built.value("c", "rated_current") == "200 (200 .. 250) by sheet");
    CHECK(built.model->conflicts.size() == 1);
}

TEST_CASE("a claim on a part that nothing uses wakes neither") {
    const std::string parts =
        "[breaker.b]\nrated_current = \"200 A\"\n" + claim("x", "rated_current", "\"250 A\"", "");
    const Built unused("[pack]\n", parts);
    REQUIRE_MESSAGE(unused.model, unused.said());
    CHECK(unused.items() == "pack pack; ");
    CHECK(unused.model->conflicts.empty());
    const Built used("[conductor.c]\nprotected_by = \"b\"\n", parts);
    CHECK(used.items() == "conductor c; breaker b; claim x; ");
    CHECK(used.model->conflicts.size() == 1);
    const Built spoken("[pack]\n" + claim("y", "rated_current", "\"250 A\"", ""), "[breaker.b]\n");
    CHECK(spoken.items() == "pack pack; claim y; ");
}

TEST_CASE("thousands of claims on one field are joined in bounded time") {
    std::string text = "[breaker.b]\nrated_current = \"1 A\"\n";
    for (int i = 0; i < 1900; ++i)
        text += claim("c" + std::to_string(i), "rated_current", "\"" + std::to_string(i + 2) + " A\"", "");
    const Built built(text);
    REQUIRE(built.model);
    CHECK(built.value("b", "rated_current") == "1 (1 .. 1901)");
}
