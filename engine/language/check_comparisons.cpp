#include <fmt/core.h>

#include <algorithm>

#include "engine/language/checker.hpp"
#include "engine/language/pattern.hpp"
#include "engine/text/nearest_name.hpp"

namespace packproof::language {

Typed Checker::check_comparison(NodeIndex index) {
    const NodeIndex first = node(index).first;
    const NodeIndex second = node(index).second;
    Typed a = check(first);
    Typed b = check(second);
    if (!a || !b) return std::nullopt;
    const Operation operation = node(index).operation;
    const bool equality = operation == Operation::equal || operation == Operation::unequal;
    if (a->kind == Type::Kind::range || b->kind == Type::Kind::range)
        return mistake(index, "compares a permitted range",
                       "take lower(x), upper(x), or write 'x within range'");
    if (a->kind != b->kind || a->kind == Type::Kind::items)
        return mistake(index, fmt::format("compares {} with {}", describe(*a), describe(*b)));
    if (a->kind != Type::Kind::number) {
        if (!equality)
            return mistake(index, fmt::format("{} has no order", describe(*a)), "only == and != compare it");
        const bool items = a->kind == Type::Kind::item;
        if (items && join_kinds(a->kinds, b->kinds).size() == a->kinds.size() + b->kinds.size())
            return mistake(index, fmt::format("compares {} with {}", describe(*a), describe(*b)));
        check_choices(first, second);
        check_choices(second, first);
        return truth_type();
    }
    if (a->dimension == b->dimension) settle(first, *a, second, *b);
    if (a->dimension != b->dimension || a->absolute != b->absolute)
        return mistake(index, fmt::format("compares {} with {}", describe(*a), describe(*b)));
    check_possible(index);
    return truth_type();
}

Typed Checker::check_within(NodeIndex index) {
    const NodeIndex first = node(index).first;
    Typed a = want(first, Type::Kind::number, "what stands before 'within'");
    const Typed b = want(node(index).second, Type::Kind::range, "what stands after 'within'");
    if (!a || !b) return std::nullopt;
    if (a->dimension == b->dimension) adapt(first, *a, b->absolute);
    if (a->dimension != b->dimension || a->absolute != b->absolute)
        return mistake(index, fmt::format("compares {} with {}", describe(*a), describe(*b)));
    return truth_type();
}

Typed Checker::check_in_texts(NodeIndex index) {
    const NodeIndex first = node(index).first;
    const Typed a = want(first, Type::Kind::text, "what stands before 'in'");
    for (std::uint32_t i = node(index).list_begin; i < node(index).list_end; ++i) {
        check(tree_.arguments[i]);
        if (a) check_choices(first, tree_.arguments[i]);
    }
    return a ? Typed(truth_type()) : std::nullopt;
}

Typed Checker::check_in_items(NodeIndex index) {
    const Typed a = want(node(index).first, Type::Kind::item, "what stands before 'in'");
    const Typed b = want(node(index).second, Type::Kind::items, "what stands after 'in'");
    if (!a || !b) return std::nullopt;
    const auto possible = [&](model::KindIndex kind) {
        return std::find(b->kinds.begin(), b->kinds.end(), kind) != b->kinds.end();
    };
    if (std::none_of(a->kinds.begin(), a->kinds.end(), possible))
        return mistake(index, fmt::format("{} is never in {}", describe(*a), describe(*b)));
    return truth_type();
}

Typed Checker::check_matches(NodeIndex index) {
    const Typed a = want(node(index).first, Type::Kind::text, "what stands before 'matches'");
    const std::string why = pattern_error(tree_.patterns[node(index).index]);
    if (!why.empty()) {
        // The pattern is the last token, written with its quotes.
        const std::string_view whole = spelling(index);
        std::size_t quote = node(node(index).first).end - node(index).begin;
        quote = whole.find('\'', quote);
        mistakes_.push_back({node(index).begin + quote + 1,
                             node(index).end - 1u,
                             fmt::format("the regular expression is wrong: {}", why),
                             {}});
        return std::nullopt;
    }
    return a ? Typed(truth_type()) : std::nullopt;
}

Typed Checker::check_presence(NodeIndex index) {
    const NodeIndex path = node(index).first;
    const Operation question = node(index).operation;
    const Typed of_path = check(path);
    if (!of_path) return std::nullopt;
    const Node& at = node(path);
    const bool singles = question == Operation::is_mentioned || question == Operation::is_none;
    if (singles && is_single_item(at, *of_path)) return truth_type();
    if (at.operation != Operation::field && at.operation != Operation::quantity) {
        return mistake(path,
                       fmt::format("only a field{} can be {}", singles ? " or the item of a single kind" : "",
                                   presence_word(question)));
    }
    const bool derived = at.index != at.list_end - at.list_begin;
    const bool of_value = question == Operation::is_stated || question == Operation::is_none;
    if (derived && !of_value)
        return mistake(
            path, fmt::format("'{}' is derived: it cannot be {}", spelling(path), presence_word(question)),
            "ask it of the fields that it is derived from");
    return truth_type();
}

/// The item of a kind declared single, under its kind's name or at hand.
bool Checker::is_single_item(const Node& at, const Type& type) const {
    return at.operation == Operation::single_item ||
           (at.operation == Operation::this_item && names_.vocabulary->kinds[type.kinds.front()].single);
}

/// A text that a choice can never be is a slip of the pen.
void Checker::check_choices(NodeIndex field, NodeIndex literal) {
    const Node& owner = node(field);
    if (owner.operation != Operation::field || node(literal).operation != Operation::text) return;
    const std::string& written = tree_.texts[node(literal).index];
    std::vector<std::string_view> candidates;
    for (std::uint32_t i = owner.list_begin; i < owner.list_end; ++i) {
        const Member& member = tree_.members[i];
        const bool derived = i - owner.list_begin >= owner.index;
        if (derived) return;
        const model::Field& declared = names_.vocabulary->kinds[member.kind].fields[member.index];
        if (declared.form != model::Field::Form::choice) return;
        candidates.insert(candidates.end(), declared.choices.begin(), declared.choices.end());
    }
    if (std::find(candidates.begin(), candidates.end(), written) != candidates.end()) return;
    const std::string_view nearest = text::nearest_name(written, candidates);
    mistake(literal, fmt::format("'{}' is not one of the choices of {}", written, spelling(field)),
            nearest.empty() ? std::string{} : fmt::format("nearest is '{}'", nearest));
}

bool Checker::constant(NodeIndex index) const {
    const Node& at = node(index);
    switch (at.operation) {
        case Operation::number:
        case Operation::pi:
            return true;
        case Operation::negate:
        case Operation::power:
            return constant(at.first);
        case Operation::add:
        case Operation::subtract:
        case Operation::multiply:
        case Operation::divide:
            return constant(at.first) && constant(at.second);
        default:
            return false;
    }
}

void Checker::check_possible(NodeIndex index) {
    const Node& at = node(index);
    if (constant(at.first) && constant(at.second)) {
        mistake(index, "compares two constants: the answer never changes");
        return;
    }
    const Reach a = reach(tree_, at.first, *names_.vocabulary);
    const Reach b = reach(tree_, at.second, *names_.vocabulary);
    const auto never_less = [](const Reach& x, const Reach& y) { return x.range.low >= y.range.high; };
    const auto never_less_equal = [](const Reach& x, const Reach& y) {
        return x.range.low > y.range.high || (x.low_open && x.range.low >= y.range.high);
    };
    bool never = false;
    if (at.operation == Operation::less) never = never_less(a, b);
    if (at.operation == Operation::greater) never = never_less(b, a);
    if (at.operation == Operation::less_equal) never = never_less_equal(a, b);
    if (at.operation == Operation::greater_equal) never = never_less_equal(b, a);
    if (at.operation == Operation::equal) never = never_less_equal(a, b) || never_less_equal(b, a);
    if (!never) return;
    const bool left_literal = constant(at.first);
    mistake(index, "this comparison can never hold",
            fmt::format("'{}' cannot reach {}", spelling(left_literal ? at.second : at.first),
                        spelling(left_literal ? at.first : at.second)));
}

}  // namespace packproof::language
