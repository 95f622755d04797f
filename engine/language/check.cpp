#include "engine/language/check.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>

#include "engine/language/checker.hpp"
#include "engine/language/token.hpp"

namespace packproof::language {

bool check(Expression& expression, model::KindIndex kind, const Names& names,
           std::vector<Mistake>& mistakes) {
    const std::size_t before = mistakes.size();
    expression.types.assign(expression.nodes.size(), Type{});
    if (expression.root != no_node) Checker(expression, kind, names, mistakes).check(expression.root);
    std::stable_sort(mistakes.begin() + static_cast<std::ptrdiff_t>(before), mistakes.end(),
                     [](const Mistake& a, const Mistake& b) { return a.begin < b.begin; });
    return expression.root != no_node && mistakes.size() == before;
}

std::vector<std::uint16_t> quantities_used(const Expression& expression) {
    std::vector<std::uint16_t> used;
    for (const Node& node : expression.nodes) {
        if (node.operation != Operation::field && node.operation != Operation::quantity) continue;
        for (std::uint32_t i = node.list_begin + node.index; i < node.list_end; ++i)
            used.push_back(expression.members[i].index);
    }
    std::sort(used.begin(), used.end());
    used.erase(std::unique(used.begin(), used.end()), used.end());
    return used;
}

Typed Checker::check(NodeIndex index) {
    Typed type;
    switch (node(index).operation) {
        case Operation::number: {
            const units::Unit& unit = tree_.literal_units[node(index).index];
            type = number_type(unit.dimension, absolute_by_default(unit));
            break;
        }
        case Operation::pi:
            type = number_type();
            break;
        case Operation::text:
            type = text_type();
            break;
        case Operation::truth:
            type = truth_type();
            break;
        case Operation::this_item: {
            Type item;
            item.kind = Type::Kind::item;
            item.kinds = {kind_};
            type = item;
            break;
        }
        case Operation::variable:
            type = variables_[node(index).index];
            break;
        case Operation::name:
            type = check_name(index);
            break;
        case Operation::member:
            type = check_member(index);
            break;
        case Operation::add:
        case Operation::subtract:
            type = check_sum(index);
            break;
        case Operation::multiply:
        case Operation::divide:
            type = check_product(index);
            break;
        case Operation::negate:
            type = check_negate(index);
            break;
        case Operation::power:
            type = check_power(index);
            break;
        case Operation::less:
        case Operation::less_equal:
        case Operation::greater:
        case Operation::greater_equal:
        case Operation::equal:
        case Operation::unequal:
            type = check_comparison(index);
            break;
        case Operation::within:
            type = check_within(index);
            break;
        case Operation::in_texts:
            type = check_in_texts(index);
            break;
        case Operation::in_items:
            type = check_in_items(index);
            break;
        case Operation::matches:
            type = check_matches(index);
            break;
        case Operation::is_stated:
        case Operation::is_none:
        case Operation::is_assumed:
        case Operation::is_known:
        case Operation::is_mentioned:
            type = check_presence(index);
            break;
        case Operation::logical_not:
        case Operation::logical_and:
        case Operation::logical_or:
            type = check_logic(index);
            break;
        case Operation::choose:
            type = check_choice(index);
            break;
        case Operation::call:
            type = check_call(index);
            break;
        case Operation::lookup:
            type = check_lookup(index);
            break;
        case Operation::next_up:
        case Operation::next_down:
            type = check_next(index);
            break;
        case Operation::fold:
            type = check_fold(index);
            break;
        // Made by the checker itself: a tree is checked once.
        case Operation::single_item:
        case Operation::field:
        case Operation::quantity:
            type = tree_.types[static_cast<std::size_t>(index)];
            break;
    }
    if (type) tree_.types[static_cast<std::size_t>(index)] = *type;
    return type;
}

std::nullopt_t Checker::mistake(NodeIndex index, std::string text, std::string hint) {
    mistakes_.push_back({node(index).begin, node(index).end, std::move(text), std::move(hint)});
    return std::nullopt;
}

std::string_view Checker::spelling(NodeIndex index) const {
    const Node& at = node(index);
    return std::string_view(tree_.text).substr(at.begin, at.end - at.begin);
}

std::string Checker::describe(const Type& type) const {
    return describe_type(type, *names_.vocabulary);
}

Typed Checker::want(NodeIndex index, Type::Kind kind, std::string_view role) {
    Typed type = check(index);
    if (!type || type->kind == kind) return type;
    static constexpr std::array<std::string_view, 6> nouns{
        "a number", "a permitted range", "a condition", "text", "an item", "a list of items"};
    const std::string_view wanted = nouns[static_cast<std::size_t>(kind)];
    return mistake(index, fmt::format("{} must be {}, not {}", role, wanted, describe(*type)));
}

bool Checker::adaptable(NodeIndex index) const {
    const Node& at = node(index);
    return at.operation == Operation::number && tree_.literal_units[at.index].temperature;
}

void Checker::adapt(NodeIndex literal, Type& type, bool absolute) {
    if (!adaptable(literal) || type.absolute == absolute) return;
    node(literal).number =
        literal_value(spelling(literal), tree_.literal_units[node(literal).index], absolute);
    type.absolute = absolute;
    tree_.types[static_cast<std::size_t>(literal)] = type;
}

void Checker::settle(NodeIndex first, Type& a, NodeIndex second, Type& b) {
    if (a.absolute == b.absolute) return;
    if (adaptable(first))
        adapt(first, a, b.absolute);
    else
        adapt(second, b, a.absolute);
}

}  // namespace packproof::language
