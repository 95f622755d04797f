// Questions to a solver about each row of a list: who is asked, what comes back. Orders are worked by hand
// beside each.
#include <doctest/doctest.h>

#include "engine/facts/solvers.hpp"
#include "tests/facts/loop.hpp"

using namespace packproof;
using facts_test::Loop;
using language::Gap;

namespace {

const char* const stages = R"toml(
[kind.play]
about = "what is played"
single = true
[kind.play.field]
name = { form = "text", about = "its name" }
[kind.curtain]
about = "hides what lies behind"
[kind.curtain.field]
colour = { form = "text", about = "its colour" }
[kind.scene]
about = "one after the other"
[kind.scene.field]
after = { form = "references", kinds = ["scene"], about = "those before it" }
draws = { form = "references", kinds = ["curtain"], about = "curtains drawn" }
lifts = { form = "references", kinds = ["curtain"], about = "curtains lifted" }
behind = { form = "references", kinds = ["curtain"], about = "curtains in front of it" }

[solver.evening]
about = "the order of scenes"
method = "order of steps"
of = "play"
[[solver.evening.each]]
list = "steps"
of = "scene"
after = "those(scene as s where after is mentioned and s in after)"
behind = "those(curtain as c where behind is mentioned and c in behind)"
fits = "those(curtain as c where draws is mentioned and c in draws)"
removes = "those(curtain as c where lifts is mentioned and c in lifts)"
[quantity.play.possible]
gives = "truth"
about = "x"
solves = "possible"
solver = "evening"
[quantity.play.order]
gives = "items"
kinds = ["scene"]
about = "x"
solves = "order"
solver = "evening"
[quantity.play.conflict]
gives = "items"
kinds = ["scene"]
about = "x"
solves = "those that contradict"
solver = "evening"
[quantity.scene.place]
unit = ""
about = "x"
solves = "place"
solver = "evening"
[quantity.scene.moves]
gives = "truth"
about = "x"
solves = "moves"
solver = "evening"
[quantity.scene.because]
gives = "item"
kinds = ["scene"]
about = "x"
solves = "moves because of"
solver = "evening"
[quantity.scene.curtains]
gives = "items"
kinds = ["curtain"]
about = "x"
solves = "what it moves out of the way of"
solver = "evening"
)toml";

std::string ids(const Loop& loop, const model::Value& value) {
    std::string all;
    if (const auto* list = value.references())
        for (const model::Reference& one : *list)
            all += (all.empty() ? "" : " ") + loop.model->items[one.item].id;
    if (const auto* one = value.reference()) all = loop.model->items[one->item].id;
    return all;
}

}  // namespace

// By hand: the curtain is drawn first and two scenes play behind it, so drawing it moves to the end.
TEST_CASE("a question about each row is answered for the item that asks") {
    Loop loop(
        "[play]\nname = \"p\"\n[curtain.red]\ncolour = \"red\"\n"
        "[scene.draw]\ndraws = [\"red\"]\n[scene.one]\nbehind = [\"red\"]\n"
        "[scene.two]\nbehind = [\"red\"]\nafter = [\"one\"]\n",
        stages);
    CHECK(*loop.ask("possible", "play").truth() == model::Truth::yes);
    CHECK(ids(loop, loop.ask("order", "play")) == "one two draw");
    CHECK(loop.ask("place", "draw").number()->nominal == 3.0);
    CHECK(loop.ask("place", "one").number()->nominal == 1.0);
    CHECK(*loop.ask("moves", "draw").truth() == model::Truth::yes);
    CHECK(*loop.ask("moves", "two").truth() == model::Truth::no);
    CHECK(ids(loop, loop.ask("curtains", "draw")) == "red");
    const std::string other = ids(loop, loop.ask("because", "draw"));
    CHECK((other == "one" || other == "two"));
    CHECK(loop.ask("because", "two").missing());
}

TEST_CASE("where no order works the items that contradict are named, and rows have no place") {
    Loop loop(
        "[play]\nname = \"p\"\n[curtain.red]\ncolour = \"red\"\n"
        "[scene.a]\nafter = [\"b\"]\n[scene.b]\nafter = [\"a\"]\n[scene.c]\ndraws = [\"red\"]\n",
        stages);
    CHECK(*loop.ask("possible", "play").truth() == model::Truth::no);
    CHECK(ids(loop, loop.ask("conflict", "play")) == "a b");
    CHECK(loop.ask("place", "a").missing());
    CHECK(loop.ask("order", "play").missing());
}

TEST_CASE("a curtain that is only lifted hung there before") {
    Loop loop(
        "[play]\nname = \"p\"\n[curtain.red]\ncolour = \"red\"\n"
        "[scene.one]\nbehind = [\"red\"]\n[scene.lift]\nlifts = [\"red\"]\n",
        stages);
    CHECK(ids(loop, loop.ask("order", "play")) == "lift one");
}

TEST_CASE("one list that nobody states leaves every answer missing, with its reason") {
    Loop loop("[play]\nname = \"p\"\n[scene.a]\nafter = \"?\"\n[scene.b]\n", stages);
    CHECK(loop.ask("place", "b").missing());
    REQUIRE(!loop.gaps.empty());
    CHECK(loop.gaps.front().reason == Gap::Reason::asked);
}
