#include "engine/inspect/working.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <set>

#include "engine/units/print_quantity.hpp"
#include "engine/units/unit.hpp"

namespace packproof::inspect {

using language::Context;
using language::Expression;
using language::Input;
using model::ItemIndex;
using model::Value;

namespace {

/// A context in which a quantity that has a value only choice by choice gives the span over the choices.
Context over_choices(facts::Facts& facts) {
    Context context = facts.context();
    context.quantity = [&facts, derive = context.quantity](std::uint16_t quantity, ItemIndex of,
                                                           const Context& asking) {
        Value value = derive(quantity, of, asking);
        if (!value.missing() || facts.rules().quantities[quantity].type.kind != model::Type::Kind::number)
            return value;
        const facts::Study study =
            facts.study([&](const Context& inside) { return inside.quantity(quantity, of, inside); });
        if (!study.refined.missing)
            value.content = model::Number{study.refined.range, study.refined.range.low, {}};
        return value;
    };
    return context;
}

std::string in_unit(double size, std::string_view symbol) {
    const units::Unit unit = *units::read_unit(symbol);
    return units::print_value(units::Interval::point(size), size,
                              units::display_unit(unit.dimension, {}, size, false), false, 4);
}

/// "58.4 V / (2.88 mΩ c280 + 0.0369 mΩ plus-to-fuse)" where the network is one closed way; else its parts.
std::string account_words(const facts::Account& account, facts::Facts& facts) {
    double voltage = 0.0;
    std::string parts;
    for (const facts::Account::Part& part : account.parts) {
        const std::string name = item_label(facts.model(), part.item);
        std::string words;
        auto say = [&](double size, std::string_view unit) {
            if (size != 0.0) words += in_unit(size, unit) + " ";
        };
        voltage += part.voltage;
        if (!account.one_way) say(part.voltage, "V");
        say(part.resistance, "Ω");
        say(part.drawn, "A");
        say(part.length, "m");
        if (!words.empty()) parts += (parts.empty() ? "" : " + ") + words + name;
    }
    if (account.one_way) return fmt::format("{} / ({})", in_unit(voltage, "V"), parts);
    return parts;
}

std::string row_words(const solve::MethodRow& row, std::span<const solve::MethodField> fields, bool named) {
    std::string words;
    for (std::size_t i = 0; i < fields.size(); ++i) {
        const bool adds_nothing = row[i] && !fields[i].needed && row[i]->range == units::Interval{0.0, 0.0};
        if (!row[i] || adds_nothing) continue;
        const units::Dimension dimension =
            fields[i].unit.empty() ? units::Dimension{} : units::read_unit(fields[i].unit)->dimension;
        if (!words.empty()) words += ", ";
        if (named) words += fmt::format("{} ", fields[i].name);
        words += units::print_value(row[i]->range, row[i]->nominal,
                                    units::display_unit(dimension, {}, row[i]->nominal, false), false, 4);
    }
    return words;
}

/// "after first, second; fits lid": the items that a row lists.
std::string row_items_words(const solve::RowItems& row, std::span<const solve::MethodField> fields,
                            const model::Model& model) {
    std::string words;
    for (std::size_t i = 0; i < fields.size(); ++i) {
        if (row.listed[i].empty()) continue;
        words += fmt::format("{}{}", words.empty() ? "" : "; ", fields[i].name);
        for (std::size_t k = 0; k < row.listed[i].size(); ++k)
            words += fmt::format("{}{}", k == 0 ? " " : ", ", item_label(model, row.listed[i][k]));
    }
    return words;
}

/// "width 300 mm, …; bolts: left 15 mm, 25 mm, 3; right …": what a solver was given.
std::string given_words(std::uint16_t quantity, ItemIndex item, facts::Facts& facts) {
    constexpr std::size_t most_rows = 24;
    const facts::SolverGiven* given = facts.given_to_solver(quantity, item);
    if (given == nullptr) return {};
    const rules::RuleSet& rules = facts.rules();
    const solve::Method& method = rules::method_of(rules.solvers[rules.quantities[quantity].asked->solver]);
    std::string words = row_words(given->input.values, method.fields, true);
    for (std::size_t list = 0; list < method.lists.size(); ++list) {
        const auto& rows = given->input.lists[list];
        if (rows.empty()) continue;
        words += fmt::format("{}{}: ", words.empty() ? "" : "; ", method.lists[list].name);
        for (std::size_t i = 0; i < rows.size() && i < most_rows; ++i) {
            const auto fields = method.lists[list].fields;
            const std::string numbers = row_words(rows[i], fields, true);
            const std::string items = row_items_words(given->input.items[list][i], fields, facts.model());
            const std::string both = numbers + (numbers.empty() || items.empty() ? "" : "; ") + items;
            words +=
                fmt::format("{}{}{}", i == 0 ? "" : ", ", item_label(facts.model(), given->rows[list][i]),
                            both.empty() ? "" : fmt::format(" ({})", both));
        }
        if (rows.size() > most_rows) words += fmt::format(", {} more", rows.size() - most_rows);
    }
    return words;
}

std::string verdict_word(Verdict verdict) {
    return std::string(rules::verdict_name(verdict));
}

Step step_of(const facts::Derived& used, facts::Facts& facts, const Context& context,
             const language::Printer& print) {
    const rules::QuantityDefinition& quantity = facts.rules().quantities[used.quantity];
    Step step;
    step.name = fmt::format("{} of {}", quantity.name, item_label(facts.model(), used.item));
    step.formula = quantity.value.text;
    if (quantity.solved)
        step.numbers = account_words(facts.account_of(used.quantity, used.item), facts);
    else if (quantity.asked)
        step.numbers = given_words(used.quantity, used.item, facts);
    else
        step.numbers =
            language::with_numbers(quantity.value, quantity.value.root, used.item, {}, context, print);
    const Value value =
        used.value.missing() ? context.quantity(used.quantity, used.item, context) : used.value;
    step.result = show(facts.model(), value, quantity.type, quantity.unit).text;
    return step;
}

}  // namespace

Derivation derivation_of(const Expression& demand, const Deciding& part, ItemIndex item,
                         facts::Facts& facts) {
    facts::Behind direct = facts.behind([&](const Context& context) {
        return language::evaluate_node(demand, part.node, item, part.variables, context);
    });
    std::set<std::pair<std::uint16_t, ItemIndex>> met;
    for (const facts::Derived& one : direct.quantities)
        met.insert({one.quantity, one.item});
    Derivation found;
    found.blocks = std::move(direct.blocks);
    for (facts::Derived& one : direct.quantities) {
        const rules::QuantityDefinition& quantity = facts.rules().quantities[one.quantity];
        if (quantity.solved || quantity.asked) {
            const std::shared_ptr<const facts::Behind> parts = facts.behind(one.quantity, one.item);
            found.blocks.insert(parts->blocks.begin(), parts->blocks.end());
            for (const facts::Derived& behind : parts->quantities)
                if (met.insert({behind.quantity, behind.item}).second)
                    found.used.push_back({behind, /*detail=*/true});
        }
        found.used.push_back({std::move(one), /*detail=*/false});
    }
    return found;
}

std::vector<Step> working_of(const Expression& demand, const Deciding& part, ItemIndex item, Verdict verdict,
                             const Derivation& derivation, facts::Facts& facts, KnownSteps& known) {
    std::vector<Step> steps;
    const language::Printer print = printer(facts);
    const Context context = over_choices(facts);
    std::set<std::pair<std::uint16_t, ItemIndex>> told;  ///< solvers whose numbers stand in a step already
    for (const auto& [used, detail] : derivation.used) {
        auto step = known.find({used.quantity, used.item});
        if (step == known.end())
            step = known.emplace(std::pair{used.quantity, used.item}, step_of(used, facts, context, print))
                       .first;
        steps.push_back(step->second);
        steps.back().detail = detail;
        const rules::QuantityDefinition& quantity = facts.rules().quantities[used.quantity];
        if (quantity.asked && !told.insert({quantity.asked->solver, used.item}).second)
            steps.back().numbers = "the same numbers";
    }
    const language::Node& node = demand.nodes[static_cast<std::size_t>(part.node)];
    Step last;
    last.formula = demand.text.substr(node.begin, node.end - node.begin);
    last.numbers = language::with_numbers(demand, part.node, item, part.variables, context, print);
    last.result = verdict_word(verdict);
    steps.push_back(std::move(last));
    return steps;
}

std::vector<model::Authority> authorities_of(const Derivation& derivation, const rules::RuleSet& rules) {
    std::vector<model::Authority> found;
    auto add = [&](const std::vector<model::Authority>& authorities) {
        for (const model::Authority& authority : authorities)
            if (std::find(found.begin(), found.end(), authority) == found.end()) found.push_back(authority);
    };
    for (const Derivation::Used& one : derivation.used)
        add(rules.quantities[one.derived.quantity].basis);
    for (const auto& [table, block] : derivation.blocks)
        if (block < rules.tables[table].blocks.size()) add(rules.tables[table].blocks[block].basis);
    return found;
}

std::vector<std::string> rests_on(const std::vector<Input>& inputs, facts::Facts& facts,
                                  const text::Sources& sources, std::vector<Elsewhere>& places) {
    constexpr std::size_t most_lines = 40;  // a rule over all items of a kind may rest on thousands
    std::vector<std::string> lines;
    const model::Model& model = facts.model();
    std::size_t more = 0;
    for (const Input& input : inputs) {
        if (input.item == model::no_item) continue;
        const model::Slot* slot = model.slot(input.item, input.field);
        if (slot == nullptr) continue;
        if (lines.size() == most_lines) {
            ++more;
            continue;
        }
        const model::Field& field = model.kind_of(input.item).fields[input.field];
        std::string origin = "stated";
        if (slot->origin == model::Origin::measured) origin = measured_label(model, *slot);
        if (slot->origin == model::Origin::assumed) origin = "assumed";
        if (slot->source != model::no_item) origin += ", " + item_label(model, slot->source);
        if (const std::string place = place_label(sources, slot->span); !place.empty())
            origin += ", " + place;
        if (slot->origin == model::Origin::assumed && !field.assume_basis.empty())
            origin += ": " + rules::print_authority(field.assume_basis.front());
        const std::string label = input_label(model, input);
        const std::string value = show(model, slot->value, field.type(), input_unit(model, input)).text;
        lines.push_back(fmt::format("{} = {} ({})", label, value, origin));
        if (slot->span.source != text::no_source)
            places.push_back({fmt::format("{}: {}", label, value), slot->span});
    }
    if (more > 0) lines.push_back(fmt::format("{} more", more));
    return lines;
}

}  // namespace packproof::inspect
