#include "engine/rules/ingredients.hpp"

#include <algorithm>

namespace packproof::rules {

namespace {

using language::Expression;
using language::Operation;

template <class Value>
bool add_once(std::vector<Value>& list, const Value& value) {
    if (std::find(list.begin(), list.end(), value) != list.end()) return false;
    list.push_back(value);
    return true;
}

void add_network(const NetworkDefinition& network, std::size_t in_case, Ingredients& found) {
    for (const NetworkBranch& branch : network.branches)
        for (const auto* values : {&branch.resistance, &branch.voltage, &branch.drawn})
            if (in_case < values->size()) add_ingredients((*values)[in_case], found);
}

void add_solver(const SolverDefinition& solver, Ingredients& found) {
    for (const Expression& input : solver.inputs)
        add_ingredients(input, found);
    for (const SolverRows& rows : solver.rows) {
        add_ingredients(rows.when, found);
        for (const Expression& value : rows.values)
            add_ingredients(value, found);
    }
}

}  // namespace

void add_ingredients(const Expression& expression, Ingredients& found) {
    for (const language::Node& node : expression.nodes) {
        const bool reads_table = node.operation == Operation::lookup ||
                                 node.operation == Operation::next_up ||
                                 node.operation == Operation::next_down;
        if (reads_table) add_once(found.tables, node.index);
        if (node.operation != Operation::field && node.operation != Operation::quantity) continue;
        // Fields come first, then what is derived on some kind.
        for (std::uint32_t i = node.list_begin; i < node.list_end; ++i) {
            const language::Member& member = expression.members[i];
            if (i - node.list_begin < node.index)
                add_once(found.fields, member);
            else
                add_once(found.quantities, member.index);
        }
    }
}

Ingredients ingredients_of(const Rule& rule, const RuleSet& set) {
    Ingredients found;
    for (const auto& application : rule.applications) {
        add_ingredients(application.when, found);
        add_ingredients(application.demands, found);
    }
    for (std::size_t i = 0; i < found.quantities.size(); ++i) {  // grows while it runs, and ends: no circles
        const QuantityDefinition& quantity = set.quantities[found.quantities[i]];
        add_ingredients(quantity.value, found);
        if (quantity.solved && needs_case(quantity.solved->question))
            add_network(set.networks[quantity.solved->network], quantity.solved->in_case, found);
        if (quantity.asked) add_solver(set.solvers[quantity.asked->solver], found);
    }
    return found;
}

}  // namespace packproof::rules
