// Derived quantities from rule files: declared first, so that they may use each other, then compiled.
#include <fmt/core.h>

#include <algorithm>
#include <functional>

#include "engine/language/parse.hpp"
#include "engine/rules/entry.hpp"
#include "engine/rules/reading.hpp"
#include "engine/text/nearest_name.hpp"
#include "engine/text/safe_print.hpp"
#include "engine/units/unit.hpp"

namespace packproof::rules {

using document::Node;
using model::Type;

namespace {

struct Declared {
    std::size_t index;
    const Node* value;
};

std::optional<Type::Kind> read_gives(const std::string& name) {
    if (name.empty() || name == "number") return Type::Kind::number;
    if (name == "range") return Type::Kind::range;
    if (name == "truth") return Type::Kind::truth;
    if (name == "text") return Type::Kind::text;
    if (name == "item") return Type::Kind::item;
    if (name == "items") return Type::Kind::items;
    return std::nullopt;
}

std::optional<Declared> declare(const Node& node, model::KindIndex kind, Reading& reading) {
    const model::Kind& owner = reading.set.vocabulary.kinds[kind];
    Entry entry(node, fmt::format("quantity {} of {}", text::safe_print(node.key), owner.name),
                reading.messages);
    QuantityDefinition definition;
    definition.kind = kind;
    definition.name = node.key;
    definition.span = place_of(node);
    definition.about = entry.text("about", true);
    definition.unit = entry.unit("unit");
    definition.basis = entry.authorities("basis", false);
    const std::string gives = entry.text("gives");
    if (const auto read = read_gives(gives)) {
        definition.type.kind = *read;
    } else {
        entry.error(*node.find("gives"), fmt::format("unknown form \"{}\"", text::safe_print(gives)),
                    "one of number, range, truth, text, item, items");
    }
    definition.type.dimension = definition.unit.dimension;
    definition.type.absolute = entry.truth("temperature").value_or(false);
    for (const std::string& name : entry.texts("kinds")) {
        if (auto index = reading.set.vocabulary.kind(name)) {
            definition.type.kinds.push_back(*index);
        } else {
            entry.error(*node.find("kinds"), fmt::format("unknown kind \"{}\"", text::safe_print(name)));
        }
    }
    std::sort(definition.type.kinds.begin(), definition.type.kinds.end());
    const Node* value = entry.take("value");
    if (node.find("solver") != nullptr && value == nullptr) {
        definition.asked = read_asked(entry, kind, definition.type, reading);
        if (definition.asked) {
            const SolverDefinition& solver = reading.set.solvers[definition.asked->solver];
            definition.value.text = fmt::format(
                "{} by {}", method_of(solver).questions[definition.asked->question].name, solver.name);
        }
    } else if (node.find("solves") != nullptr && value == nullptr) {
        definition.solved = read_solved(entry, definition.type, reading);
        if (definition.solved) {
            const NetworkDefinition& network = reading.set.networks[definition.solved->network];
            definition.value.text =
                fmt::format("{} in network {}", question_name(definition.solved->question), network.name);
            if (needs_case(definition.solved->question))
                definition.value.text += ", " + network.cases[definition.solved->in_case].name;
        }
    } else if (value == nullptr || !value->is_string()) {
        entry.error(node, fmt::format("{} has no `value`", entry.what()));
        value = nullptr;
    }
    entry.finish();
    const bool field_has_name = owner.field(definition.name).has_value();
    const bool quantity_has_name =
        std::any_of(reading.set.quantities.begin(), reading.set.quantities.end(),
                    [&](const QuantityDefinition& q) { return q.kind == kind && q.name == definition.name; });
    if (field_has_name || quantity_has_name) {
        reading.messages.error(definition.span,
                               fmt::format("{} has a {} named {} already", owner.name,
                                           field_has_name ? "field" : "quantity", definition.name));
        return std::nullopt;
    }
    reading.set.quantities.push_back(std::move(definition));
    if (value == nullptr) return std::nullopt;
    return Declared{reading.set.quantities.size() - 1, value};
}

void compile_value(const Declared& declared, const language::Names& names, Reading& reading) {
    QuantityDefinition& quantity = reading.set.quantities[declared.index];
    quantity.value = compile(*declared.value, quantity.kind, names, reading);
    if (quantity.value.empty()) return;
    Type given = quantity.value.type();
    const bool items = quantity.type.kind == Type::Kind::item || quantity.type.kind == Type::Kind::items;
    if (items && quantity.type.kinds.empty()) quantity.type.kinds = given.kinds;
    if (given == quantity.type) return;
    reading.messages.error(declared.value->span,
                           fmt::format("the value of {} is {}, but {} is declared", quantity.name,
                                       model::type_name(given, reading.set.vocabulary),
                                       model::type_name(quantity.type, reading.set.vocabulary)));
}

/// Depth-first over "uses"; a quantity met again on the way down closes a circle.
void find_circles(const RuleSet& set, text::Messages& messages) {
    enum class Mark : std::uint8_t { fresh, open, done };
    std::vector<Mark> marks(set.quantities.size(), Mark::fresh);
    std::vector<std::uint16_t> way;
    auto name_of = [&](std::uint16_t q) {
        return set.vocabulary.kinds[set.quantities[q].kind].name + "." + set.quantities[q].name;
    };
    const std::function<void(std::uint16_t)> visit = [&](std::uint16_t q) {
        marks[q] = Mark::open;
        way.push_back(q);
        for (const std::uint16_t used : used_by(set.quantities[q], set)) {
            if (marks[used] == Mark::fresh)
                visit(used);
            else if (marks[used] == Mark::open) {
                std::string circle;
                for (auto it = std::find(way.begin(), way.end(), used); it != way.end(); ++it)
                    circle += name_of(*it) + " → ";
                messages.error(set.quantities[used].span,
                               fmt::format("derived quantities in a circle: {}{}", circle, name_of(used)));
            }
        }
        way.pop_back();
        marks[q] = Mark::done;
    };
    for (std::size_t q = 0; q < set.quantities.size(); ++q)
        if (marks[q] == Mark::fresh) visit(static_cast<std::uint16_t>(q));
}

}  // namespace

std::vector<std::uint16_t> used_by(const QuantityDefinition& quantity, const RuleSet& set) {
    if (!quantity.solved && !quantity.asked) return language::quantities_used(quantity.value);
    std::vector<std::uint16_t> used;
    auto add = [&](const language::Expression& expression) {
        const std::vector<std::uint16_t> more = language::quantities_used(expression);
        used.insert(used.end(), more.begin(), more.end());
    };
    if (quantity.asked) {
        const SolverDefinition& solver = set.solvers[quantity.asked->solver];
        for (const language::Expression& input : solver.inputs)
            add(input);
        for (const SolverRows& rows : solver.rows) {
            add(rows.when);
            for (const language::Expression& value : rows.values)
                add(value);
        }
        return used;
    }
    for (const NetworkBranch& branch : set.networks[quantity.solved->network].branches) {
        for (const language::Expression* expression : {&branch.when, &branch.opens})
            add(*expression);
        if (quantity.solved->question == Question::distance_from_source) add(branch.length);
        if (!needs_case(quantity.solved->question)) continue;
        for (const auto* values : {&branch.resistance, &branch.voltage, &branch.drawn})
            if (quantity.solved->in_case < values->size()) add((*values)[quantity.solved->in_case]);
    }
    return used;
}

NameLists name_lists(const RuleSet& set) {
    NameLists lists;
    for (const QuantityDefinition& quantity : set.quantities)
        lists.quantities.push_back({quantity.kind, quantity.name, quantity.type});
    for (const Table& table : set.tables) {
        language::TableName name;
        name.name = table.name;
        for (const TableKey& key : table.keys) {
            name.key_names.push_back(key.name);
            name.keys.push_back(
                {key.is_text ? Type::Kind::text : Type::Kind::number, key.unit.dimension, key.absolute, {}});
        }
        for (const TableColumn& column : table.columns) {
            name.column_names.push_back(column.name);
            name.columns.push_back({column.is_text ? Type::Kind::text : Type::Kind::number,
                                    column.unit.dimension,
                                    column.absolute,
                                    {}});
        }
        lists.tables.push_back(std::move(name));
    }
    return lists;
}

language::Expression compile(const Node& node, model::KindIndex kind, const language::Names& names,
                             Reading& reading) {
    std::vector<language::Mistake> mistakes;
    std::optional<language::Expression> expression = language::parse(node.text, mistakes);
    if (expression && mistakes.empty()) language::check(*expression, kind, names, mistakes);
    for (const language::Mistake& mistake : mistakes)
        reading.messages.error(document::span_inside(reading.sources, node, mistake.begin, mistake.end),
                               mistake.text, mistake.hint);
    if (!expression || !mistakes.empty()) return {};
    return std::move(*expression);
}

language::Expression compile_as(const Node* node, const Type& wanted, model::KindIndex kind,
                                const language::Names& names, Reading& reading) {
    if (node == nullptr) return {};
    if (!node->is_string()) {
        reading.messages.error(node->span, fmt::format("`{}` must be an expression in quotes", node->key));
        return {};
    }
    language::Expression expression = compile(*node, kind, names, reading);
    if (expression.empty() || expression.type() == wanted) return expression;
    reading.messages.error(
        node->span,
        fmt::format("`{}` must be {}, not {}", node->key, model::type_name(wanted, reading.set.vocabulary),
                    model::type_name(expression.type(), reading.set.vocabulary)));
    return {};
}

Type number_in(std::string_view unit) {
    Type type;
    if (!unit.empty()) type.dimension = units::read_unit(unit)->dimension;
    return type;
}

void read_quantities(Reading& reading) {
    std::vector<Declared> declared;
    for (const Node* of_kind : members(reading, "quantity")) {
        const auto kind = reading.set.vocabulary.kind(of_kind->key);
        if (!kind) {
            std::vector<std::string_view> names;
            for (const model::Kind& known : reading.set.vocabulary.kinds)
                names.emplace_back(known.name);
            const std::string_view near = text::nearest_name(of_kind->key, names);
            reading.messages.error(place_of(*of_kind),
                                   fmt::format("unknown kind \"{}\"", text::safe_print(of_kind->key)),
                                   near.empty() ? std::string{} : fmt::format("the nearest is \"{}\"", near));
            continue;
        }
        for (const Node& node : of_kind->children) {
            if (!node.is_table()) {
                reading.messages.error(node.span, "a quantity must be a table");
            } else if (auto one = declare(node, *kind, reading)) {
                declared.push_back(*one);
            }
        }
    }
    const NameLists lists = name_lists(reading.set);
    const language::Names names = lists.names(reading.set.vocabulary);
    for (const Declared& one : declared)
        compile_value(one, names, reading);
    read_networks(reading);
    read_solvers(reading);
    find_circles(reading.set, reading.messages);
}

}  // namespace packproof::rules
