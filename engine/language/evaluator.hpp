// Evaluation's inside, shared by evaluate*.cpp: one walk over a checked tree. Absences are noted as gaps;
// those of a side that did not decide the answer are taken back, so that the gaps left really matter.
#pragma once

#include <array>

#include "engine/language/arithmetic.hpp"
#include "engine/language/compare.hpp"
#include "engine/language/evaluate.hpp"

namespace packproof::language {

using model::Basis;
using model::ItemIndex;
using model::Value;

class Evaluator {
  public:
    Evaluator(const Expression& tree, ItemIndex item, const Context& context,
              std::span<const ItemIndex> variables);

    Value evaluate(NodeIndex index);

  private:
    /// A truth and what it rests on.
    struct Answer {
        Truth truth = Truth::unknown;
        Basis basis;
    };

    // values of items (evaluate_members.cpp)
    Value item_of(NodeIndex index);
    Value member(const Node& at);
    Value read_field(ItemIndex item, model::FieldIndex field);
    Value read_member(const Node& at, ItemIndex item);
    Value single_item(const Node& at);
    Value presence(const Node& at);
    Value point(NodeIndex path);
    bool hangs_on_none(NodeIndex path);
    const Value* boxed(const Input& input, std::size_t& place) const;

    // arithmetic and calls (evaluate_calls.cpp)
    Value arithmetic(const Node& at);
    Value call(const Node& at);
    Value whole_value(NodeIndex index);
    Value extreme(const Node& at, Function function);
    Value of_range(const Node& at, Function function);
    Value lookup(const Node& at);
    Value next(const Node& at);

    // logic (evaluate.cpp)
    Value comparison(NodeIndex index);
    Value equality(const Node& at);
    Value within(NodeIndex index);
    Value in_texts(const Node& at);
    Value in_items(const Node& at);
    Value matches(const Node& at);
    Value joined(const Node& at);
    Value choose(const Node& at);
    Answer answer(NodeIndex index);
    Value truth(Truth truth, Basis basis) const;
    Truth settled(Truth open, NodeIndex index) const;

    // over items (evaluate_folds.cpp)
    Value fold(const Node& at);
    Value fold_truths(const Node& at, std::span<const model::Reference> members);
    Value fold_numbers(const Node& at, std::span<const model::Reference> members);
    Value fold_count(const Node& at, std::span<const model::Reference> members);
    Value find_the(const Node& at, std::span<const model::Reference> members);
    Answer chosen(const Node& at, const model::Reference& member);

    // shared
    bool number(NodeIndex index, Number& into, Basis& basis);
    bool number_from(Value value, Number& into, Basis& basis);
    /// Notes that a value stated to be none was needed.
    void note_none();
    void note(Gap gap) const {
        if (context_.gaps != nullptr) context_.gaps->push_back(gap);
    }
    [[nodiscard]] std::size_t mark() const { return context_.gaps == nullptr ? 0 : context_.gaps->size(); }
    void take_back(std::size_t from) const { take_back(from, mark()); }
    void take_back(std::size_t from, std::size_t to) const;
    [[nodiscard]] std::size_t inputs() const {
        return context_.box != nullptr && context_.box->slopes ? context_.box->inputs.size() : 0;
    }
    [[nodiscard]] const Node& node(NodeIndex index) const {
        return tree_.nodes[static_cast<std::size_t>(index)];
    }

    const Expression& tree_;
    const Context& context_;
    ItemIndex item_;
    Input last_none_;  ///< the field last read that is stated to be none
    std::array<ItemIndex, 4> variables_{};
};

[[nodiscard]] Value hull(const Value& a, const Value& b, std::size_t inputs);
[[nodiscard]] inline Value missing(Basis basis = {}) {
    return {model::Missing{}, basis};
}

}  // namespace packproof::language
