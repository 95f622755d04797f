#include <algorithm>
#include <limits>

#include "engine/language/evaluator.hpp"

namespace packproof::language {
namespace {

using model::Reference;

std::vector<std::string_view> alternatives_of(const model::Text& text) {
    if (!text.alternatives.empty()) return text.alternatives;
    return {text.value};
}

model::Text hull_of_texts(const model::Text& a, const model::Text& b) {
    model::Text both{a.value, alternatives_of(a)};
    for (const std::string_view one : alternatives_of(b)) {
        bool known_one = false;
        for (const std::string_view other : both.alternatives)
            known_one = known_one || one == other;
        if (!known_one) both.alternatives.push_back(one);
    }
    if (both.alternatives.size() == 1) both.alternatives.clear();
    return both;
}

}  // namespace

/// One or the other, unknown which. Items that differ cannot be told: missing.
Value hull(const Value& a, const Value& b, std::size_t inputs) {
    const Basis basis = a.basis | b.basis;
    if (a.none() && b.none()) return {model::KnownNone{}, basis};
    if (a.number() && b.number()) return {hull(*a.number(), *b.number(), inputs), basis};
    if (a.truth() && b.truth()) return {*a.truth() == *b.truth() ? *a.truth() : Truth::open, basis};
    if (a.text() && b.text()) return {hull_of_texts(*a.text(), *b.text()), basis};
    if (a.range() && b.range())
        return {model::Range{units::hull(a.range()->lower, b.range()->lower),
                             units::hull(a.range()->upper, b.range()->upper)},
                basis};
    if (a.reference() && b.reference() && *a.reference() == *b.reference()) return {*a.reference(), basis};
    if (a.references() && b.references() && *a.references() == *b.references())
        return {*a.references(), basis};
    return missing(basis);
}

Value Evaluator::fold(const Node& at) {
    if (at.first == no_node) return fold_over(at, {context_.model->of_kind[at.kind], {}});
    const Operand list(*this, at.first);
    if (list.value().missing()) return missing(list.basis);
    // A list stated to be none has no members.
    const auto* references = list.value().references();
    Value value = fold_over(at, references == nullptr ? Members{} : Members{{}, *references});
    value.basis = value.basis | list.basis;
    return value;
}

Value Evaluator::fold_over(const Node& at, const Members& members) {
    switch (static_cast<Fold>(at.index)) {
        case Fold::count:
            return fold_count(at, members);
        case Fold::all:
        case Fold::any: {
            const Answer found = fold_truths(at, members);
            return truth_value(found.truth, found.basis);
        }
        case Fold::the:
            return find_the(at, members);
        case Fold::those:
            return gather_those(at, members);
        default:
            return fold_numbers(at, members);
    }
}

/// Binds the member and asks its condition. What a decided condition lacks does not matter.
Evaluator::Answer Evaluator::chosen(const Node& at, const Reference& member) {
    variables_[at.variable] = member.item;
    if (at.second == no_node) return {Truth::yes, {}};
    const std::size_t before = mark();
    const Answer condition = answer(at.second);
    if (condition.truth != Truth::unknown) take_back(before);
    return condition;
}

Value Evaluator::fold_count(const Node& at, const Members& members) {
    double sure = 0.0;
    double possible = 0.0;
    bool complete = true;
    Basis basis;
    for (std::size_t i = 0; i < members.size(); ++i) {
        const Reference member = members[i];
        const Answer condition = chosen(at, member);
        basis = basis | condition.basis;
        complete = complete && condition.truth != Truth::unknown;
        if (condition.truth == Truth::yes) ++sure;
        if (condition.truth == Truth::open) ++possible;
    }
    if (!complete) return missing(basis);
    Number count{{sure, sure + possible}, sure, {}};
    if (possible > 0.0) count.slopes = unbounded_slopes(inputs());
    return {std::move(count), basis};
}

/// all: every member either fails the condition or meets the demand. any: some member meets both.
Evaluator::Answer Evaluator::fold_truths(const Node& at, const Members& members) {
    const bool every = static_cast<Fold>(at.index) == Fold::all;
    const Truth decided = every ? Truth::no : Truth::yes;
    const std::size_t before = mark();
    Truth result = opposite(decided);
    Basis basis;
    for (std::size_t i = 0; i < members.size(); ++i) {
        const Reference member = members[i];
        const std::size_t before_member = mark();
        const Answer condition = chosen(at, member);
        if (condition.truth == Truth::no) {
            basis = basis | condition.basis;
            continue;
        }
        const Answer body = answer(at.third);
        const Truth one =
            every ? either(opposite(condition.truth), body.truth) : both(condition.truth, body.truth);
        const Basis rests_on = condition.basis | body.basis;
        if (one == decided) {
            take_back(before, before_member);
            return {one, rests_on};
        }
        if (one != Truth::unknown) take_back(before_member);
        basis = basis | rests_on;
        result = every ? both(result, one) : either(result, one);
    }
    return {result, basis};
}

Value Evaluator::fold_numbers(const Node& at, const Members& members) {
    const auto which = static_cast<Fold>(at.index);
    const auto take = [&](const Number& a, const Number& b) {
        return which == Fold::sum ? add(a, b) : which == Fold::minimum ? lesser(a, b) : greater(a, b);
    };
    Number total = constant(0.0);
    bool started = which == Fold::sum;
    bool complete = true;
    std::vector<Number> possible;
    Basis basis;
    for (std::size_t i = 0; i < members.size(); ++i) {
        const Reference member = members[i];
        const Answer condition = chosen(at, member);
        basis = basis | condition.basis;
        complete = complete && condition.truth != Truth::unknown;
        if (condition.truth == Truth::no) continue;
        Number one;
        const bool found = number(at.third, one, basis);
        complete = complete && found;
        if (!complete) continue;
        if (condition.truth == Truth::open) {
            possible.push_back(std::move(one));
            continue;
        }
        total = started ? take(total, one) : std::move(one);
        started = true;
    }
    if (!complete) return missing(basis);
    if (!started) {
        note({{}, Gap::Reason::no_such_item, 0});
        return missing(basis);
    }
    for (const Number& one : possible) {
        Number with = take(total, one);
        with = hull(total, with, inputs());
        with.nominal = total.nominal;
        total = std::move(with);
    }
    return {std::move(total), basis};
}

Value Evaluator::find_the(const Node& at, const Members& members) {
    std::optional<Reference> found;
    std::size_t matching = 0;
    bool complete = true;
    Basis basis;
    for (std::size_t i = 0; i < members.size(); ++i) {
        const Reference member = members[i];
        const Answer condition = chosen(at, member);
        basis = basis | condition.basis;
        complete = complete && condition.truth != Truth::unknown;
        if (condition.truth == Truth::no) continue;
        ++matching;
        if (condition.truth == Truth::yes) found = member;
    }
    if (!complete) return missing(basis);
    if (matching == 1 && found) return {*found, basis};
    note({{}, Gap::Reason::no_such_item, 0});
    return missing(basis);
}

/// Each once, in order. Where it is open whether a member belongs to them, nobody knows which they are.
Value Evaluator::gather_those(const Node& at, const Members& members) {
    std::vector<Reference> found;
    const auto add = [&](const Reference& one) {
        if (one.item != model::no_item && std::find(found.begin(), found.end(), one) == found.end())
            found.push_back(one);
    };
    bool complete = true;
    Basis basis;
    for (std::size_t i = 0; i < members.size(); ++i) {
        const Reference member = members[i];
        const Answer condition = chosen(at, member);
        basis = basis | condition.basis;
        if (condition.truth == Truth::no) continue;
        if (condition.truth != Truth::yes) {
            complete = false;
            continue;
        }
        if (at.third == no_node) {
            add(member);
            continue;
        }
        const Operand named(*this, at.third);
        basis = basis | named.basis;
        complete = complete && !named.value().missing();
        if (const Reference* one = named.value().reference()) add(*one);
        if (const auto* list = named.value().references())
            for (const Reference& one : *list)
                add(one);
    }
    if (!complete) return missing(basis);
    return {std::move(found), basis};
}

}  // namespace packproof::language
