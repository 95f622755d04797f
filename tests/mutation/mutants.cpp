#include "tests/mutation/mutants.hpp"

#include <fmt/core.h>

#include <cmath>
#include <cstdlib>
#include <set>
#include <utility>

namespace packproof::mutation {
namespace {

using language::Expression;
using language::Fold;
using language::Function;
using language::Node;
using language::NodeIndex;
using language::Operation;

class Mutator {
  public:
    explicit Mutator(const Expression& expression) : expression_(expression) {}

    std::vector<Mutant> all() {
        for (const Node& node : expression_.nodes)
            visit(node);
        swap_members();
        return std::move(mutants_);
    }

  private:
    const Node& at(NodeIndex index) const { return expression_.nodes[static_cast<std::size_t>(index)]; }
    std::string text_of(const Node& node) const {
        return expression_.text.substr(node.begin, node.end - node.begin);
    }

    void replace(std::size_t begin, std::size_t end, const std::string& with, Change change) {
        const std::string was = expression_.text.substr(begin, end - begin);
        if (was == with) return;
        mutants_.push_back({change, expression_.text.substr(0, begin) + with + expression_.text.substr(end),
                            fmt::format("`{}` became `{}`", was, with)});
    }

    /// Puts another sign where `sign` stands between two operands.
    void replace_sign(const Node& node, std::string_view sign, const std::string& with, Change change) {
        const std::size_t begin = at(node.first).end;
        const std::size_t where = expression_.text.find(sign, begin);
        if (where == std::string::npos || where >= at(node.second).begin) return;
        replace(where, where + sign.size(), with, change);
    }

    /// Puts another word at the beginning of a call.
    void replace_call(const Node& node, std::string_view word, const std::string& with, Change change) {
        if (expression_.text.compare(node.begin, word.size(), word) == 0)
            replace(node.begin, node.begin + word.size(), with, change);
    }

    void keep_one_side(const Node& node, Change change) {
        replace(node.begin, node.end, '(' + text_of(at(node.first)) + ')', change);
        replace(node.begin, node.end, '(' + text_of(at(node.second)) + ')', change);
    }

    void constant(const Node& node) {
        if (node.number == 0.0) return;
        const std::string text = text_of(node);
        std::size_t used = 0;
        while (used < text.size() && (text[used] == '.' || (text[used] >= '0' && text[used] <= '9')))
            ++used;
        const double value = std::strtod(text.substr(0, used).c_str(), nullptr);
        if (used == text.size() && value < 10.0 && value == std::floor(value)) {
            // A small whole number counts things: a tenth more of it means nothing.
            for (const double step : {1.0, -1.0})
                replace(node.begin, node.end, fmt::format("{:g}", value + step), Change::constant);
            return;
        }
        for (const auto& [factor, change] :
             {std::pair{1.1, Change::constant}, std::pair{0.9, Change::constant},
              std::pair{1.01, Change::constant_slightly}, std::pair{0.99, Change::constant_slightly}})
            replace(node.begin, node.begin + used, fmt::format("{:.10g}", value * factor), change);
    }

    /// `not x` becomes `x`, `x is not stated` becomes `x is stated`.
    void without_not(const Node& node) {
        const std::string text = text_of(node);
        if (text.starts_with("not")) {
            replace(node.begin, node.end, '(' + text_of(at(node.first)) + ')', Change::logic);
        } else if (const std::size_t where = text.rfind(" is not "); where != std::string::npos) {
            replace(node.begin + where, node.begin + where + 8, " is ", Change::logic);
        }
    }

    void call(const Node& node) {
        const auto function = static_cast<Function>(node.index);
        if (function == Function::minimum) replace_call(node, "min", "max", Change::end_of_range);
        if (function == Function::maximum) replace_call(node, "max", "min", Change::end_of_range);
        if (function == Function::lower) replace_call(node, "lower", "upper", Change::end_of_range);
        if (function == Function::upper) replace_call(node, "upper", "lower", Change::end_of_range);
        if (function == Function::least) replace_call(node, "least", "most", Change::end_of_range);
        if (function == Function::most) replace_call(node, "most", "least", Change::end_of_range);
        if (function == Function::round_up) replace_call(node, "round_up", "round_down", Change::boundary);
        if (function == Function::round_down) replace_call(node, "round_down", "round_up", Change::boundary);
    }

    void fold(const Node& node) {
        const auto kind = static_cast<Fold>(node.index);
        if (kind == Fold::minimum) replace_call(node, "min", "max", Change::end_of_range);
        if (kind == Fold::maximum) replace_call(node, "max", "min", Change::end_of_range);
        if (kind == Fold::all) replace_call(node, "all", "any", Change::logic);
        if (kind == Fold::any) replace_call(node, "any", "all", Change::logic);
    }

    void visit(const Node& node) {
        switch (node.operation) {
            case Operation::number:
                constant(node);
                break;
            case Operation::less:
                replace_sign(node, "<", "<=", Change::boundary);
                replace_sign(node, "<", ">", Change::comparison);
                break;
            case Operation::less_equal:
                replace_sign(node, "<=", "<", Change::boundary);
                replace_sign(node, "<=", ">=", Change::comparison);
                break;
            case Operation::greater:
                replace_sign(node, ">", ">=", Change::boundary);
                replace_sign(node, ">", "<", Change::comparison);
                break;
            case Operation::greater_equal:
                replace_sign(node, ">=", ">", Change::boundary);
                replace_sign(node, ">=", "<=", Change::comparison);
                break;
            case Operation::equal:
                replace_sign(node, "==", "!=", Change::comparison);
                break;
            case Operation::unequal:
                replace_sign(node, "!=", "==", Change::comparison);
                break;
            case Operation::logical_and:
                replace_sign(node, "and", "or", Change::logic);
                keep_one_side(node, Change::logic);
                break;
            case Operation::logical_or:
                replace_sign(node, "or", "and", Change::logic);
                keep_one_side(node, Change::logic);
                break;
            case Operation::logical_not:
                without_not(node);
                break;
            case Operation::add:
                replace_sign(node, "+", "-", Change::term);
                keep_one_side(node, Change::term);
                break;
            case Operation::subtract:
                replace_sign(node, "-", "+", Change::term);
                keep_one_side(node, Change::term);
                break;
            case Operation::multiply:
                replace_sign(node, "*", "/", Change::term);
                keep_one_side(node, Change::term);
                break;
            case Operation::divide:
                replace_sign(node, "/", "*", Change::term);
                keep_one_side(node, Change::term);
                break;
            case Operation::choose:
                replace(node.begin, node.end, '(' + text_of(at(node.second)) + ')', Change::logic);
                replace(node.begin, node.end, '(' + text_of(at(node.third)) + ')', Change::logic);
                break;
            case Operation::next_up:
                replace_call(node, "next_up", "next_down", Change::end_of_range);
                break;
            case Operation::next_down:
                replace_call(node, "next_down", "next_up", Change::end_of_range);
                break;
            case Operation::call:
                call(node);
                break;
            case Operation::fold:
                fold(node);
                break;
            default:
                break;
        }
    }

    /// Each two paths of one type in the expression, exchanged.
    void swap_members() {
        std::vector<const Node*> paths;
        for (std::size_t i = 0; i < expression_.nodes.size(); ++i) {
            const Operation operation = expression_.nodes[i].operation;
            if (operation == Operation::field || operation == Operation::quantity)
                paths.push_back(&expression_.nodes[i]);
        }
        std::set<std::string> seen;
        for (const Node* a : paths) {
            for (const Node* b : paths) {
                if (a->end > b->begin || text_of(*a) == text_of(*b)) continue;
                const auto type = [&](const Node* node) {
                    return expression_.types[static_cast<std::size_t>(node - expression_.nodes.data())];
                };
                if (!(type(a) == type(b))) continue;
                const std::string& text = expression_.text;
                const std::string swapped = text.substr(0, a->begin) + text_of(*b) +
                                            text.substr(a->end, b->begin - a->end) + text_of(*a) +
                                            text.substr(b->end);
                if (seen.insert(swapped).second)
                    mutants_.push_back(
                        {Change::swapped, swapped,
                         fmt::format("`{}` and `{}` changed places", text_of(*a), text_of(*b))});
            }
        }
    }

    const Expression& expression_;
    std::vector<Mutant> mutants_;
};

}  // namespace

std::string_view change_name(Change change) {
    switch (change) {
        case Change::comparison:
            return "comparison";
        case Change::constant:
            return "constant";
        case Change::logic:
            return "logic";
        case Change::term:
            return "term";
        case Change::end_of_range:
            return "end of range";
        case Change::swapped:
            return "swapped";
        case Change::boundary:
            return "boundary";
        case Change::constant_slightly:
            return "constant by 1 %";
    }
    return "";
}

std::vector<Mutant> mutants_of(const Expression& expression) {
    if (expression.empty()) return {};
    return Mutator(expression).all();
}

}  // namespace packproof::mutation
