#include "engine/cli/ingredients.hpp"

#include <algorithm>

namespace packproof::cli {

namespace {

using language::Expression;
using language::Operation;

template <class Value>
bool add_once(std::vector<Value>& list, const Value& value) {
    if (std::find(list.begin(), list.end(), value) != list.end()) return false;
    list.push_back(value);
    return true;
}

void add_fields(const Expression& expression, const language::Node& node, const rules::RuleSet& set,
                Ingredients& found) {
    for (std::uint32_t i = node.list_begin; i < node.list_end; ++i) {
        const language::Member& member = expression.members[i];
        const model::Kind& kind = set.vocabulary.kinds[member.kind];
        add_once(found.fields, kind.fields[member.index].name + " of " + kind.name);
    }
}

void add_expression(const Expression& expression, const rules::RuleSet& set, Ingredients& found) {
    for (const language::Node& node : expression.nodes) {
        const bool reads_table = node.operation == Operation::lookup ||
                                 node.operation == Operation::next_up ||
                                 node.operation == Operation::next_down;
        if (reads_table) add_once(found.tables, node.index);
        if (node.operation == Operation::field) add_fields(expression, node, set, found);
        if (node.operation != Operation::quantity) continue;
        for (std::uint32_t i = node.list_begin; i < node.list_end; ++i)
            add_once(found.quantities, expression.members[i].index);
    }
}

void add_network(const rules::NetworkDefinition& network, std::size_t in_case, const rules::RuleSet& set,
                 Ingredients& found) {
    for (const rules::NetworkBranch& branch : network.branches)
        for (const auto* values : {&branch.resistance, &branch.voltage, &branch.drawn})
            if (in_case < values->size()) add_expression((*values)[in_case], set, found);
}

void add_solver(const rules::SolverDefinition& solver, const rules::RuleSet& set, Ingredients& found) {
    for (const Expression& input : solver.inputs)
        add_expression(input, set, found);
    for (const rules::SolverRows& rows : solver.rows) {
        add_expression(rows.when, set, found);
        for (const Expression& value : rows.values)
            add_expression(value, set, found);
    }
}

}  // namespace

Ingredients ingredients_of(const rules::Rule& rule, const rules::RuleSet& set) {
    Ingredients found;
    for (const auto& application : rule.applications) {
        add_expression(application.when, set, found);
        add_expression(application.demands, set, found);
    }
    for (std::size_t i = 0; i < found.quantities.size(); ++i) {  // grows while it runs, and ends: no circles
        const rules::QuantityDefinition& quantity = set.quantities[found.quantities[i]];
        add_expression(quantity.value, set, found);
        if (quantity.solved && rules::needs_case(quantity.solved->question))
            add_network(set.networks[quantity.solved->network], quantity.solved->in_case, set, found);
        if (quantity.asked) add_solver(set.solvers[quantity.asked->solver], set, found);
    }
    return found;
}

}  // namespace packproof::cli
