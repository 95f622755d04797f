#include "engine/language/derivation.hpp"

#include <fmt/core.h>

#include <algorithm>

namespace packproof::language {
namespace {

using model::ItemIndex;
using model::Truth;
using model::Type;
using model::Value;

/// How tightly an operator binds; an operand that binds less tightly stands in brackets.
enum Binding : int {
    choice,
    disjunction,
    conjunction,
    negation,
    comparing,
    side,  // of a comparison
    summing,
    multiplying,
    signing,
    raising,
    whole
};

int binding_of(Operation operation) {
    switch (operation) {
        case Operation::choose:
            return choice;
        case Operation::logical_or:
            return disjunction;
        case Operation::logical_and:
            return conjunction;
        case Operation::logical_not:
            return negation;
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
            return comparing;
        case Operation::add:
        case Operation::subtract:
            return summing;
        case Operation::multiply:
        case Operation::divide:
            return multiplying;
        case Operation::negate:
            return signing;
        case Operation::power:
            return raising;
        default:
            return whole;
    }
}

std::string_view sign_of(Operation operation) {
    switch (operation) {
        case Operation::add:
            return "+";
        case Operation::subtract:
            return "-";
        case Operation::multiply:
            return "×";
        case Operation::divide:
            return "/";
        case Operation::less:
            return "<";
        case Operation::less_equal:
            return "<=";
        case Operation::greater:
            return ">";
        case Operation::greater_equal:
            return ">=";
        case Operation::equal:
            return "==";
        case Operation::unequal:
            return "!=";
        case Operation::within:
            return "within";
        case Operation::logical_and:
            return "and";
        case Operation::logical_or:
            return "or";
        default:
            return "in";
    }
}

/// "2.5 kN to 3.5 kN", "1 ± 0.1", "at most 2 V" and "-3 A" must not run into an operator beside them.
bool runs_on(std::string_view number) {
    if (number.empty() || (number.front() == '(' && number.find(')') == number.rfind(')'))) return false;
    return number.front() == '-' || number.starts_with("−") ||
           number.find(" to ") != std::string_view::npos || number.starts_with("at ") ||
           number.starts_with("any ") || number.find(" (") != std::string_view::npos ||
           number.find(" ± ") != std::string_view::npos;
}

class Writer {
  public:
    Writer(const Expression& tree, ItemIndex item, std::span<const ItemIndex> variables,
           const Context& context, const Printer& printer)
        : tree_(tree), item_(item), variables_(variables), context_(context), printer_(printer) {}

    /// A node as an operand of an operator that binds `outer`.
    std::string write(NodeIndex index, int outer) const {
        const Node& at = node(index);
        if (at.operation == Operation::choose) return branch(at, outer);
        std::string text = written(index, at);
        const int binding = binding_of(at.operation);
        const bool brackets =
            binding == whole ? outer > side && is_value(at) && runs_on(text) : binding < outer;
        return brackets ? fmt::format("({})", text) : text;
    }

  private:
    [[nodiscard]] const Node& node(NodeIndex index) const {
        return tree_.nodes[static_cast<std::size_t>(index)];
    }
    [[nodiscard]] std::string spelling(NodeIndex index) const {
        return tree_.text.substr(node(index).begin, node(index).end - node(index).begin);
    }
    [[nodiscard]] Value evaluate(NodeIndex index) const {
        return evaluate_node(tree_, index, item_, variables_, context_);
    }

    /// Nodes that stand for one value, which the working shows in their place.
    static bool is_value(const Node& at) {
        switch (at.operation) {
            case Operation::number:
            case Operation::field:
            case Operation::quantity:
            case Operation::lookup:
            case Operation::next_up:
            case Operation::next_down:
            case Operation::fold:
                return true;
            default:
                return false;
        }
    }

    [[nodiscard]] std::string written(NodeIndex index, const Node& at) const {
        switch (at.operation) {
            case Operation::number:
            case Operation::text:
            case Operation::truth:
                return spelling(index);
            case Operation::pi:
                return "π";
            case Operation::this_item:
            case Operation::variable:
            case Operation::single_item:
            case Operation::field:
            case Operation::quantity:
            case Operation::lookup:
            case Operation::next_up:
            case Operation::next_down:
            case Operation::fold:
                return value_of(index);
            case Operation::negate:
                return "-" + write(at.first, raising);
            case Operation::power:
                return fmt::format("{}^{}", base_of_power(at.first), at.number);
            case Operation::logical_not:
                return negated(at);
            case Operation::is_stated:
            case Operation::is_none:
            case Operation::is_assumed:
            case Operation::is_known:
            case Operation::is_mentioned:
                return fmt::format("{} is {}", spelling(at.first), presence_word(at.operation));
            case Operation::matches:
                return fmt::format("{} matches '{}'", write(at.first, side), tree_.patterns[at.index]);
            case Operation::in_texts:
                return fmt::format("{} in {}", write(at.first, side), listed(at, '[', ']'));
            case Operation::call: {
                const std::string text = spelling(index);
                return text.substr(0, text.find_first_of("( \t\r\n")) + listed(at, '(', ')');
            }
            default:
                return infix(at);
        }
    }

    /// "(16 mm)^2": "16 mm^2" would be an area.
    [[nodiscard]] std::string base_of_power(NodeIndex index) const {
        std::string base = write(index, whole);
        const bool has_unit = is_value(node(index)) && base.find(' ') != std::string::npos;
        return has_unit && base.front() != '(' ? "(" + base + ")" : base;
    }

    [[nodiscard]] std::string infix(const Node& at) const {
        const int binding = binding_of(at.operation);
        // a - (b - c) and a / (b × c) keep their brackets, comparisons do not chain.
        const bool strict_right = at.operation == Operation::subtract || at.operation == Operation::divide;
        const int left = binding == comparing ? side : binding;
        const int right = binding == comparing ? side : strict_right ? binding + 1 : binding;
        return fmt::format("{} {} {}", write(at.first, left), sign_of(at.operation), write(at.second, right));
    }

    [[nodiscard]] std::string negated(const Node& at) const {
        const Node& inner = node(at.first);
        const std::string_view word = presence_word(inner.operation);
        if (!word.empty()) return fmt::format("{} is not {}", spelling(inner.first), word);
        return "not " + write(at.first, negation);
    }

    [[nodiscard]] std::string listed(const Node& at, char open, char close) const {
        std::string list(1, open);
        for (std::uint32_t i = at.list_begin; i < at.list_end; ++i)
            list += (i > at.list_begin ? ", " : "") + write(tree_.arguments[i], choice);
        return list + close;
    }

    /// Only the branch that was taken; both where either can be.
    [[nodiscard]] std::string branch(const Node& at, int outer) const {
        const Truth condition = truth_of(evaluate(at.first));
        if (condition == Truth::yes) return write(at.second, outer);
        if (condition == Truth::no) return write(at.third, outer);
        std::string text = fmt::format("if {} then {} else {}", write(at.first, choice),
                                       write(at.second, choice), write(at.third, choice));
        return outer > choice ? fmt::format("({})", text) : text;
    }

    [[nodiscard]] std::string value_of(NodeIndex index) const {
        const Value value = evaluate(index);
        if (value.missing()) return "not stated";
        if (value.none()) return "none";
        if (const auto* reference = value.reference(); reference && printer_.item)
            return printer_.item(reference->item);
        return printer_.value(value, tree_.types[static_cast<std::size_t>(index)], unit_of(index));
    }

    /// The unit in which the member is written, if one item can be told.
    [[nodiscard]] units::Unit unit_of(NodeIndex index) const {
        const Node& at = node(index);
        const bool is_member = at.operation == Operation::field || at.operation == Operation::quantity;
        if (!is_member || !printer_.unit) return {};
        const Value owner = evaluate(at.first);
        const auto* reference = owner.reference();
        if (reference == nullptr) return {};
        for (std::uint32_t i = at.list_begin; i < at.list_end; ++i)
            if (tree_.members[i].kind == context_.model->items[reference->item].kind)
                return printer_.unit(tree_.members[i], i - at.list_begin < at.index, reference->item);
        return {};
    }

    const Expression& tree_;
    ItemIndex item_;
    std::span<const ItemIndex> variables_;
    const Context& context_;
    const Printer& printer_;
};

}  // namespace

std::string with_numbers(const Expression& expression, NodeIndex node, ItemIndex item,
                         std::span<const ItemIndex> variables, const Context& context,
                         const Printer& printer) {
    Context quiet = context;
    quiet.gaps = nullptr;
    quiet.inputs = nullptr;
    return Writer(expression, item, variables, quiet, printer).write(node, choice);
}

}  // namespace packproof::language
