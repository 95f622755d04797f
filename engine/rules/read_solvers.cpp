// Solvers from rule files: declared before the quantities that ask them, their expressions compiled after,
// for these use quantities in turn.
#include <fmt/core.h>

#include <algorithm>

#include "engine/rules/entry.hpp"
#include "engine/rules/reading.hpp"
#include "engine/text/nearest_name.hpp"
#include "engine/text/safe_print.hpp"

namespace packproof::rules {

using document::Node;
using model::Type;
using solve::Method;

namespace {

/// The place of a name in a list of things that have names; with a message where it is none of them.
template <typename Named>
std::optional<std::uint16_t> find_named(Entry& entry, std::string_view key, std::string_view what,
                                        const Named& list) {
    const std::string written = entry.text(key, true);
    if (written.empty()) return std::nullopt;
    std::vector<std::string_view> names;
    for (const auto& one : list) {
        if (one.name == written) return static_cast<std::uint16_t>(names.size());
        names.emplace_back(one.name);
    }
    const std::string_view near = text::nearest_name(written, names);
    std::string hint = near.empty() ? "one of " : fmt::format("the nearest is \"{}\"", near);
    if (near.empty())
        for (const std::string_view name : names)
            hint += fmt::format("{}{}", name == names.front() ? "" : ", ", name);
    entry.error(*entry.node().find(key), fmt::format("unknown {} \"{}\"", what, text::safe_print(written)),
                std::move(hint));
    return std::nullopt;
}

language::Expression compile_field(const Node* node, const solve::MethodField& field, model::KindIndex kind,
                                   const language::Names& names, Reading& reading) {
    if (field.form == solve::MethodField::Form::number)
        return compile_as(node, number_in(field.unit), kind, names, reading);
    if (field.form == solve::MethodField::Form::truth) {
        Type truth;
        truth.kind = Type::Kind::truth;
        return compile_as(node, truth, kind, names, reading);
    }
    if (node == nullptr) return {};
    if (!node->is_string()) {
        reading.messages.error(node->span, fmt::format("`{}` must be an expression in quotes", node->key));
        return {};
    }
    language::Expression items = compile(*node, kind, names, reading);  // of whatever kinds
    if (items.empty() || items.type().kind == Type::Kind::items) return items;
    reading.messages.error(node->span, fmt::format("`{}` must be a list of items, not {}", node->key,
                                                   model::type_name(items.type(), reading.set.vocabulary)));
    return {};
}

/// One expression for each field, in their order.
std::vector<language::Expression> read_values(Entry& entry, std::span<const solve::MethodField> fields,
                                              model::KindIndex kind, const language::Names& names,
                                              Reading& reading) {
    std::vector<language::Expression> values;
    for (const solve::MethodField& field : fields) {
        const Node* node = entry.take(field.name);
        if (node == nullptr && field.needed)
            entry.error(entry.node(), fmt::format("{} has no `{}`", entry.what(), field.name));
        values.push_back(compile_field(node, field, kind, names, reading));
    }
    return values;
}

/// A field that joins rows to the item at hand: of `owner`, naming items of the kind `named`.
std::optional<model::FieldIndex> read_joining(Entry& entry, std::string_view key, model::KindIndex owner,
                                              model::KindIndex named, Reading& reading) {
    const std::string name = entry.text(key);
    if (name.empty()) return std::nullopt;
    const model::Kind& kind = reading.set.vocabulary.kinds[owner];
    const auto field = kind.field(name);
    const bool several = key == "listed_in";
    const auto form = several ? model::Field::Form::references : model::Field::Form::reference;
    const bool names_it = field && kind.fields[*field].form == form &&
                          std::find(kind.fields[*field].kinds.begin(), kind.fields[*field].kinds.end(),
                                    named) != kind.fields[*field].kinds.end();
    if (names_it) return field;
    entry.error(*entry.node().find(key),
                fmt::format("\"{}\" is no {} of {} that may name a {}", text::safe_print(name),
                            several ? "list of references" : "reference", kind.name,
                            reading.set.vocabulary.kinds[named].name));
    return std::nullopt;
}

void read_rows(const Node& node, SolverDefinition& solver, const language::Names& names, Reading& reading) {
    Entry entry(node, fmt::format("rows of solver {}", solver.name), reading.messages);
    const Method& method = method_of(solver);
    const auto list = find_named(entry, "list", "list", method.lists);
    const auto kind = find_named(entry, "of", "kind", reading.set.vocabulary.kinds);
    if (!list || !kind) return;
    SolverRows rows;
    rows.list = *list;
    rows.kind = *kind;
    rows.part_of = read_joining(entry, "part_of", *kind, solver.kind, reading);
    rows.listed_in = read_joining(entry, "listed_in", solver.kind, *kind, reading);
    if (rows.part_of && rows.listed_in)
        entry.error(node, fmt::format("{} have both `part_of` and `listed_in`", entry.what()));
    Type truth;
    truth.kind = Type::Kind::truth;
    if (const Node* when = entry.take("when")) rows.when = compile_as(when, truth, *kind, names, reading);
    rows.values = read_values(entry, method.lists[*list].fields, *kind, names, reading);
    entry.finish();
    solver.rows.push_back(std::move(rows));
}

void read_solver(const Node& node, SolverDefinition& solver, const language::Names& names, Reading& reading) {
    if (const Node* inputs = node.find("input")) {
        if (!inputs->is_table()) {
            reading.messages.error(inputs->span, "`input` is a table of expressions by name");
        } else {
            Entry entry(*inputs, fmt::format("the input of solver {}", solver.name), reading.messages);
            solver.inputs = read_values(entry, method_of(solver).fields, solver.kind, names, reading);
            entry.finish();
        }
    }
    if (const Node* rows = node.find("each")) {
        if (!rows->is_array())
            reading.messages.error(rows->span, fmt::format("rows stand in [[solver.{}.each]]", solver.name));
        else
            for (const Node& one : rows->children)
                read_rows(one, solver, names, reading);
    }
}

/// A solver whose numbers no rule file gives could never answer.
void check_complete(const SolverDefinition& solver, const Node& node, Reading& reading) {
    const Method& method = method_of(solver);
    const bool takes_some = std::any_of(method.fields.begin(), method.fields.end(),
                                        [](const solve::MethodField& field) { return field.needed; });
    if (takes_some && solver.inputs.empty())
        reading.messages.error(place_of(node), fmt::format("solver {} has no `input`", solver.name));
    for (std::size_t i = 0; i < method.lists.size(); ++i) {
        const bool given = std::any_of(solver.rows.begin(), solver.rows.end(),
                                       [&](const SolverRows& rows) { return rows.list == i; });
        if (!given && method.lists[i].needed)
            reading.messages.error(place_of(node), fmt::format("solver {} has no rows of the list {}",
                                                               solver.name, method.lists[i].name));
    }
}

/// A question about each row needs rows of the kind that asks, and a way from the row to the item whose
/// solver it is.
void check_asks_of_rows(Reading& reading) {
    for (const QuantityDefinition& quantity : reading.set.quantities) {
        if (!quantity.asked) continue;
        const SolverDefinition& solver = reading.set.solvers[quantity.asked->solver];
        const int list = method_of(solver).questions[quantity.asked->question].of_each;
        if (list < 0) continue;
        const model::Kind& owner = reading.set.vocabulary.kinds[solver.kind];
        const auto rows = std::find_if(solver.rows.begin(), solver.rows.end(), [&](const SolverRows& one) {
            return one.list == list && one.kind == quantity.kind;
        });
        if (rows == solver.rows.end())
            reading.messages.error(
                quantity.span, fmt::format("{} is no row of the solver {}",
                                           reading.set.vocabulary.kinds[quantity.kind].name, solver.name));
        else if (!owner.single && !rows->part_of && !rows->listed_in)
            reading.messages.error(
                quantity.span,
                fmt::format("nothing says of which {} a row of the solver {} is", owner.name, solver.name),
                "part_of = or listed_in = in its rows");
    }
}

/// An answer that is an item may be any of the rows: a quantity must allow for each kind.
void check_kinds_of_rows(Reading& reading) {
    for (const QuantityDefinition& quantity : reading.set.quantities) {
        if (!quantity.asked || quantity.type.kind != Type::Kind::item) continue;
        for (const SolverRows& rows : reading.set.solvers[quantity.asked->solver].rows) {
            const auto& kinds = quantity.type.kinds;
            if (std::find(kinds.begin(), kinds.end(), rows.kind) != kinds.end()) continue;
            reading.messages.error(quantity.span,
                                   fmt::format("{} may be a {}, which `kinds` does not name", quantity.name,
                                               reading.set.vocabulary.kinds[rows.kind].name));
        }
    }
}

}  // namespace

void declare_solvers(Reading& reading) {
    for (const Node* node : members(reading, "solver")) {
        const auto& known = reading.set.solvers;
        const bool extends = std::any_of(known.begin(), known.end(),
                                         [&](const SolverDefinition& s) { return s.name == node->key; });
        Entry entry(*node, fmt::format("solver {}", text::safe_print(node->key)), reading.messages);
        entry.take("each");
        if (extends) {  // a file of a team adds rows of its own kinds
            entry.finish();
            continue;
        }
        entry.take("input");
        SolverDefinition solver;
        solver.name = node->key;
        solver.about = entry.text("about", true);
        const auto method = find_named(entry, "method", "method", solve::methods());
        const auto kind = find_named(entry, "of", "kind", reading.set.vocabulary.kinds);
        entry.finish();
        if (!method || !kind) continue;
        solver.method = *method;
        solver.kind = *kind;
        reading.set.solvers.push_back(std::move(solver));
    }
}

void read_solvers(Reading& reading) {
    const NameLists lists = name_lists(reading.set);
    const language::Names names = lists.names(reading.set.vocabulary);
    for (const Node* node : members(reading, "solver"))
        for (SolverDefinition& solver : reading.set.solvers)
            if (solver.name == node->key) read_solver(*node, solver, names, reading);
    for (const Node* node : members(reading, "solver"))
        for (const SolverDefinition& solver : reading.set.solvers)
            if (solver.name == node->key && node->find("method") != nullptr)
                check_complete(solver, *node, reading);
    check_kinds_of_rows(reading);
    check_asks_of_rows(reading);
}

std::optional<SolverAsked> read_asked(Entry& entry, model::KindIndex kind, const Type& type,
                                      Reading& reading) {
    SolverAsked asked;
    const auto solver = find_named(entry, "solver", "solver", reading.set.solvers);
    if (!solver) {
        entry.take("solves");
        return std::nullopt;
    }
    asked.solver = *solver;
    const SolverDefinition& definition = reading.set.solvers[*solver];
    const auto question = find_named(entry, "solves", "answer", method_of(definition).questions);
    if (!question) return std::nullopt;
    asked.question = *question;
    const solve::MethodQuestion& what = method_of(definition).questions[*question];
    if (what.of_each < 0 && definition.kind != kind) {
        entry.error(entry.node(), fmt::format("solver {} is of {}, not of {}", definition.name,
                                              reading.set.vocabulary.kinds[definition.kind].name,
                                              reading.set.vocabulary.kinds[kind].name));
        return std::nullopt;
    }
    Type given = number_in(what.unit);
    if (what.form == solve::MethodQuestion::Form::truth) given.kind = Type::Kind::truth;
    if (what.form == solve::MethodQuestion::Form::items) {
        given.kind = Type::Kind::items;
        given.kinds = type.kinds;
    }
    if (what.form == solve::MethodQuestion::Form::text) given.kind = Type::Kind::text;
    if (what.form == solve::MethodQuestion::Form::item) {
        given.kind = Type::Kind::item;
        given.kinds = type.kinds;
    }
    if (given == type) return asked;
    entry.error(*entry.node().find("solves"), fmt::format("\"{}\" is {}, but {} is declared", what.name,
                                                          model::type_name(given, reading.set.vocabulary),
                                                          model::type_name(type, reading.set.vocabulary)));
    return std::nullopt;
}

}  // namespace packproof::rules
