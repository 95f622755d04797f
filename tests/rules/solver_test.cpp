// Solvers in rule files: each mistake at its line and column, a circle through a solver, the flat form.
#include "engine/rules/solver.hpp"

#include <doctest/doctest.h>

#include "engine/rules/flatten.hpp"
#include "tests/rules/rule_text.hpp"

using namespace packproof;
using rules_test::Loaded;
using rules_test::Mistake;
using rules_test::replaced;

namespace {

// Line 1 is empty; the lines are counted in the mistakes below.
const char* const bundles = R"toml(
[kind.sheaf]
about = "held together"
[kind.sheaf.field]
holds = { form = "references", kinds = ["reed"], about = "what is in it" }
room = { form = "quantity", unit = "mm", about = "ring around it" }
[kind.reed]
about = "round"
[kind.reed.field]
thick = { form = "quantity", unit = "mm", about = "across" }
weight = { form = "quantity", unit = "kg", about = "of one" }
number = { form = "count", least = 1, about = "alike" }
sheaf = { form = "reference", kinds = ["sheaf"], about = "what it is in" }
[kind.bystander]
about = "is in none"
)toml";

const char* const solver = R"toml(
[solver.ring]
about = "what goes round them"
method = "bundle of round wires"
of = "sheaf"
[[solver.ring.each]]
list = "wires"
of = "reed"
listed_in = "holds"
when = "thick is stated"
diameter = "thick"
count = "number"
[quantity.sheaf.round]
unit = "mm"
about = "around them"
solves = "diameter of the bundle"
solver = "ring"
)toml";

}  // namespace

TEST_CASE("a solver loads with its method, its rows and the quantity that asks it") {
    const Loaded loaded({bundles, solver});
    REQUIRE_MESSAGE(loaded.set, loaded.printed());
    REQUIRE(loaded.set->solvers.size() == 1);
    const rules::SolverDefinition& ring = loaded.set->solvers[0];
    CHECK(rules::method_of(ring).name == "bundle of round wires");
    REQUIRE(ring.rows.size() == 1);
    CHECK(ring.rows[0].listed_in);
    CHECK_FALSE(ring.rows[0].part_of);
    CHECK_FALSE(ring.rows[0].when.empty());
    REQUIRE(ring.rows[0].values.size() == 2);
    CHECK(ring.rows[0].values[1].text == "number");
    REQUIRE(loaded.set->quantities.size() == 1);
    REQUIRE(loaded.set->quantities[0].asked);
    CHECK(loaded.set->quantities[0].value.text == "diameter of the bundle by ring");
}

TEST_CASE("each mistake in a solver is found at its line and column") {
    const Mistake mistakes[] = {
        {"about = \"what goes round them\"\n", "", "rules.toml:2:9: error: solver ring has no `about`"},
        {"method = \"bundle of round wires\"", "method = \"bundle of round wire\"",
         "rules.toml:4:10: error: unknown method \"bundle of round wire\""},
        {"of = \"sheaf\"", "of = \"sheave\"", "rules.toml:5:6: error: unknown kind \"sheave\""},
        {"of = \"sheaf\"", "of = \"sheaf\"\ncolour = 3", "rules.toml:6:1: error: unknown key `colour`"},
        {"list = \"wires\"", "list = \"wire\"", "rules.toml:7:8: error: unknown list \"wire\""},
        {"list = \"wires\"\n", "", "rules.toml:6:1: error: rows of solver ring has no `list`"},
        {"of = \"reed\"", "of = \"reeds\"", "rules.toml:8:6: error: unknown kind \"reeds\""},
        {"listed_in = \"holds\"", "listed_in = \"room\"",
         "rules.toml:9:13: error: \"room\" is no list of references of sheaf that may name a reed"},
        {"listed_in = \"holds\"", "part_of = \"thick\"",
         "rules.toml:9:11: error: \"thick\" is no reference of reed that may name a sheaf"},
        {"listed_in = \"holds\"", "listed_in = \"holds\"\npart_of = \"sheaf\"",
         "rules.toml:6:1: error: rows of solver ring have both `part_of` and `listed_in`"},
        {"when = \"thick is stated\"", "when = \"thick\"", "rules.toml:10:8: error: `when` must be "},
        {"diameter = \"thick\"", "diameter = \"weight\"", "rules.toml:11:12: error: `diameter` must be "},
        {"diameter = \"thick\"", "diameter = \"thin\"",
         "rules.toml:11:13: error: unknown field 'thin' of reed"},
        {"diameter = \"thick\"", "diameter = 3",
         "rules.toml:11:12: error: `diameter` must be an expression in quotes"},
        {"diameter = \"thick\"\n", "", "rules.toml:6:1: error: rows of solver ring has no `diameter`"},
        {"count = \"number\"", "colour = \"number\"", "rules.toml:12:1: error: unknown key `colour`"},
        {"solves = \"diameter of the bundle\"", "solves = \"diameter of the bundel\"",
         "rules.toml:16:10: error: unknown answer \"diameter of the bundel\""},
        {"solves = \"diameter of the bundle\"\n", "",
         "rules.toml:13:17: error: quantity round of sheaf has no `solves`"},
        {"solver = \"ring\"", "solver = \"rings\"", "rules.toml:17:10: error: unknown solver \"rings\""},
        {"unit = \"mm\"", "unit = \"kg\"", "rules.toml:16:10: error: \"diameter of the bundle\" is "},
        {"[quantity.sheaf.round]", "[quantity.bystander.round]",
         ": error: solver ring is of sheaf, not of bystander"},
    };
    for (const Mistake& mistake : mistakes) {
        const Loaded loaded({bundles, replaced(solver, mistake.from, mistake.to)});
        CHECK_FALSE(loaded.set);
        const std::string printed = loaded.printed();
        const bool found = printed.find(mistake.expected) != std::string::npos;
        CHECK_MESSAGE(found, "expected ", std::string(mistake.expected), " among\n", printed);
    }
}

TEST_CASE("a solver that no rule file gives its numbers is an error") {
    const Loaded no_rows({bundles,
                          "[solver.ring]\nabout = \"a\"\nmethod = \"bundle of round wires\"\nof = "
                          "\"sheaf\"\n"});
    CHECK_FALSE(no_rows.set);
    CHECK_MESSAGE(no_rows.printed().find("solver ring has no rows of the list wires") != std::string::npos,
                  no_rows.printed());
    const Loaded no_input({bundles,
                           "[solver.ring]\nabout = \"a\"\nmethod = \"holes that line up\"\nof = "
                           "\"sheaf\"\n"});
    CHECK_FALSE(no_input.set);
    CHECK_MESSAGE(no_input.printed().find("solver ring has no `input`") != std::string::npos,
                  no_input.printed());
}

TEST_CASE("a text where a table is due is an error at its place") {
    const Loaded input(
        {bundles, replaced(solver, "of = \"sheaf\"\n", "of = \"sheaf\"\ninput = \"thick\"\n")});
    CHECK_FALSE(input.set);
    CHECK_MESSAGE(input.printed().find("rules.toml:6:9: error: `input` is a table") != std::string::npos,
                  input.printed());
    const Loaded rows({bundles,
                       "[solver.ring]\nabout = \"a\"\nmethod = \"bundle of round wires\"\nof = "
                       "\"sheaf\"\neach = 3\n"});
    CHECK_FALSE(rows.set);
    CHECK_MESSAGE(
        rows.printed().find("rules.toml:5:8: error: rows stand in [[solver.ring.each]]") != std::string::npos,
        rows.printed());
}

TEST_CASE("a quantity that feeds the solver which it asks closes a circle, which is named whole") {
    const Loaded loaded({bundles, replaced(solver, "diameter = \"thick\"", "diameter = \"squeezed\"") +
                                      "[quantity.reed.squeezed]\nunit = \"mm\"\nabout = \"s\"\nvalue = "
                                      "\"thick + sheaf.round\"\n"});
    CHECK_FALSE(loaded.set);
    CHECK_MESSAGE(loaded.printed().find("derived quantities in a circle: sheaf.round → reed.squeezed → "
                                        "sheaf.round") != std::string::npos,
                  loaded.printed());
}

TEST_CASE("an answer that is an item names every kind that it may be") {
    const char* const holes = R"toml(
[kind.lid]
about = "lies on it"
[kind.lid.field]
screw = { form = "quantity", unit = "mm", about = "screw" }
[kind.bore]
about = "goes through"
[kind.bore.field]
at = { form = "quantity", unit = "mm", about = "place" }
[solver.fit]
about = "one on the other"
method = "holes that line up"
of = "lid"
[solver.fit.input]
screw = "screw"
[[solver.fit.each]]
list = "holes"
of = "bore"
x = "at"
y = "at"
other_x = "at"
other_y = "at"
hole = "at"
[quantity.lid.worst]
gives = "item"
kinds = ["lid"]
about = "which"
solves = "worst hole"
solver = "fit"
)toml";
    const Loaded wrong({holes});
    CHECK_FALSE(wrong.set);
    CHECK_MESSAGE(
        wrong.printed().find("worst may be a bore, which `kinds` does not name") != std::string::npos,
        wrong.printed());
    const Loaded right({replaced(holes, "kinds = [\"lid\"]", "kinds = [\"bore\"]")});
    CHECK_MESSAGE(right.set, right.printed());
}

TEST_CASE("a team's file adds rows of its own kind to a solver that is there") {
    const Loaded loaded({bundles, solver,
                         "[kind.twig]\nabout = \"t\"\n[kind.twig.field]\nsize = { form = \"quantity\", unit "
                         "= \"mm\", about = \"s\" }\n[[solver.ring.each]]\nlist = \"wires\"\nof = "
                         "\"twig\"\ndiameter = \"size\"\n"});
    REQUIRE_MESSAGE(loaded.set, loaded.printed());
    CHECK(loaded.set->solvers[0].rows.size() == 2);
}

TEST_CASE("the flat form carries solvers whole") {
    const Loaded loaded({bundles, solver});
    REQUIRE_MESSAGE(loaded.set, loaded.printed());
    const rules::RuleSet again = rules::unflatten(rules::flatten(*loaded.set));
    REQUIRE(again.solvers.size() == 1);
    CHECK(again.solvers[0].rows[0].values[0].text == "thick");
    CHECK(again.solvers[0].rows[0].listed_in == loaded.set->solvers[0].rows[0].listed_in);
    REQUIRE(again.quantities[0].asked);
    CHECK(again.quantities[0].asked->question == loaded.set->quantities[0].asked->question);
    CHECK(rules::flatten(again) == rules::flatten(*loaded.set));
}
