// Drawings as rule data: what loads, and each mistake at its place.
#include <doctest/doctest.h>

#include "engine/rules/flatten.hpp"
#include "tests/rules/rule_text.hpp"

using namespace packproof;
using rules_test::Loaded;
using rules_test::replaced;
using rules_test::vocabulary;

namespace {

const std::string drawing =
    "[drawing.loft]\ntitle = \"The loft\"\nof = \"yard\"\nwhen = \"count(rope as r) > 0\"\nto_scale = true\n"
    "place = 5\nbasis = [{ status = \"common practice\" }]\n"
    "[[drawing.loft.shape]]\nof = \"rope\"\nform = \"rectangle\"\nstyle = \"hatched\"\nx = \"0 mm\"\ny = "
    "\"size\"\nwidth = \"size\"\nheight = \"2 * size\"\nlabel = \"{this} {number}\"\ntimes = \"strands\"\n"
    "in_row = \"2\"\nacross = \"3 * size\"\ndown = \"10 mm\"\nalternates = [\"1 mm\"]\nvalue = "
    "\"size\"\nadds_up = true\nsize = 9\n"
    "[[drawing.loft.shape]]\nof = \"rope\"\nform = \"runs\"\nfrom = \"this\"\nto = \"hook\"\nlabel = \"x\"\n";

}  // namespace

TEST_CASE("a drawing loads, and is the same after its flat form") {
    const Loaded loaded({vocabulary, drawing});
    REQUIRE_MESSAGE(loaded.set, loaded.printed());
    const rules::RuleSet back = rules::unflatten(rules::flatten(*loaded.set));
    REQUIRE(back.drawings.size() == 1);
    const rules::Drawing& one = back.drawings[0];
    CHECK(one.title == "The loft");
    CHECK(one.to_scale);
    REQUIRE(one.shapes.size() == 2);
    CHECK(one.shapes[0].style == rules::ShapeStyle::hatched);
    CHECK(one.shapes[0].alternates.size() == 1);
    CHECK(one.shapes[0].size == 9);
    CHECK(one.shapes[1].form == rules::ShapeForm::runs);
    CHECK(rules::flatten(back) == rules::flatten(*loaded.set));
}

TEST_CASE("a team adds shapes to a drawing that exists") {
    const Loaded loaded({vocabulary, drawing,
                         "[[drawing.loft.shape]]\nof = \"hook\"\nform = \"text\"\nx = \"0 mm\"\ny = \"0 "
                         "mm\"\nlabel = \"{this}\"\n"});
    REQUIRE_MESSAGE(loaded.set, loaded.printed());
    CHECK(loaded.set->drawings.at(0).shapes.size() == 3);
}

TEST_CASE("each mistake in a drawing is found at its place") {
    const std::pair<std::pair<const char*, const char*>, const char*> mistakes[] = {
        {{"title = \"The loft\"\n", ""}, "drawing loft has no `title`"},
        {{"of = \"yard\"", "of = \"yart\""}, "rules.toml:3:6: error: unknown kind \"yart\""},
        {{"form = \"rectangle\"", "form = \"square\""},
         "`form` is one of rectangle, line, circle, text, runs"},
        {{"style = \"hatched\"", "style = \"red\""}, "`style` is one of thin"},
        {{"x = \"0 mm\"", "x = \"pull\""}, "`x` must be"},
        {{"x = \"0 mm\"\n", ""}, "has no `x`"},
        {{"width = \"size\"\n", ""}, "has no `width`"},
        {{"to = \"hook\"", "to = \"size\""}, "`to` must be an item"},
        {{"times = \"strands\"\n", ""}, "belongs to shapes with `times`"},
        {{"size = 9", "size = 7"}, "`size` is a whole number from 8 to 72"},
        {{"alternates = [\"1 mm\"]", "alternates = \"1 mm\""}, "`alternates` is a list of expressions"},
        {{"across = ", "acros = "}, "unknown key `acros`"},
        {{"when = \"count(rope as r) > 0\"", "when = \"warmth\""}, "`when` must be"},
    };
    for (const auto& mistake : mistakes) {
        const Loaded loaded({vocabulary, replaced(drawing, mistake.first.first, mistake.first.second)});
        CHECK_FALSE(loaded.set);
        const std::string printed = loaded.printed();
        CHECK_MESSAGE(printed.find(mistake.second) != std::string::npos, std::string(mistake.second),
                      " among\n", printed);
    }
}
