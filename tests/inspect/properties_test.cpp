// Promises that hold for every description, tried on the packs of specs/ with values moved at random (fixed
// seeds, printed with a failure).
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <random>
#include <set>

#include "engine/inspect/survey.hpp"
#include "tests/inspect/built_in.hpp"

using namespace packproof;
using inspect::Verdict;
using inspect_test::built_in;
using inspect_test::Pack;
using model::Model;
using model::Slot;

namespace {

const char* const packs[] = {"specs/cabin/pack.toml",
                             "specs/ten-lines.toml",
                             "specs/cabin/faulty-breaker-too-large-for-the-cable.toml",
                             "specs/cabin/faulty-two-rows-under-one-plate.toml",
                             "specs/cabin/faulty-nylon-nuts-eat-the-torque.toml",
                             "specs/cabin/faulty-stack-longer-than-the-case.toml"};

/// A second model on the same texts, for changing; the first must outlive it.
Model copy_of(const Model& model) {
    Model copy;
    copy.vocabulary = model.vocabulary;
    copy.items = model.items;
    copy.of_kind = model.of_kind;
    copy.conflicts = model.conflicts;
    return copy;
}

using Key = std::pair<std::string, std::string>;  // rule, item
using Verdicts = std::map<Key, Verdict>;

Verdicts verdicts_of(const Model& model, bool with_solvers = false) {
    facts::Facts facts(model, with_solvers ? built_in() : inspect_test::rules_without_solvers());
    Verdicts found;
    language::Context context = facts.context();
    for (const inspect::Verdicted& one : inspect::survey(facts, context, model::no_item).verdicts)
        found[{built_in().rules[one.rule].name, model.items[one.item].id}] = one.judgement.verdict;
    return found;
}

void for_each_number(Model& model,
                     const std::function<void(Slot&, model::Number&, const model::Field&)>& change) {
    for (model::Item& item : model.items)
        for (Slot& slot : item.slots)
            if (auto* number = std::get_if<model::Number>(&slot.value.content))
                change(slot, *number, built_in().vocabulary.kinds[item.kind].fields[slot.field]);
}

/// A point inside a value's tolerance: mostly an end, sometimes anywhere; an open side by a wide guess.
double sample(const units::Interval& range, std::mt19937_64& random) {
    const double low = std::isfinite(range.low) ? range.low : range.high - 10.0 * std::abs(range.high) - 1.0;
    const double high = std::isfinite(range.high) ? range.high : range.low + 10.0 * std::abs(range.low) + 1.0;
    switch (std::uniform_int_distribution<int>(0, 2)(random)) {
        case 0:
            return low;
        case 1:
            return high;
        default:
            return std::uniform_real_distribution<double>(low, high)(random);
    }
}

/// Gives exact values a tolerance of 0 to 20 %, so that limits come to lie inside.
void loosen(Model& model, std::mt19937_64& random) {
    for_each_number(model, [&](Slot&, model::Number& number, const model::Field& field) {
        if (field.form != model::Field::Form::quantity || field.absolute) return;
        if (std::uniform_int_distribution<int>(0, 3)(random) != 0) return;
        const double reach =
            std::abs(number.nominal) * std::uniform_real_distribution<double>(0.0, 0.2)(random);
        number.range.low = std::max(number.range.low - reach, field.least);
        number.range.high = std::min(number.range.high + reach, field.most);
    });
}

bool rule_speaks_of_tolerance(const std::string& rule) {
    for (const rules::Application& application : built_in().rule(rule)->applications)
        if (inspect_test::speaks_of_tolerance(application.demands) ||
            inspect_test::speaks_of_tolerance(application.when))
            return true;
    return false;
}

/// Fields that some rule or quantity asks "is it stated?" of, or the like: their absence may lawfully change
/// a limit.
std::set<std::pair<model::KindIndex, model::FieldIndex>> fields_with_fallback() {
    std::set<std::pair<model::KindIndex, model::FieldIndex>> found;
    auto look = [&](const language::Expression& expression) {
        for (const language::Node& node : expression.nodes) {
            if (language::presence_word(node.operation).empty()) continue;
            const language::Node& path = expression.nodes[static_cast<std::size_t>(node.first)];
            if (path.operation != language::Operation::field) continue;
            for (std::uint32_t m = path.list_begin; m < path.list_end; ++m)
                found.insert({expression.members[m].kind, expression.members[m].index});
        }
    };
    for (const rules::QuantityDefinition& quantity : built_in().quantities)
        look(quantity.value);
    for (const rules::Rule& rule : built_in().rules)
        for (const rules::Application& application : rule.applications) {
            look(application.when);
            look(application.demands);
        }
    return found;
}

}  // namespace

TEST_CASE("no false conforms: a verdict of conforms or fails holds for every value inside the tolerances") {
    std::size_t held = 0;
    for (const char* const name : packs) {
        Pack pack(name);
        REQUIRE_MESSAGE(pack.model, pack.trouble());
        for (std::uint64_t seed = 1; seed <= 12; ++seed) {
            std::mt19937_64 random(seed);
            Model loose = copy_of(*pack.model);
            loosen(loose, random);
            const bool with_solvers = seed <= 2;  // these cost a hundred times as much
            const Verdicts whole = verdicts_of(loose, with_solvers);
            for (int trial = 0; trial < 12; ++trial) {
                Model point = copy_of(loose);
                for_each_number(point, [&](Slot&, model::Number& number, const model::Field&) {
                    if (number.range.is_point()) return;
                    const double x = sample(number.range, random);
                    number = {units::Interval::point(x), x, {}};
                });
                for (const auto& [key, verdict] : verdicts_of(point, with_solvers)) {
                    const auto before = whole.find(key);
                    if (before == whole.end()) continue;  // did not apply while in doubt
                    if (before->second != Verdict::conforms && before->second != Verdict::fails) continue;
                    if (rule_speaks_of_tolerance(key.first)) continue;
                    if (verdict == before->second) {
                        ++held;
                        continue;
                    }
                    FAIL_CHECK(std::string(name)
                               << ", seed " << seed << ": " << key.first << " of " << key.second << " "
                               << rules::verdict_name(before->second) << " but a value inside gives "
                               << rules::verdict_name(verdict));
                }
            }
        }
    }
    CHECK(held > 10000);
}

TEST_CASE("widening a tolerance never turns undecided or fails into conforms") {
    std::size_t tried = 0;
    for (const char* const name : packs) {
        Pack pack(name);
        REQUIRE(pack.model);
        for (std::uint64_t seed = 1; seed <= 40; ++seed) {
            std::mt19937_64 random(seed);
            Model tight = copy_of(*pack.model);
            loosen(tight, random);
            Model wide = copy_of(tight);
            loosen(wide, random);
            const bool with_solvers = seed <= 2;
            const Verdicts before = verdicts_of(tight, with_solvers);
            for (const auto& [key, verdict] : verdicts_of(wide, with_solvers)) {
                const auto was = before.find(key);
                if (was == before.end() || verdict != Verdict::conforms) continue;
                ++tried;
                const bool allowed = was->second == Verdict::conforms || was->second == Verdict::not_stated;
                if (!allowed)
                    FAIL_CHECK(std::string(name)
                               << ", seed " << seed << ": " << key.first << " of " << key.second);
            }
        }
    }
    CHECK(tried > 10000);
}

TEST_CASE("removing a value never turns fails or undecided into conforms, but through a declared fallback") {
    const auto fallback = fields_with_fallback();
    for (const char* const name : packs) {
        Pack pack(name);
        REQUIRE(pack.model);
        const Verdicts before = verdicts_of(*pack.model);
        for (std::size_t i = 0; i < pack.model->items.size(); ++i) {
            for (std::size_t s = 0; s < pack.model->items[i].slots.size(); ++s) {
                const Slot& slot = pack.model->items[i].slots[s];
                const model::KindIndex kind = pack.model->items[i].kind;
                const model::Field& field = built_in().vocabulary.kinds[kind].fields[slot.field];
                if (slot.origin == model::Origin::assumed || !field.assume.empty()) continue;
                if (fallback.contains({kind, slot.field})) continue;
                Model less = copy_of(*pack.model);
                less.items[i].slots.erase(less.items[i].slots.begin() + static_cast<std::ptrdiff_t>(s));
                for (const auto& [key, verdict] : verdicts_of(less)) {
                    const auto was = before.find(key);
                    if (was == before.end() || verdict != Verdict::conforms) continue;
                    if (was->second == Verdict::fails || was->second == Verdict::undecided)
                        FAIL_CHECK(std::string(name)
                                   << ": " << key.first << " of " << key.second << " conforms without "
                                   << field.name << " of " << pack.model->items[i].id);
                }
            }
        }
    }
}

TEST_CASE("names carry no meaning: other ids give the same verdicts") {
    for (const char* const name : packs) {
        Pack pack(name);
        REQUIRE(pack.model);
        const Verdicts before = verdicts_of(*pack.model);
        Model renamed = copy_of(*pack.model);
        for (model::Item& item : renamed.items)
            item.id = "x-" + item.id + "-y";
        const Verdicts after = verdicts_of(renamed);
        CHECK(after.size() == before.size());
        for (const auto& [key, verdict] : before) {
            const auto found = after.find({key.first, "x-" + key.second + "-y"});
            REQUIRE(found != after.end());
            CHECK(found->second == verdict);
        }
    }
}
