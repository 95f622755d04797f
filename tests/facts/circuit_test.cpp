// Networks on a model: where ends are, what is missing where, what answers rest on. The currents themselves
// are worked by hand beside each: Ohm and Kirchhoff.
#include "engine/facts/circuit.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "tests/facts/loop.hpp"

using namespace packproof;
using facts_test::Loop;
using language::Gap;
using model::Truth;

namespace {

/// 12 V and 1 Ω over a wire of 2 Ω and 3 m, an automatic gate, a wire of 3 Ω and 5 m to a lamp, 1 Ω back.
const char* const one_way =
    "[cell.c]\nvolts = \"12 V\"\ninner = \"1 Ω\"\n"
    "[wire.w]\nfrom = \"c.plus\"\nto = \"g.in\"\nohms = \"2 Ω\"\nreach = \"3 m\"\n"
    "[gate.g]\nautomatic = true\n"
    "[wire.x]\nfrom = \"g.out\"\nto = \"l.a\"\nohms = \"3 Ω\"\nreach = \"5 m\"\n"
    "[lamp.l]\namps = \"1.5 A\"\n"
    "[wire.back]\nfrom = \"l.b\"\nto = \"c.minus\"\nohms = \"1 Ω\"\nreach = \"9 m\"\n";

std::string with(std::string text, const std::string& from, const std::string& to) {
    const std::size_t at = text.find(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

units::Interval range(const model::Value& value) {
    REQUIRE(value.number() != nullptr);
    return value.number()->range;
}

bool is_about(units::Interval found, double low, double high) {
    return found.low == doctest::Approx(low) && found.high == doctest::Approx(high);
}

}  // namespace

TEST_CASE("ends are points of the item itself or what its reference fields name") {
    Loop loop(one_way);
    CHECK(language::truth_of(loop.ask("in_loop", "w")) == Truth::yes);
    CHECK(language::truth_of(loop.ask("in_loop", "back")) == Truth::yes);
    // behind the first wire 12 V / (1 + 2) Ω, behind the second / (1 + 2 + 3) Ω, plus to the far end of the
    // way back
    CHECK(is_about(range(loop.ask("short_current", "w")), 4, 4));
    CHECK(is_about(range(loop.ask("short_current", "x")), 2, 2));
    // the lamp shorted, wires twice: 12 V / (1 + 4 + 6 + 2) Ω
    CHECK(is_about(range(loop.ask("least_current", "g")), 12.0 / 13, 12.0 / 13));
    CHECK(is_about(range(loop.ask("flow", "x")), 1.5, 1.5));
    CHECK(is_about(range(loop.ask("behind", "l")), 13, 13));
}

TEST_CASE("an item named as a whole is one node with all its points") {
    const std::string over_post =
        std::string(with(one_way, "to = \"g.in\"", "to = \"p\"")) +
        "[post.p]\n[wire.y]\nfrom = \"p.right\"\nto = \"g.in\"\nohms = \"0 Ω\"\nreach = \"0 m\"\n";
    Loop joined(over_post);
    CHECK(language::truth_of(joined.ask("in_loop", "y")) == Truth::yes);
    CHECK(is_about(range(joined.ask("behind", "l")), 13, 13));
    // named by its left point only, the right one is another place
    Loop apart(with(over_post, "to = \"p\"", "to = \"p.left\""));
    CHECK(apart.ask("in_loop", "y").missing());
    CHECK(apart.ask("behind", "l").missing());
    CHECK(apart.gaps.front().reason == Gap::Reason::on_no_way);
}

TEST_CASE(
    "a source, a sink or what opens is never one node: to name it without a point leaves the end open") {
    for (const char* named : {"c", "g", "l"}) {
        CAPTURE(named);
        Loop loop(with(one_way, "to = \"g.in\"", "to = \"" + std::string(named) + "\""));
        CHECK(loop.ask("in_loop", "w").missing());
        CHECK(loop.lacks(loop.input("w", "to"), Gap::Reason::not_stated));
    }
}

TEST_CASE("an end that is not placed is a gap on that field, and only of that item") {
    Loop absent(with(one_way, "to = \"g.in\"\n", ""));
    CHECK(absent.ask("short_current", "w").missing());
    CHECK(absent.lacks(absent.input("w", "to"), Gap::Reason::not_stated));
    CHECK_FALSE(absent.lacks(absent.input("w", "from"), Gap::Reason::not_stated));
    CHECK(absent.ask("short_current", "x").missing());
    CHECK_FALSE(absent.lacks(absent.input("w", "to"), Gap::Reason::not_stated));

    Loop asked(with(one_way, "to = \"g.in\"", "to = \"?\""));
    CHECK(asked.ask("in_loop", "w").missing());
    CHECK(asked.lacks(asked.input("w", "to"), Gap::Reason::asked));

    Loop none(with(one_way, "from = \"c.plus\"", "from = \"none\""));
    CHECK(none.ask("in_loop", "w").missing());
    CHECK(none.lacks(none.input("w", "from"), Gap::Reason::known_none));
}

TEST_CASE("a resistance that is not stated is a gap only where it matters") {
    Loop loop(with(one_way, "ohms = \"1 Ω\"\n", ""));
    const language::Input missing = loop.input("back", "ohms");
    // a fault behind the first wire runs back to the cell's own minus, past the wire that leads there
    CHECK(is_about(range(loop.ask("short_current", "w")), 4, 4));
    CHECK_FALSE(loop.rests_on(missing));
    CHECK(loop.ask("least_current", "g").missing());
    CHECK(loop.lacks(missing, Gap::Reason::not_stated));
    CHECK(loop.ask("behind", "l").missing());
    CHECK(loop.lacks(missing, Gap::Reason::not_stated));
}

TEST_CASE("in use what one way carries is what the sinks draw: no resistance bears on it, every sink does") {
    Loop one(with(one_way, "ohms = \"3 Ω\"\n", ""));
    CHECK(is_about(range(one.ask("flow", "w")), 1.5, 1.5));
    CHECK_FALSE(one.rests_on(one.input("x", "ohms")));
    // of two ways side by side the resistances tell the shares
    Loop two(with(one_way, "ohms = \"2 Ω\"\n", "") +
             "[wire.beside]\nfrom = \"c.plus\"\nto = \"g.in\"\nohms = \"2 Ω\"\n");
    CHECK(two.ask("flow", "w").missing());
    CHECK(two.lacks(two.input("w", "ohms"), Gap::Reason::not_stated));
    // a lamp that draws somewhere, nobody knows where
    Loop unplaced(std::string(one_way) + "[lamp.m]\namps = \"1 A\"\n");
    CHECK(unplaced.ask("flow", "w").missing());
    Loop dark(std::string(one_way) + "[lamp.m]\namps = \"0 A\"\n");
    CHECK(is_about(range(dark.ask("flow", "w")), 1.5, 1.5));
}

TEST_CASE("an answer rests on the inputs of its way, in both values of a case") {
    Loop loop(one_way);
    (void)loop.ask("short_current", "w");
    CHECK(loop.rests_on(loop.input("w", "ohms")));
    CHECK(loop.rests_on(loop.input("c", "volts")));
    CHECK(loop.rests_on(loop.input("c", "inner")));
    CHECK_FALSE(loop.rests_on(loop.input("x", "ohms")));
    CHECK_FALSE(loop.rests_on(loop.input("l", "amps")));
    (void)loop.ask("flow", "w");
    CHECK(loop.rests_on(loop.input("l", "amps")));
    CHECK_FALSE(loop.rests_on(loop.input("w", "reach")));
}

TEST_CASE("what an answer rests on shows in it: defaults and guesses of its way, not of others") {
    CHECK_FALSE(Loop(one_way).ask("short_current", "w").basis.assumed);
    Loop defaulted(with(one_way, "inner = \"1 Ω\"\n", ""));
    CHECK(defaulted.ask("short_current", "w").basis.assumed);
    CHECK_FALSE(defaulted.ask("short_current", "w").basis.guess);
    Loop guessed(with(one_way, "ohms = \"3 Ω\"", "ohms = \"~3 Ω\""));
    CHECK(guessed.ask("least_current", "g").basis.guess);
    CHECK_FALSE(guessed.ask("short_current", "w").basis.guess);
}

TEST_CASE("tolerances go to both ends: 12 V over 1 Ω and 2 ± 0.5 Ω are 3.43 to 4.8 A") {
    Loop loop(with(one_way, "ohms = \"2 Ω\"", "ohms = \"2 ± 0.5 Ω\""));
    const model::Value value = loop.ask("short_current", "w");
    CHECK(is_about(range(value), 12 / 3.5, 12 / 2.5));
    CHECK(value.number()->nominal == doctest::Approx(4));
}

TEST_CASE("a box replaces inputs, and only for those who ask in it") {
    Loop loop(with(one_way, "ohms = \"2 Ω\"", "ohms = \"2 ± 0.5 Ω\""));
    language::Box box;
    box.inputs = {loop.input("w", "ohms")};
    model::Value five;
    five.content = model::Number{units::Interval::point(5), 5, {}};
    box.values = {five};
    box.slopes = false;
    CHECK(is_about(range(loop.ask("short_current", "w", &box)), 2, 2));
    five.content = model::Number{units::Interval::point(11), 11, {}};
    box.values = {five};
    CHECK(is_about(range(loop.ask("short_current", "w", &box)), 1, 1));
    CHECK(is_about(range(loop.ask("short_current", "w")), 12 / 3.5, 12 / 2.5));
}

TEST_CASE("with slopes the value is that of the whole box, however an input is cut") {
    Loop loop(with(one_way, "ohms = \"2 Ω\"", "ohms = \"2 ± 0.5 Ω\""));
    language::Box box;
    box.inputs = {loop.input("w", "ohms")};
    model::Value cut;
    cut.content = model::Number{units::Interval::point(2.5), 2.5, {}};
    model::Value whole;
    whole.content = model::Number{{1.5, 2.5}, 2, {}};
    box.values = {cut};
    box.whole = {whole};
    const model::Value value = loop.ask("short_current", "w", &box);
    CHECK(is_about(range(value), 12 / 3.5, 12 / 2.5));
    CHECK(value.number()->slopes.empty());
}

TEST_CASE("the account of one way names its parts with their values; of several ways it says so") {
    Loop loop(one_way);
    facts::Account account = loop.facts->account_of(loop.quantity("least_current"), loop.item("g"));
    CHECK(account.one_way);
    double ohms = 0.0;
    double volts = 0.0;
    for (const facts::Account::Part& part : account.parts) {
        ohms += part.resistance;
        volts += part.voltage;
    }
    CHECK(volts / ohms == doctest::Approx(12.0 / 13));
    const auto has = [&](const char* id) {
        return std::any_of(account.parts.begin(), account.parts.end(),
                           [&](const facts::Account::Part& part) { return part.item == loop.item(id); });
    };
    for (const char* id : {"c", "w", "g", "x", "back"}) {
        CAPTURE(id);
        CHECK(has(id));
    }

    account = loop.facts->account_of(loop.quantity("short_current"), loop.item("w"));
    CHECK(account.one_way);
    CHECK(account.parts.size() == 2);  // the cell and the wire itself

    Loop two(std::string(one_way) +
             "[wire.beside]\nfrom = \"c.plus\"\nto = \"g.in\"\nohms = \"2 Ω\"\nreach = \"1 m\"\n");
    account = two.facts->account_of(two.quantity("flow"), two.item("w"));
    CHECK_FALSE(account.one_way);
    CHECK(is_about(range(two.ask("flow", "w")), 0.75, 0.75));
}

TEST_CASE("distance runs along what does not open, from the nearer end of the source") {
    Loop loop(one_way);
    CHECK(is_about(range(loop.ask("distance", "g")), 3, 3));
    const facts::Account account = loop.facts->account_of(loop.quantity("distance"), loop.item("g"));
    REQUIRE(account.parts.size() == 1);
    CHECK(account.parts[0].item == loop.item("w"));
    CHECK(account.parts[0].length == doctest::Approx(3));
    Loop unknown(with(one_way, "reach = \"3 m\"\n", ""));
    CHECK(unknown.ask("distance", "g").missing());
    CHECK(unknown.lacks(unknown.input("w", "reach"), Gap::Reason::not_stated));
}

TEST_CASE("what opens by itself is named for all that it is in series with, and nothing else is") {
    Loop loop(std::string(one_way) +
              "[gate.h]\nautomatic = true\n[lamp.m]\namps = \"1 A\"\n[wire.aside]\nfrom = \"g.out\"\nto = "
              "\"h.in\"\n[wire.to-m]\nfrom = \"h.out\"\nto = \"m.a\"\n[wire.from-m]\nfrom = \"m.b\"\nto = "
              "\"c.minus\"\n");
    auto opens = [&](const char* id) {
        std::vector<std::string> names;
        const model::Value value = loop.ask("opened_by", id);
        REQUIRE(std::holds_alternative<std::vector<model::Reference>>(value.content));
        for (const model::Reference& gate : std::get<std::vector<model::Reference>>(value.content))
            names.push_back(loop.model->items[gate.item].id);
        return names;
    };
    CHECK(opens("w") == std::vector<std::string>{"g"});
    CHECK(opens("to-m") == std::vector<std::string>{"g", "h"});
    CHECK(opens("x") == std::vector<std::string>{"g"});
    Loop by_hand(with(one_way, "automatic = true", "automatic = false"));
    const model::Value none = by_hand.ask("opened_by", "w");
    REQUIRE(std::holds_alternative<std::vector<model::Reference>>(none.content));
    CHECK(std::get<std::vector<model::Reference>>(none.content).empty());
}

TEST_CASE("a circuit tells its branches as the solver has them, and the nodes that a fault joins") {
    Loop loop(with(one_way, "ohms = \"3 Ω\"\n", ""));
    const language::Context context = loop.facts->context();
    facts::Circuit circuit(loop.loaded.set->networks[0], *loop.model, context);
    const std::vector<facts::CircuitBranch> branches = circuit.branches(1, context);
    REQUIRE(branches.size() == 6);
    auto of = [&](const char* id) {
        return *std::find_if(branches.begin(), branches.end(), [&](const facts::CircuitBranch& branch) {
            return branch.item == loop.item(id);
        });
    };
    CHECK(of("c").voltage.value_or(0) == doctest::Approx(12));
    CHECK(of("c").resistance.value_or(0) == doctest::Approx(1));
    CHECK(of("w").resistance.value_or(0) == doctest::Approx(4));  // twice in use
    CHECK(of("w").ends.from == of("c").ends.to);
    CHECK(of("w").ends.to == of("g").ends.from);
    CHECK(of("g").ends.opens);
    CHECK_FALSE(of("x").resistance);
    CHECK_FALSE(of("w").voltage);
    CHECK(of("l").drawn.value_or(0) == doctest::Approx(1.5));
    const auto faults = circuit.faults(rules::Question::least_fault, loop.item("g"));
    REQUIRE(faults.size() == 1);
    CHECK(faults[0] == std::pair{of("l").ends.from, of("l").ends.to});
    CHECK(circuit.faults(rules::Question::current, loop.item("g")).empty());
}
