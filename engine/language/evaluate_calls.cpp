#include <cmath>

#include "engine/language/evaluator.hpp"

namespace packproof::language {

bool Evaluator::arithmetic(const Node& at, Number& into, Basis& basis) {
    Number a;
    Number b;
    const bool left = number(at.first, a, basis);
    const bool right = at.second == no_node || number(at.second, b, basis);
    if (!left || !right) return false;
    std::optional<Number> result;
    switch (at.operation) {
        case Operation::add:
            into = add(a, b);
            return true;
        case Operation::subtract:
            into = subtract(a, b);
            return true;
        case Operation::multiply:
            into = multiply(a, b);
            return true;
        case Operation::negate:
            into = negate(a);
            return true;
        case Operation::divide:
            result = divide(a, b);
            break;
        default:
            result = power(a, static_cast<int>(at.number));
            break;
    }
    if (!result) {
        note({{}, Gap::Reason::not_a_number, 0});
        return false;
    }
    into = std::move(*result);
    return true;
}

Value Evaluator::call(const Node& at) {
    const auto function = static_cast<Function>(at.index);
    const NodeIndex argument = tree_.arguments[at.list_begin];
    switch (function) {
        case Function::minimum:
        case Function::maximum:
        case Function::between:
            return extreme(at, function);
        case Function::lower:
        case Function::upper:
        case Function::middle:
            return of_range(at, function);
        case Function::point:
            return point(argument);
        case Function::first_of:
        case Function::last_of: {
            const Operand list(*this, argument);
            const auto* references = list.value().references();
            if (references == nullptr && list.value().none()) note_none();
            if (references == nullptr) return missing(list.basis);
            if (references->empty()) {
                note({{}, Gap::Reason::no_such_item, 0});
                return missing(list.basis);
            }
            Value value;
            value.content = function == Function::first_of ? references->front() : references->back();
            value.basis = list.basis;
            return value;
        }
        case Function::position: {
            const Owner item = owner_of(argument);
            if (item.none) note_none();
            if (item.item == model::no_item) return missing(item.basis);
            return {constant(context_.model->items[item.item].position), item.basis};
        }
        default:
            break;
    }
    const bool of_tolerance =
        function == Function::nominal || function == Function::least || function == Function::most;
    Basis basis;
    Number a;
    if (!(of_tolerance ? number_from(whole_value(argument), a, basis) : number(argument, a, basis)))
        return missing(basis);
    std::optional<Number> result;
    switch (function) {
        case Function::absolute:
            result = absolute(a);
            break;
        case Function::exponential:
            result = exponential(a);
            break;
        case Function::round_up:
            result = round_up(a);
            break;
        case Function::round_down:
            result = round_down(a);
            break;
        case Function::square_root:
            result = square_root(a);
            break;
        case Function::logarithm:
            result = logarithm(a);
            break;
        case Function::nominal:
            result = Number{Interval::point(a.nominal), a.nominal, {}};
            break;
        case Function::least:
            result = Number{Interval::point(a.range.low), a.range.low, {}};
            break;
        default:
            result = Number{Interval::point(a.range.high), a.range.high, {}};
            break;
    }
    if (result) return {std::move(*result), basis};
    note({{}, Gap::Reason::not_a_number, 0});
    return missing(basis);
}

/// What a value is before a box is cut up: its ends and its nominal value are constants of the description.
Value Evaluator::whole_value(NodeIndex index) {
    const Box* box = context_.box;
    if (box == nullptr || !box->slopes) return evaluate(index);
    const Box whole{box->inputs, box->whole.empty() ? box->values : box->whole, false, {}};
    Context context = context_;
    context.box = &whole;
    return Evaluator(tree_, item_, context, variables_).evaluate(index);
}

Value Evaluator::extreme(const Node& at, Function function) {
    Basis basis;
    Number best;
    bool complete = number(tree_.arguments[at.list_begin], best, basis);
    for (std::uint32_t i = at.list_begin + 1; i < at.list_end; ++i) {
        Number other;
        const bool found = number(tree_.arguments[i], other, basis);
        complete = complete && found;
        if (!complete) continue;
        best = function == Function::minimum   ? lesser(best, other)
               : function == Function::maximum ? greater(best, other)
                                               : between(best, other);
    }
    return complete ? Value{std::move(best), basis} : missing(basis);
}

Value Evaluator::of_range(const Node& at, Function function) {
    last_read_ = {};
    const Operand operand(*this, tree_.arguments[at.list_begin]);
    if (operand.value().none()) note_none();
    const model::Range* range = operand.value().range();
    if (range == nullptr) return missing(operand.basis);
    const auto number_of = [](Interval end) { return Number{end, end.low, {}}; };
    const Number low = number_of(range->lower);
    const Number high = number_of(range->upper);
    // An end that the range does not have is no number: nobody has stated it.
    const bool needs_low = function != Function::upper && !std::isfinite(low.range.low);
    const bool needs_high = function != Function::lower && !std::isfinite(high.range.high);
    if (needs_low || needs_high) {
        note({last_read_, needs_low ? Gap::Reason::no_lower_end : Gap::Reason::no_upper_end, 0});
        return missing(operand.basis);
    }
    if (function == Function::lower) return {low, operand.basis};
    if (function == Function::upper) return {high, operand.basis};
    return {multiply(constant(0.5), add(low, high)), operand.basis};
}

Value Evaluator::lookup(const Node& at) {
    std::vector<Value> keys;
    keys.reserve(at.list_end - at.list_begin);
    Basis basis;
    bool complete = true;
    for (std::uint32_t i = at.list_begin; i < at.list_end; ++i) {
        keys.push_back(evaluate(tree_.arguments[i]));
        basis = basis | keys.back().basis;
        if (keys.back().none()) note_none();
        complete = complete && !keys.back().missing() && !keys.back().none();
    }
    if (!complete || !context_.lookup) return missing(basis);
    Value value = context_.lookup(at.index, at.column, keys);
    if (value.missing()) note({{}, Gap::Reason::beyond_table, at.index});
    value.basis = value.basis | basis;
    return value;
}

Value Evaluator::next(const Node& at) {
    const bool upward = at.operation == Operation::next_up;
    Basis basis;
    Number x;
    if (!number(at.first, x, basis) || !context_.next) return missing(basis);
    const Value key{std::move(x), basis};
    Value value = context_.next(at.index, upward, key);
    if (value.missing()) note({{}, Gap::Reason::beyond_table, at.index});
    if (auto* number = std::get_if<Number>(&value.content)) number->slopes = step_slopes(key, true, false);
    value.basis = value.basis | basis;
    return value;
}

}  // namespace packproof::language
