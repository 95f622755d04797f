#include "engine/rules/load_rules.hpp"

#include <doctest/doctest.h>

#include "engine/rules/flatten.hpp"
#include "tests/rules/rule_text.hpp"

using namespace packproof;
using rules_test::good_rule;
using rules_test::Loaded;
using rules_test::vocabulary;

namespace {

std::string replaced(std::string text, const std::string& from, const std::string& to) {
    const std::size_t at = text.find(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

struct Mistake {
    const char* from;
    const char* to;
    const char* expected;  ///< the first line printed; the rule file is rules.toml, whose line 1 is empty
};

}  // namespace

TEST_CASE("a good rule file loads") {
    const Loaded loaded({vocabulary, good_rule});
    REQUIRE_MESSAGE(loaded.set, loaded.printed());
    REQUIRE(loaded.set->rules.size() == 1);
    CHECK(loaded.set->rules[0].rule_class == rules::Class::critical);
    CHECK(loaded.set->rules[0].examples.size() == 2);
    CHECK(loaded.set->quantities.size() == 1);
    CHECK(loaded.set->tables[0].rows.size() == 6);
}

TEST_CASE("each mistake in a rule is found at its line and column") {
    const Mistake mistakes[] = {
        {"pull <= carries", "pul <= carries", "rules.toml:5:12: error: "},
        {"pull <= carries", "pull <= size", "rules.toml:5:12: error: "},
        {"pull <= carries", "pull <= carries + min(", "rules.toml:5:"},
        {"pull <= carries", "pull <= frobnicate(size)", "rules.toml:5:20: error: "},
        {"class = \"critical\"", "class = \"dreadful\"", "rules.toml:6:9: error: unknown class \"dreadful\""},
        {"because = \"It breaks.\"\n", "", "rules.toml:2:7: error: rule rope-carries has no `because`"},
        {"asks = ", "ask = ", "rules.toml:2:7: error: rule rope-carries has no `asks`"},
        {"basis = [{ document = \"Rope book\", clause = \"1\", status = \"recalled\" }]\n", "",
         "rules.toml:2:7: error: rule rope-carries has no `basis`"},
        {"status = \"recalled\"", "status = \"sure\"", "rules.toml:8:59: error: unknown status \"sure\""},
        {"document = \"Rope book\", ", "",
         "rules.toml:8:10: error: a basis of rule rope-carries names no `document`"},
        {"of = \"rope\"", "of = \"ropes\"", "rules.toml:4:6: error: unknown kind \"ropes\""},
        {"verdict = \"fails\"", "verdict = \"conforms\"",
         "rules.toml:2:7: error: rule rope-carries has no example that fails"},
        {"verdict = \"fails\"", "verdict = \"bad\"",
         "rules.toml:2:7: error: rule rope-carries has no example that fails"},
        {"clears = [\"size\", \"pull\"]", "clears = [\"carries\"]",
         "rules.toml:9:10: error: `clears` names fields that a person may change; `carries` is none"},
        {"demands = \"pull <= carries\"", "demands = \"pull\"",
         "rules.toml:5:11: error: `demands` must say something true or false"},
        {"class = \"critical\"", "class = \"major\"\nat_once = true",
         "rules.toml:7:11: error: rule rope-carries is not critical: no work stops for it"},
        {"class = ", "question = \"Of {item} {pul} hangs?\"\nclass = ",
         "rules.toml:6:12: error: {pul} is no field of rope"},
        {"class = ", "question = \"{item} {\"\nclass = ", "rules.toml:6:12: error: {} is no field of rope"},
        {"class = ", "colour = \"red\"\nclass = ",
         "rules.toml:6:1: error: unknown key `colour` in rule rope-carries"},
    };
    for (const Mistake& mistake : mistakes) {
        const Loaded loaded({vocabulary, replaced(good_rule, mistake.from, mistake.to)});
        CHECK_FALSE(loaded.set);
        const std::string printed = loaded.printed();
        const bool found = printed.find(mistake.expected) != std::string::npos;
        CHECK_MESSAGE(found, "expected ", std::string(mistake.expected), " among\n", printed);
    }
}

TEST_CASE("a field names who can answer it, else its kind does, else the builder") {
    const std::string kind =
        "[kind.knot]\nabout = \"x\"\nanswered_by = \"supplier\"\n[kind.knot.field]\n"
        "a = { form = \"text\", about = \"x\" }\n"
        "b = { form = \"text\", about = \"x\", answered_by = \"bench\" }\n";
    const Loaded loaded({vocabulary, kind});
    REQUIRE(loaded.set);
    const auto fields_of = [&](const char* name) {
        return loaded.set->vocabulary.kinds[*loaded.set->vocabulary.kind(name)].fields;
    };
    CHECK(fields_of("knot")[0].answered_by == model::AnsweredBy::supplier);
    CHECK(fields_of("knot")[1].answered_by == model::AnsweredBy::bench);
    CHECK(fields_of("rope")[0].answered_by == model::AnsweredBy::builder);
    CHECK(Loaded({vocabulary, replaced(kind, "supplier", "suplier")})
              .printed()
              .find(":3:15: error: \"suplier\" answers nothing") != std::string::npos);
}

TEST_CASE("comparing a force with a length names both") {
    const Loaded loaded({vocabulary, replaced(good_rule, "pull <= carries", "pull <= size")});
    CHECK(loaded.printed().find("force") != std::string::npos);
    CHECK(loaded.printed().find("length") != std::string::npos);
}

TEST_CASE("all mistakes of several rules are reported in one run") {
    std::string two = replaced(good_rule, "class = \"critical\"", "class = \"dreadful\"");
    two = replaced(two, "pull <= carries", "pul <= carries");
    const Loaded loaded({vocabulary, two});
    CHECK(loaded.messages.error_count() == 2);
}

TEST_CASE("a rule, kind, field, quantity or table that exists already is an error") {
    CHECK(Loaded({vocabulary, good_rule, good_rule}).printed().find("rule rope-carries exists already") !=
          std::string::npos);
    CHECK(Loaded({vocabulary, vocabulary}).printed().find("kind yard exists already") != std::string::npos);
    CHECK(Loaded({vocabulary, "[kind.rope.field]\nsize = { form = \"text\", about = \"x\" }\n"})
              .printed()
              .find("rules.toml:2:1: error: field size of rope exists already") != std::string::npos);
    CHECK(Loaded({vocabulary, "[quantity.rope.carries]\nabout = \"x\"\nvalue = \"size\"\nunit = \"mm\"\n"})
              .printed()
              .find("rope has a quantity named carries already") != std::string::npos);
}

TEST_CASE("a circle among derived quantities is named whole") {
    const Loaded loaded({vocabulary,
                         "[quantity.rope.a]\nabout = \"x\"\nunit = \"mm\"\nvalue = \"b + size\"\n"
                         "[quantity.rope.b]\nabout = \"x\"\nunit = \"mm\"\nvalue = \"a + size\"\n"});
    CHECK_FALSE(loaded.set);
    CHECK(loaded.printed().find("derived quantities in a circle: rope.a → rope.b → rope.a") !=
          std::string::npos);
}

TEST_CASE("a quantity whose value has another dimension than declared is an error") {
    const Loaded loaded({vocabulary, "[quantity.rope.a]\nabout = \"x\"\nunit = \"kN\"\nvalue = \"size\"\n"});
    CHECK(loaded.printed().find("rules.toml:4:9: error: the value of a is") != std::string::npos);
}

TEST_CASE("rows that repeat, stand out of order or are too short are errors at the row") {
    const std::string head =
        "[table.t]\nabout = \"x\"\nbasis = [{ status = \"common practice\" }]\n"
        "key = [{ name = \"k\", unit = \"mm\" }]\ncolumn = [{ name = \"c\" }]\n";
    CHECK(Loaded({head + "rows = [[1, 2], [1, 3]]\n"})
              .printed()
              .find("rules.toml:6:17: error: a row of table t repeats") != std::string::npos);
    CHECK(Loaded({head + "rows = [[2, 2], [1, 3]]\n"})
              .printed()
              .find("rules.toml:6:17: error: a row of table t repeats") != std::string::npos);
    CHECK(Loaded({head + "rows = [[1, 2], [2]]\n"})
              .printed()
              .find("rules.toml:6:17: error: a row of table t has 1 values, 2 are due") != std::string::npos);
    CHECK(Loaded({head + "rows = [[1, 2], [\"3 A\", 1]]\n"}).printed().find("rules.toml:6:1") !=
          std::string::npos);
    CHECK(Loaded({head + "rows = []\n"}).printed().find("table t has no rows") != std::string::npos);
}

TEST_CASE("a team may add rows to a table but not the same keys again") {
    const std::string more =
        "[[table.strength.block]]\nfor = { practice = \"west\" }\n"
        "basis = [{ status = \"common practice\" }]\nrows = [[6, 1]]\n";
    const Loaded loaded({vocabulary, more});
    REQUIRE_MESSAGE(loaded.set, loaded.printed());
    CHECK(loaded.set->tables[0].rows.size() == 7);
    const std::string again = replaced(more, "west", "north");
    CHECK(Loaded({vocabulary, again})
              .printed()
              .find("another block of table strength has a row with the same keys") != std::string::npos);
}

TEST_CASE("a change needs a reason, a known rule and something to change") {
    CHECK(Loaded({vocabulary, good_rule, "[change.rope-carries]\nclass = \"minor\"\n"})
              .printed()
              .find("has no `reason`") != std::string::npos);
    CHECK(Loaded({vocabulary, good_rule, "[change.rope-carry]\nclass = \"minor\"\nreason = \"x\"\n"})
              .printed()
              .find("the nearest is \"rope-carries\"") != std::string::npos);
    CHECK(Loaded({vocabulary, good_rule, "[change.rope-carries]\nreason = \"x\"\n"})
              .printed()
              .find("changes nothing") != std::string::npos);
    CHECK(Loaded(
              {vocabulary, good_rule, "[change.rope-carries]\nclass = \"minor\"\nreason = \"light ropes\"\n"})
              .printed()
              .find("does not say who answers for it") != std::string::npos);
    const Loaded good(
        {vocabulary, good_rule,
         "[change.rope-carries]\nclass = \"minor\"\nreason = \"light ropes\"\nby = \"A. Example\"\n"});
    REQUIRE_MESSAGE(good.set, good.printed());
    CHECK(good.set->rules[0].rule_class == rules::Class::minor);
    CHECK(good.set->rules[0].change_reason == "light ropes");
    const std::string first =
        "[change.rope-carries]\nclass = \"minor\"\nreason = \"light ropes\"\nby = \"A. Example\"\n";
    const std::string twice =
        Loaded({vocabulary, good_rule, first, replaced(first, "\"minor\"", "\"critical\"")}).printed();
    CHECK(twice.find("the change of rope-carries is made twice") != std::string::npos);
    CHECK(twice.find(", line 1") != std::string::npos);
    CHECK(Loaded({vocabulary, good_rule, replaced(first, "class = \"minor\"", "counts = false")})
              .printed()
              .find("a change cannot put off a rule") != std::string::npos);
    CHECK(Loaded({vocabulary, good_rule, replaced(first, "A. Example", "n/a")})
              .printed()
              .find("does not say who answers for it") != std::string::npos);
}

TEST_CASE("a rule set survives being flattened byte for byte") {
    const Loaded loaded({vocabulary, good_rule});
    REQUIRE(loaded.set);
    const std::string bytes = rules::flatten(*loaded.set);
    CHECK(rules::flatten(rules::unflatten(bytes)) == bytes);
    CHECK_THROWS((void)rules::unflatten(std::string_view(bytes).substr(0, bytes.size() / 2)));
    CHECK_THROWS((void)rules::unflatten(bytes + "x"));
}
