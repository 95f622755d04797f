// Networks in rule files: each mistake at its line and column, a circle through a network, the flat form.
#include "engine/rules/network.hpp"

#include <doctest/doctest.h>

#include "engine/rules/flatten.hpp"
#include "tests/rules/rule_text.hpp"

using namespace packproof;
using rules_test::Loaded;
using rules_test::Mistake;
using rules_test::replaced;

namespace {

// Line 1 is empty; the lines are counted in the mistakes below.
const char* const pulleys = R"toml(
[kind.weight]
about = "pulls"
points = ["top", "bottom"]
[kind.weight.field]
volts = { form = "quantity", unit = "V", about = "pull" }
ohms = { form = "quantity", unit = "Ω", about = "its own" }
[kind.line]
about = "joins"
[kind.line.field]
ohms = { form = "quantity", unit = "Ω", about = "what it opposes" }
from = { form = "reference", kinds = ["weight"], about = "start" }
to = { form = "reference", kinds = ["weight"], about = "end" }
[kind.bystander]
about = "is no branch"
)toml";

const char* const network = R"toml(
[network.ropes]
about = "what hangs on what"
[network.ropes.case]
calm = "no wind"
storm = "wind"
[[network.ropes.branch]]
of = "weight"
role = "source"
from = "bottom"
to = "top"
voltage = "volts"
resistance = { calm = "ohms", storm = "2 * ohms" }
[[network.ropes.branch]]
of = "line"
from = "from"
to = "to"
resistance = "ohms"
[quantity.line.load]
unit = "A"
about = "what it carries"
solves = "current"
network = "ropes"
case = "storm"
[quantity.line.hangs]
gives = "truth"
about = "whether it is in the circuit"
solves = "in circuit"
network = "ropes"
)toml";

}  // namespace

TEST_CASE("a network loads with its cases, its branches and the quantities that ask it") {
    const Loaded loaded({pulleys, network});
    REQUIRE_MESSAGE(loaded.set, loaded.printed());
    REQUIRE(loaded.set->networks.size() == 1);
    const rules::NetworkDefinition& ropes = loaded.set->networks[0];
    REQUIRE(ropes.cases.size() == 2);
    CHECK(ropes.cases[1].name == "storm");
    REQUIRE(ropes.branches.size() == 2);
    CHECK(ropes.branches[0].role == solve::Branch::Role::source);
    CHECK(ropes.branches[0].from.point == "bottom");
    CHECK(ropes.branches[1].from.point.empty());
    REQUIRE(ropes.branches[1].resistance.size() == 2);  // one text counts for every case
    CHECK_FALSE(ropes.branches[1].resistance[0].empty());
    CHECK_FALSE(ropes.branches[1].resistance[1].empty());
    REQUIRE(loaded.set->quantities.size() == 2);
    REQUIRE(loaded.set->quantities[0].solved);
    CHECK(loaded.set->quantities[0].solved->in_case == 1);
    CHECK(loaded.set->quantities[0].solved->question == rules::Question::current);
}

TEST_CASE("each mistake in a network is found at its line and column") {
    const Mistake mistakes[] = {
        {"of = \"line\"", "of = \"lines\"", "rules.toml:15:6: error: unknown kind \"lines\""},
        {"of = \"line\"\n", "", "rules.toml:14:1: error: a branch of network ropes has no `of`"},
        {"from = \"bottom\"", "from = \"botom\"",
         "rules.toml:10:8: error: \"botom\" is neither a point nor a reference of weight"},
        {"from = \"from\"", "from = \"ohms\"",
         "rules.toml:16:8: error: \"ohms\" is neither a point nor a reference of line"},
        {"to = \"to\"\n", "", "rules.toml:14:1: error: a branch of network ropes has no `to`"},
        {"voltage = \"volts\"", "voltage = \"ohms\"", "rules.toml:12:11: error: `voltage` must be "},
        {"voltage = \"volts\"\n", "", "rules.toml:7:1: error: a branch of network ropes has no `voltage`"},
        {"storm = \"2 * ohms\"", "strom = \"2 * ohms\"", "rules.toml:13:31: error: unknown case \"strom\""},
        {"storm = \"2 * ohms\"", "storm = 2", "rules.toml:13:39: error: an expression in quotes is due here"},
        {"storm = \"2 * ohms\"", "storm = \"2 * volts\"", "rules.toml:13:39: error: `storm` must be "},
        {"storm = \"2 * ohms\"", "storm = \"2 * ohm\"",
         "rules.toml:13:44: error: unknown field 'ohm' of weight"},
        {"resistance = \"ohms\"", "resistance = 3",
         "rules.toml:18:14: error: `resistance` is an expression, or a table of expressions by case"},
        {"resistance = \"ohms\"", "current = \"3 A\"",
         "rules.toml:18:11: error: `current` means nothing in this role"},
        {"resistance = \"ohms\"", "resistance = \"ohms\"\nwhen = \"ohms\"",
         "rules.toml:19:8: error: `when` must be "},
        {"resistance = \"ohms\"", "resistance = \"ohms\"\nwhen = 3",
         "rules.toml:19:8: error: `when` must be an expression in quotes"},
        {"resistance = \"ohms\"", "resistance = \"ohms\"\nlength = \"ohms\"",
         "rules.toml:19:10: error: `length` must be "},
        {"resistance = \"ohms\"", "resistance = \"ohms\"\nwidth = \"ohms\"",
         "rules.toml:19:1: error: unknown key `width` in a branch of network ropes"},
        {"to = \"to\"", "to = \"to\"\nsame_ends_as = \"ohms\"",
         "rules.toml:18:16: error: \"ohms\" is no reference of line"},
        {"role = \"source\"", "role = \"spring\"", "rules.toml:9:8: error: unknown role \"spring\""},
        {"of = \"line\"\n", "of = \"weight\"\n",
         "rules.toml:14:1: error: network ropes has weight as a branch already"},
        {"solves = \"current\"", "solves = \"curent\"",
         "rules.toml:22:10: error: \"curent\" cannot be solved"},
        {"solves = \"in circuit\"", "solves = \"current\"\ncase = \"calm\"",
         "rules.toml:28:10: error: \"current\" is "},
        {"unit = \"A\"", "unit = \"V\"", "rules.toml:22:10: error: \"current\" is "},
        {"network = \"ropes\"", "network = \"rope\"", "rules.toml:23:11: error: unknown network \"rope\""},
        {"case = \"storm\"", "case = \"strom\"", "rules.toml:24:8: error: unknown case \"strom\""},
        {"case = \"storm\"\n", "", "rules.toml:19:1: error: \"current\" needs a `case`"},
        {"solves = \"in circuit\"", "solves = \"in circuit\"\ncase = \"calm\"",
         "rules.toml:25:1: error: \"in circuit\" has no cases"},
        {"[quantity.line.hangs]", "[quantity.bystander.hangs]",
         "rules.toml:25:21: error: bystander is no branch of network ropes"},
        {"about = \"what hangs on what\"\n", "", "rules.toml:2:10: error: network ropes has no `about`"},
        {"[network.ropes.case]\ncalm = \"no wind\"\nstorm = \"wind\"\n", "",
         "rules.toml:2:1: error: network ropes has no `case`"},
        {"calm = \"no wind\"", "calm = 3",
         "rules.toml:5:8: error: a case is a name with a text that says what it is"},
        {"[network.ropes.case]\ncalm = \"no wind\"\nstorm = \"wind\"\n", "case = \"calm\"\n",
         "rules.toml:4:8: error: cases are a table of names"},
        {"about = \"what hangs on what\"\n", "about = \"what hangs on what\"\ncolour = 3\n",
         "rules.toml:4:1: error: unknown key `colour` in network ropes"},
    };
    for (const Mistake& mistake : mistakes) {
        const Loaded loaded({pulleys, replaced(network, mistake.from, mistake.to)});
        CHECK_FALSE(loaded.set);
        const std::string printed = loaded.printed();
        const bool found = printed.find(mistake.expected) != std::string::npos;
        CHECK_MESSAGE(found, "expected ", std::string(mistake.expected), " among\n", printed);
    }
}

TEST_CASE("a text or a number where a table is due is an error at its place") {
    const Mistake mistakes[] = {
        {"", "network = \"ropes\"\n", "rules.toml:1:11: error: "},
        {"", "[network]\nropes = \"what hangs on what\"\n", "rules.toml:2:9: error: "},
        {"", "[network.ropes]\nabout = \"a\"\nbranch = \"line\"\n[network.ropes.case]\nc = \"d\"\n",
         "rules.toml:3:10: error: branches stand in [[network.ropes.branch]]"},
        {"", "[network.ropes]\nabout = \"a\"\nbranch = [\"line\"]\n[network.ropes.case]\nc = \"d\"\n",
         "rules.toml:3:11: error: "},
        {"", "[network.ropes]\nabout = \"a\"\n[network.ropes.case]\n",
         "rules.toml:1:1: error: network ropes has no `case`"},
    };
    for (const Mistake& mistake : mistakes) {
        const Loaded loaded({pulleys, mistake.to});
        CHECK_FALSE(loaded.set);
        const std::string printed = loaded.printed();
        const bool found = printed.find(mistake.expected) != std::string::npos;
        CHECK_MESSAGE(found, "expected ", std::string(mistake.expected), " for\n", std::string(mistake.to),
                      printed);
    }
}

TEST_CASE("the nearest name is told for a kind, a point, a case, a question and a network") {
    const Mistake mistakes[] = {{"of = \"line\"", "of = \"lines\"", "the nearest is \"line\""},
                                {"from = \"bottom\"", "from = \"botom\"", "the nearest is \"bottom\""},
                                {"case = \"storm\"", "case = \"strom\"", "the nearest is \"storm\""},
                                {"solves = \"current\"", "solves = \"curent\"", "the nearest is \"current\""},
                                {"network = \"ropes\"", "network = \"rope\"", "the nearest is \"ropes\""}};
    for (const Mistake& mistake : mistakes) {
        const Loaded loaded({pulleys, replaced(network, mistake.from, mistake.to)});
        CHECK_FALSE(loaded.set);
        CHECK_MESSAGE(loaded.printed().find(mistake.expected) != std::string::npos, loaded.printed());
    }
}

TEST_CASE("a quantity that feeds the network which it asks closes a circle, which is named whole") {
    const Loaded loaded({pulleys, replaced(network, "resistance = \"ohms\"", "resistance = \"worn\"") +
                                      "[quantity.line.worn]\nunit = \"Ω\"\nabout = \"w\"\nvalue = \"ohms * "
                                      "(load / 1 A)\"\n"});
    CHECK_FALSE(loaded.set);
    CHECK_MESSAGE(
        loaded.printed().find("derived quantities in a circle: line.load → line.worn → line.load") !=
            std::string::npos,
        loaded.printed());
}

TEST_CASE("an unknown role leaves its values alone: no message but that") {
    const Loaded loaded({pulleys, replaced(network, "role = \"source\"", "role = \"spring\"")});
    CHECK_FALSE(loaded.set);
    CHECK(loaded.printed() ==
          "rules.toml:9:8: error: unknown role \"spring\"\n"
          "rules.toml:9:8: note: one of conductor, source, sink\n");
}

TEST_CASE("a branch without the value that a question needs in its case is an error of that quantity") {
    const Loaded no_resistance(
        {pulleys, replaced(network, "resistance = \"ohms\"", "resistance = { calm = \"ohms\" }")});
    CHECK_FALSE(no_resistance.set);
    CHECK_MESSAGE(
        no_resistance.printed().find(
            "rules.toml:19:16: error: line of network ropes has no `resistance` in the case storm") !=
            std::string::npos,
        no_resistance.printed());
    const Loaded no_voltage(
        {pulleys, replaced(network, "voltage = \"volts\"", "voltage = { calm = \"volts\" }")});
    CHECK_FALSE(no_voltage.set);
    CHECK(no_voltage.printed().find("weight of network ropes has no `voltage` in the case storm") !=
          std::string::npos);
}

TEST_CASE("a value of another case closes no circle") {
    const Loaded loaded(
        {pulleys,
         replaced(network, "resistance = \"ohms\"", "resistance = { calm = \"worn\", storm = \"ohms\" }") +
             "[quantity.line.worn]\nunit = \"Ω\"\nabout = \"w\"\nvalue = \"ohms * (load / 1 A)\"\n"});
    CHECK_MESSAGE(loaded.set, loaded.printed());
}

TEST_CASE("a later file adds branches of further kinds, not cases and not a kind that is there") {
    const Loaded more({pulleys, network,
                       "[kind.hoist]\nabout = \"lifts\"\npoints = [\"in\", \"out\"]\n"
                       "[[network.ropes.branch]]\nof = \"hoist\"\nfrom = \"in\"\nto = \"out\"\nresistance = "
                       "\"0 Ω\"\n"});
    REQUIRE_MESSAGE(more.set, more.printed());
    CHECK(more.set->networks[0].branches.size() == 3);
    const Loaded again({pulleys, network,
                        "[[network.ropes.branch]]\nof = \"line\"\nfrom = \"from\"\nto = \"to\"\nresistance = "
                        "\"0 Ω\"\n"});
    CHECK_FALSE(again.set);
    CHECK(again.printed().find("rules.toml:1:1: error: network ropes has line as a branch already") !=
          std::string::npos);
    const Loaded cases({pulleys, network, "[network.ropes.case]\nfog = \"no sight\"\n"});
    CHECK_FALSE(cases.set);
    CHECK(cases.printed().find("rules.toml:2:7: error: network ropes has its cases already") !=
          std::string::npos);
}

TEST_CASE("a network survives being flattened byte for byte") {
    const Loaded loaded({pulleys, network});
    REQUIRE(loaded.set);
    const std::string bytes = rules::flatten(*loaded.set);
    const rules::RuleSet back = rules::unflatten(bytes);
    CHECK(rules::flatten(back) == bytes);
    const Loaded same({pulleys, replaced(network, "to = \"to\"", "to = \"to\"\nsame_ends_as = \"to\"")});
    REQUIRE_MESSAGE(same.set, same.printed());
    const std::string with_same_ends = rules::flatten(*same.set);
    CHECK(rules::unflatten(with_same_ends).networks[0].branches[1].same_ends_as ==
          same.set->networks[0].branches[1].to.field);
    CHECK(rules::flatten(rules::unflatten(with_same_ends)) == with_same_ends);
    REQUIRE(back.networks.size() == 1);
    CHECK(back.networks[0].name == "ropes");
    CHECK(back.networks[0].cases[0].about == "no wind");
    REQUIRE(back.networks[0].branches.size() == 2);
    CHECK(back.networks[0].branches[0].role == solve::Branch::Role::source);
    CHECK(back.networks[0].branches[0].resistance[1].text == "2 * ohms");
    CHECK(back.networks[0].branches[1].to.field == loaded.set->networks[0].branches[1].to.field);
    REQUIRE(back.quantities[0].solved);
    CHECK(back.quantities[0].solved->question == rules::Question::current);
    CHECK(back.quantities[0].solved->in_case == 1);
    CHECK(back.quantities[0].value.text == "current in network ropes, storm");
    for (std::size_t length = 0; length < bytes.size(); length += 97)
        CHECK_THROWS((void)rules::unflatten(std::string_view(bytes).substr(0, length)));
}
