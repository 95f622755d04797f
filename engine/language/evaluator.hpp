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
    /// An item, no_item where there is none, and what that rests on.
    struct Owner {
        ItemIndex item = model::no_item;
        bool none = false;  ///< stated to be none
        Basis basis;
    };
    /// The value of a node that is only looked at: a field's stays where it stands in the model.
    class Operand {
      public:
        Operand(Evaluator& evaluator, NodeIndex index)
            : stored_(evaluator.stored(index, basis)),
              made_(stored_ != nullptr ? Value{} : evaluator.evaluate(index)) {
            if (stored_ == nullptr) basis = made_.basis;
        }
        Operand(const Operand&) = delete;
        Operand& operator=(const Operand&) = delete;
        [[nodiscard]] const Value& value() const { return stored_ != nullptr ? *stored_ : made_; }

        Basis basis;  ///< the value's own says less

      private:
        const Value* stored_;
        Value made_;
    };
    /// What a fold goes over: all items of a kind, or a list.
    struct Members {
        std::span<const ItemIndex> items;
        std::span<const model::Reference> references;
        [[nodiscard]] std::size_t size() const { return items.size() + references.size(); }
        [[nodiscard]] model::Reference operator[](std::size_t i) const {
            return i < items.size() ? model::Reference{items[i], {}} : references[i - items.size()];
        }
    };

    // values of items (evaluate_members.cpp)
    Owner owner_of(NodeIndex index);
    Value member(const Node& at);
    const Value* stored(NodeIndex index, Basis& basis);
    const Value& stated(const Input& input, Basis& basis);
    Value read_field(ItemIndex item, model::FieldIndex field);
    const Member* member_of(const Node& at, ItemIndex item) const;
    Value read_member(const Node& at, ItemIndex item);
    Value single_item(const Node& at);
    Answer presence(const Node& at);
    Answer known_or_assumed(const Node& at);
    Answer mentioned(const Node& path);
    Value point(NodeIndex path);
    bool hangs_on_none(NodeIndex path);
    static bool is_single(const Node& at);
    [[nodiscard]] bool has_none(const Node& at) const;
    const Value* boxed(const Input& input, std::size_t& place) const;

    // arithmetic and calls (evaluate_calls.cpp)
    bool arithmetic(const Node& at, Number& into, Basis& basis);
    Value call(const Node& at);
    Value whole_value(NodeIndex index);
    Value extreme(const Node& at, Function function);
    Value of_range(const Node& at, Function function);
    Value lookup(const Node& at);
    Value next(const Node& at);

    // logic (evaluate.cpp)
    Answer answer(NodeIndex index);
    Answer comparison(NodeIndex index);
    Answer equality(const Node& at);
    Answer within(NodeIndex index);
    Answer in_texts(const Node& at);
    Answer in_items(const Node& at);
    Answer matches(const Node& at);
    Answer joined(const Node& at);
    Answer condition_of(const Node& at);
    Value choose(const Node& at);
    bool choose_number(const Node& at, Number& into, Basis& basis);
    Value one_or_other(const Node& at);
    Truth settled(Truth open, NodeIndex index) const;
    Truth settled_by_choice(NodeIndex index, std::size_t gaps_before) const;

    // over items (evaluate_folds.cpp)
    Value fold(const Node& at);
    Value fold_over(const Node& at, const Members& members);
    Answer fold_truths(const Node& at, const Members& members);
    Value fold_numbers(const Node& at, const Members& members);
    Value fold_count(const Node& at, const Members& members);
    Value find_the(const Node& at, const Members& members);
    Value gather_those(const Node& at, const Members& members);
    Answer chosen(const Node& at, const model::Reference& member);

    // shared
    bool number(NodeIndex index, Number& into, Basis& basis);
    bool number_from(Value&& value, Number& into, Basis& basis);
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
    Input last_read_;  ///< the field last read in this expression
    std::array<ItemIndex, 4> variables_{};
};

[[nodiscard]] Value hull(const Value& a, const Value& b, std::size_t inputs);
[[nodiscard]] inline Value missing(Basis basis = {}) {
    return {model::Missing{}, basis};
}
/// An unknown truth is a missing value, so that missing() means the same for every type.
[[nodiscard]] inline Value truth_value(Truth truth, Basis basis) {
    if (truth == Truth::unknown) return missing(basis);
    return {truth, basis};
}

}  // namespace packproof::language
