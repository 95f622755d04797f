// Worksheets as rule data: what loads, and each mistake at its place.
#include <doctest/doctest.h>

#include "engine/rules/flatten.hpp"
#include "tests/rules/rule_text.hpp"

using namespace packproof;
using rules_test::Loaded;
using rules_test::vocabulary;

namespace {

const std::string sheet =
    "[worksheet.hang]\ntitle = \"Hanging\"\nplace = 5\nbasis = [{ status = \"common practice\" }]\n"
    "[[worksheet.hang.line]]\nof = \"rope\"\nby = \"strands\"\ndoes = \"Hang {this} with {pull}\"\nexpects = "
    "\"size\"\n"
    "found = \"size\"\nhold = \"strands > 2\"\nstop = \"no further\"\n"
    "[[worksheet.hang.line]]\nof = \"rope\"\ntimes = \"strands\"\ndoes = \"strand {number}\"\nexpects = "
    "\"size\"\n"
    "adds_up = true\nfound_in = { of = \"hook\", number = \"1\", value = \"load / 1 kN * 1 mm\" }\n"
    "good = \"true\"\n";

std::string replaced(std::string text, const std::string& from, const std::string& to) {
    const std::size_t at = text.find(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

}  // namespace

TEST_CASE("a worksheet loads, and is the same after its flat form") {
    const Loaded loaded({vocabulary, sheet});
    REQUIRE_MESSAGE(loaded.set, loaded.printed());
    REQUIRE(loaded.set->worksheets.size() == 1);
    const rules::RuleSet back = rules::unflatten(rules::flatten(*loaded.set));
    REQUIRE(back.worksheets.size() == 1);
    const rules::Worksheet& one = back.worksheets[0];
    CHECK(one.title == "Hanging");
    REQUIRE(one.lines.size() == 2);
    CHECK(one.lines[0].does.words == std::vector<std::string>{"Hang ", " with ", ""});
    CHECK(one.lines[0].does.blanks.size() == 2);
    CHECK(one.lines[1].does.blanks.at(0).empty());
    CHECK(one.lines[1].adds_up);
    REQUIRE(one.lines[1].found_in);
    CHECK(rules::flatten(back) == rules::flatten(*loaded.set));
}

TEST_CASE("a team adds lines to a worksheet that exists, in a place of its own") {
    const Loaded loaded(
        {vocabulary, sheet, "[[worksheet.hang.line]]\nof = \"hook\"\ndoes = \"look at {this}\"\n",
         "[worksheet.first]\ntitle = \"x\"\nplace = 1\nbasis = [{ status = \"common practice\" }]\n"});
    REQUIRE_MESSAGE(loaded.set, loaded.printed());
    REQUIRE(loaded.set->worksheets.size() == 2);
    CHECK(loaded.set->worksheets[0].name == "first");
    CHECK(loaded.set->worksheets[1].lines.size() == 3);
}

TEST_CASE("each mistake in a worksheet is found at its place") {
    const std::pair<std::pair<const char*, const char*>, const char*> mistakes[] = {
        {{"title = \"Hanging\"\n", ""}, "worksheet hang has no `title`"},
        {{"of = \"rope\"", "of = \"ropes\""}, "rules.toml:6:6: error: unknown kind \"ropes\""},
        {{"{pull}", "{pul}"}, "error: unknown field 'pul'"},
        {{"{pull}", "{pull"}, "a brace is opened and not closed"},
        {{"hold = \"strands > 2\"", "hold = \"strands\""}, "`hold` must be"},
        {{"by = \"strands\"", "by = \"size\""}, "`by` must be"},
        {{"times = \"strands\"\n", ""}, "`found_in` belongs to lines with `times`"},
        {{"found = \"size\"", "found = \"pull\""}, "what is found is of another unit than what is expected"},
        {{"place = 5", "place = \"5\""}, "`place` is a whole number"},
        {{"stop = ", "stops = "}, "unknown key `stops`"},
        {{"number = \"1\", ", ""}, "`found_in` needs `of`, `number` and `value`"},
    };
    for (const auto& mistake : mistakes) {
        const Loaded loaded({vocabulary, replaced(sheet, mistake.first.first, mistake.first.second)});
        CHECK_FALSE(loaded.set);
        const std::string printed = loaded.printed();
        CHECK_MESSAGE(printed.find(mistake.second) != std::string::npos, std::string(mistake.second),
                      " among\n", printed);
    }
}
