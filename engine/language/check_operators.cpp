#include <fmt/core.h>

#include <algorithm>
#include <cstdlib>

#include "engine/language/checker.hpp"

namespace packproof::language {
namespace {

/// No quantity of the world goes near it; beyond, exponents of a dimension could overflow.
constexpr int most_exponent_of_dimension = 40;

bool in_bounds(const units::Dimension& dimension, int power = 1) {
    return std::all_of(dimension.exponent.begin(), dimension.exponent.end(),
                       [&](std::int8_t e) { return std::abs(e * power) <= most_exponent_of_dimension; });
}

}  // namespace

// Temperatures are points: point - point is a difference, point ± difference a point, point + point nothing.
// A literal in °C or K takes the reading that gives the sum a meaning.
Typed Checker::check_sum(NodeIndex index) {
    const bool adds = node(index).operation == Operation::add;
    const NodeIndex first = node(index).first;
    const NodeIndex second = node(index).second;
    Typed a = want(first, Type::Kind::number, adds ? "what is added" : "what is subtracted from");
    Typed b = want(second, Type::Kind::number, adds ? "what is added" : "what is subtracted");
    if (!a || !b) return std::nullopt;
    if (a->dimension != b->dimension)
        return mistake(index, adds ? fmt::format("adds {} to {}", describe(*b), describe(*a))
                                   : fmt::format("subtracts {} from {}", describe(*b), describe(*a)));
    if (adds && a->absolute && b->absolute) {
        if (adaptable(second))
            adapt(second, *b, false);
        else
            adapt(first, *a, false);
        if (a->absolute && b->absolute)
            return mistake(index, "adds a temperature to a temperature", "add a temperature difference (K)");
    }
    if (!adds && !a->absolute && b->absolute) {
        if (adaptable(first))
            adapt(first, *a, true);
        else
            adapt(second, *b, false);
        if (!a->absolute && b->absolute)
            return mistake(index, "subtracts a temperature from a temperature difference");
    }
    return number_type(a->dimension, adds ? a->absolute || b->absolute : a->absolute && !b->absolute);
}

Typed Checker::check_product(NodeIndex index) {
    const bool multiplies = node(index).operation == Operation::multiply;
    const NodeIndex first = node(index).first;
    const NodeIndex second = node(index).second;
    const Typed a = want(first, Type::Kind::number, multiplies ? "what is multiplied" : "what is divided");
    const Typed b = want(second, Type::Kind::number, multiplies ? "what is multiplied" : "the divisor");
    if (!a || !b) return std::nullopt;
    if (a->absolute || b->absolute)
        return mistake(a->absolute ? first : second,
                       fmt::format("a temperature cannot be {}", multiplies ? "multiplied" : "divided"),
                       "take a difference first: 't - 0 °C' or a literal in K");
    const units::Dimension made = multiplies ? a->dimension * b->dimension : a->dimension / b->dimension;
    if (!in_bounds(made)) return mistake(index, "no quantity has such a dimension");
    return number_type(made);
}

Typed Checker::check_negate(NodeIndex index) {
    const Typed a = want(node(index).first, Type::Kind::number, "what is negated");
    if (a && a->absolute) return mistake(index, "a temperature cannot be negated");
    return a;
}

Typed Checker::check_power(NodeIndex index) {
    const Typed a = want(node(index).first, Type::Kind::number, "the base of a power");
    if (!a) return a;
    if (a->absolute) return mistake(index, "a temperature cannot be raised to a power");
    const int exponent = static_cast<int>(node(index).number);
    if (!in_bounds(a->dimension, exponent)) return mistake(index, "no quantity has such a dimension");
    return number_type(a->dimension.power(exponent));
}

Typed Checker::check_logic(NodeIndex index) {
    const Operation operation = node(index).operation;
    const std::string_view word = operation == Operation::logical_not   ? "not"
                                  : operation == Operation::logical_and ? "and"
                                                                        : "or";
    const Typed a = want(node(index).first, Type::Kind::truth, fmt::format("what '{}' joins", word));
    const NodeIndex second = node(index).second;
    if (second != no_node && !want(second, Type::Kind::truth, fmt::format("what '{}' joins", word)))
        return std::nullopt;
    return a;
}

Typed Checker::check_choice(NodeIndex index) {
    const NodeIndex second = node(index).second;
    const NodeIndex third = node(index).third;
    const Typed condition = want(node(index).first, Type::Kind::truth, "what stands after 'if'");
    Typed a = check(second);
    Typed b = check(third);
    if (!condition || !a || !b) return std::nullopt;
    if (a->kind == b->kind && a->kind >= Type::Kind::item) {
        Type both = *a;
        both.kinds = join_kinds(a->kinds, b->kinds);
        return both;
    }
    if (a->kind == Type::Kind::number && b->kind == Type::Kind::number && a->dimension == b->dimension)
        settle(second, *a, third, *b);
    if (!(*a == *b))
        return mistake(index, fmt::format("one branch is {}, the other {}", describe(*a), describe(*b)));
    return a;
}

}  // namespace packproof::language
