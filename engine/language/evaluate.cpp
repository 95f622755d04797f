#include "engine/language/evaluate.hpp"

#include <algorithm>
#include <numbers>

#include "engine/language/evaluator.hpp"
#include "engine/language/pattern.hpp"

namespace packproof::language {

Value evaluate(const Expression& expression, ItemIndex item, const Context& context) {
    return Evaluator(expression, item, context, {}).evaluate(expression.root);
}

Value evaluate_node(const Expression& expression, NodeIndex node, ItemIndex item,
                    std::span<const ItemIndex> variables, const Context& context) {
    return Evaluator(expression, item, context, variables).evaluate(node);
}

Truth truth_of(const Value& value) {
    const Truth* truth = value.truth();
    return truth == nullptr ? Truth::unknown : *truth;
}

Value difference(const Value& a, const Value& b) {
    const Number* left = a.number();
    const Number* right = b.number();
    if (left == nullptr || right == nullptr) return missing(a.basis | b.basis);
    return {subtract(*left, *right), a.basis | b.basis};
}

Evaluator::Evaluator(const Expression& tree, ItemIndex item, const Context& context,
                     std::span<const ItemIndex> variables)
    : tree_(tree), context_(context), item_(item) {
    std::copy_n(variables.begin(), std::min(variables.size(), variables_.size()), variables_.begin());
}

Value Evaluator::evaluate(NodeIndex index) {
    const Node& at = node(index);
    switch (at.operation) {
        case Operation::number:
        case Operation::pi:
        case Operation::add:
        case Operation::subtract:
        case Operation::multiply:
        case Operation::divide:
        case Operation::negate:
        case Operation::power: {
            Basis basis;
            Number result;
            return number(index, result, basis) ? Value{std::move(result), basis} : missing(basis);
        }
        case Operation::text:
            return {model::Text{tree_.texts[at.index], {}}, {}};
        case Operation::this_item:
            return {model::Reference{item_, {}}, {}};
        case Operation::variable:
            return {model::Reference{variables_[at.index], {}}, {}};
        case Operation::single_item:
            return single_item(at);
        case Operation::field:
        case Operation::quantity:
            return member(at);
        case Operation::truth:
        case Operation::less:
        case Operation::less_equal:
        case Operation::greater:
        case Operation::greater_equal:
        case Operation::equal:
        case Operation::unequal:
        case Operation::within:
        case Operation::in_texts:
        case Operation::in_items:
        case Operation::matches:
        case Operation::is_stated:
        case Operation::is_none:
        case Operation::is_assumed:
        case Operation::is_known:
        case Operation::is_mentioned:
        case Operation::logical_not:
        case Operation::logical_and:
        case Operation::logical_or: {
            const Answer found = answer(index);
            return truth_value(found.truth, found.basis);
        }
        case Operation::choose:
            return choose(at);
        case Operation::call:
            return call(at);
        case Operation::lookup:
            return lookup(at);
        case Operation::next_up:
        case Operation::next_down:
            return next(at);
        case Operation::fold:
            return fold(at);
        case Operation::name:
        case Operation::member:
            break;  // no checked tree has them
    }
    return missing();
}

/// The truth of a node, without the way through a value where the operation decides.
Evaluator::Answer Evaluator::answer(NodeIndex index) {
    const Node& at = node(index);
    switch (at.operation) {
        case Operation::truth:
            return {known(at.number != 0.0), {}};
        case Operation::less:
        case Operation::less_equal:
        case Operation::greater:
        case Operation::greater_equal:
        case Operation::equal:
        case Operation::unequal:
            return comparison(index);
        case Operation::within:
            return within(index);
        case Operation::in_texts:
            return in_texts(at);
        case Operation::in_items:
            return in_items(at);
        case Operation::matches:
            return matches(at);
        case Operation::is_stated:
        case Operation::is_none:
            return presence(at);
        case Operation::is_assumed:
        case Operation::is_known:
            return known_or_assumed(at);
        case Operation::is_mentioned:
            return mentioned(node(at.first));
        case Operation::logical_not: {
            const Answer a = answer(at.first);
            return {opposite(a.truth), a.basis};
        }
        case Operation::logical_and:
        case Operation::logical_or:
            return joined(at);
        default:
            break;
    }
    const Operand operand(*this, index);
    if (operand.value().none()) note_none();
    return {truth_of(operand.value()), operand.basis};
}

/// The number of a node, without the way through a value where the operation calculates.
bool Evaluator::number(NodeIndex index, Number& into, Basis& basis) {
    const Node& at = node(index);
    switch (at.operation) {
        case Operation::number:
            into = constant(at.number);
            return true;
        case Operation::pi:
            into = {{std::numbers::pi, units::step_up(std::numbers::pi)}, std::numbers::pi, {}};
            return true;
        case Operation::add:
        case Operation::subtract:
        case Operation::multiply:
        case Operation::divide:
        case Operation::negate:
        case Operation::power:
            return arithmetic(at, into, basis);
        case Operation::choose:
            return choose_number(at, into, basis);
        default:
            break;
    }
    Basis of_stored;
    const Value* const found = stored(index, of_stored);
    if (found == nullptr) return number_from(evaluate(index), into, basis);
    basis = basis | of_stored;
    if (found->none()) note_none();
    if (found->number() == nullptr) return false;
    into = *found->number();
    return true;
}

void Evaluator::take_back(std::size_t from, std::size_t to) const {
    if (context_.gaps == nullptr || from >= to) return;
    const auto begin = context_.gaps->begin();
    context_.gaps->erase(begin + static_cast<std::ptrdiff_t>(from), begin + static_cast<std::ptrdiff_t>(to));
}

void Evaluator::note_none() {
    note({last_none_, Gap::Reason::known_none, 0});
}

bool Evaluator::number_from(Value&& value, Number& into, Basis& basis) {
    basis = basis | value.basis;
    if (auto* found = std::get_if<Number>(&value.content)) {
        into = std::move(*found);
        return true;
    }
    if (value.none()) note_none();
    return false;
}

Truth Evaluator::settled(Truth found, NodeIndex index) const {
    if (found != Truth::open || context_.box != nullptr || !context_.settle) return found;
    const Truth truth = context_.settle(tree_, index, item_, std::span(variables_).first(tree_.variables));
    return truth == Truth::unknown ? Truth::open : truth;
}

/// A side that has no value may have one for each choice that is tried: taken all at once, one choice's
/// tables are asked for what only another has.
Truth Evaluator::settled_by_choice(NodeIndex index, std::size_t gaps_before) const {
    if (context_.box != nullptr || !context_.settle) return Truth::unknown;
    const auto beyond = [](const Gap& gap) { return gap.reason == Gap::Reason::beyond_table; };
    if (context_.gaps != nullptr &&
        std::none_of(context_.gaps->begin() + static_cast<std::ptrdiff_t>(gaps_before), context_.gaps->end(),
                     beyond))
        return Truth::unknown;
    const Truth truth = context_.settle(tree_, index, item_, std::span(variables_).first(tree_.variables));
    if (truth != Truth::unknown && context_.gaps != nullptr) take_back(gaps_before, context_.gaps->size());
    return truth;
}

Evaluator::Answer Evaluator::comparison(NodeIndex index) {
    const Node& at = node(index);
    if (tree_.types[static_cast<std::size_t>(at.first)].kind != model::Type::Kind::number)
        return equality(at);
    Basis basis;
    Number a;
    Number b;
    const std::size_t gaps = context_.gaps != nullptr ? context_.gaps->size() : 0;
    const bool left = number(at.first, a, basis);
    const bool right = number(at.second, b, basis);
    if (!left || !right) return {settled_by_choice(index, gaps), basis};
    return {settled(compare(at.operation, a.range, b.range), index), basis};
}

/// Of texts, items and truths. An item stated to be none is no item: it equals nothing.
Evaluator::Answer Evaluator::equality(const Node& at) {
    const Operand left(*this, at.first);
    const Operand right(*this, at.second);
    const Value& a = left.value();
    const Value& b = right.value();
    const bool items = tree_.types[static_cast<std::size_t>(at.first)].kind == model::Type::Kind::item;
    Truth same = Truth::unknown;
    if (items && (a.none() || b.none()) && !a.missing() && !b.missing())
        same = known(a.none() && b.none());
    else if (a.none() || b.none())
        note_none();
    else if (a.text() && b.text())
        same = equal(*a.text(), *b.text());
    else if (a.reference() && b.reference())
        same = known(a.reference()->item == b.reference()->item);
    else if (a.truth() && b.truth())
        same = *a.truth() == Truth::open || *b.truth() == Truth::open ? Truth::open
                                                                      : known(*a.truth() == *b.truth());
    return {at.operation == Operation::equal ? same : opposite(same), left.basis | right.basis};
}

Evaluator::Answer Evaluator::within(NodeIndex index) {
    const Node& at = node(index);
    Basis basis;
    Number x;
    const std::size_t gaps = context_.gaps != nullptr ? context_.gaps->size() : 0;
    const bool left = number(at.first, x, basis);
    const Operand operand(*this, at.second);
    const Value& range = operand.value();
    basis = basis | operand.basis;
    if (range.none()) note_none();
    if (!left || range.range() == nullptr) return {settled_by_choice(index, gaps), basis};
    return {settled(language::within(x.range, *range.range()), index), basis};
}

Evaluator::Answer Evaluator::in_texts(const Node& at) {
    const Operand operand(*this, at.first);
    const Value& value = operand.value();
    if (value.none()) note_none();
    if (value.text() == nullptr) return {Truth::unknown, operand.basis};
    const auto listed = [&](std::string_view one) {
        return std::any_of(tree_.arguments.begin() + at.list_begin, tree_.arguments.begin() + at.list_end,
                           [&](NodeIndex literal) { return tree_.texts[node(literal).index] == one; });
    };
    return {for_alternatives(*value.text(), listed), operand.basis};
}

Evaluator::Answer Evaluator::in_items(const Node& at) {
    const Operand left(*this, at.first);
    const Operand right(*this, at.second);
    const Value& one = left.value();
    const Value& list = right.value();
    const Basis basis = left.basis | right.basis;
    if (one.missing() || list.missing()) return {Truth::unknown, basis};
    if (one.none() || list.none()) return {Truth::no, basis};
    const auto& members = *list.references();
    const ItemIndex item = one.reference()->item;
    return {known(std::any_of(members.begin(), members.end(), [&](const auto& r) { return r.item == item; })),
            basis};
}

Evaluator::Answer Evaluator::matches(const Node& at) {
    const Operand operand(*this, at.first);
    const Value& value = operand.value();
    if (value.none()) note_none();
    if (value.text() == nullptr) return {Truth::unknown, operand.basis};
    const std::string& pattern = tree_.patterns[at.index];
    return {
        for_alternatives(*value.text(), [&](std::string_view one) { return pattern_matches(pattern, one); }),
        operand.basis};
}

/// and, or: a side decides alone (no for and, yes for or); what the other side lacks does not matter then.
Evaluator::Answer Evaluator::joined(const Node& at) {
    const bool conjunction = at.operation == Operation::logical_and;
    const Truth decided = conjunction ? Truth::no : Truth::yes;
    const std::size_t before_first = mark();
    const Answer a = answer(at.first);
    if (a.truth == decided) return a;
    const std::size_t before_second = mark();
    const Answer b = answer(at.second);
    const Truth result = conjunction ? both(a.truth, b.truth) : either(a.truth, b.truth);
    Basis basis;
    if (b.truth == result)
        basis = b.basis;
    else
        take_back(before_second);
    if (a.truth == result)
        basis = basis | a.basis;
    else
        take_back(before_first, before_second);
    return {result, basis};
}

/// What a decided condition lacks does not matter.
Evaluator::Answer Evaluator::condition_of(const Node& at) {
    const std::size_t before = mark();
    const Answer condition = answer(at.first);
    if (condition.truth != Truth::unknown) take_back(before);
    return condition;
}

Value Evaluator::choose(const Node& at) {
    const Answer condition = condition_of(at);
    if (condition.truth == Truth::unknown) return missing(condition.basis);
    Value value = condition.truth == Truth::open
                      ? one_or_other(at)
                      : evaluate(condition.truth == Truth::yes ? at.second : at.third);
    value.basis = value.basis | condition.basis;
    return value;
}

bool Evaluator::choose_number(const Node& at, Number& into, Basis& basis) {
    const Answer condition = condition_of(at);
    basis = basis | condition.basis;
    if (condition.truth == Truth::unknown) return false;
    if (condition.truth == Truth::open) return number_from(one_or_other(at), into, basis);
    return number(condition.truth == Truth::yes ? at.second : at.third, into, basis);
}

Value Evaluator::one_or_other(const Node& at) {
    const Value yes = evaluate(at.second);
    const Value no = evaluate(at.third);
    if (yes.none() != no.none()) note_none();
    return hull(yes, no, inputs());
}

}  // namespace packproof::language
