// Derived quantities on one model, each computed once, and the questions that findings ask of an expression:
// its tight range, the inputs it rests on, the input whose tolerance decides, what is missing.
#pragma once

#include <optional>
#include <set>
#include <vector>

#include "engine/language/evaluate.hpp"
#include "engine/language/refine.hpp"
#include "engine/rules/rule_set.hpp"

namespace packproof::facts {

class Facts {
  public:
    Facts(const model::Model& model, const rules::RuleSet& rules);
    Facts(const Facts&) = delete;
    Facts& operator=(const Facts&) = delete;

    [[nodiscard]] const model::Model& model() const { return model_; }
    [[nodiscard]] const rules::RuleSet& rules() const { return rules_; }

    /// A derived quantity of an item in plain (enclosing) evaluation; remembered.
    [[nodiscard]] model::Value quantity(std::uint16_t quantity, model::ItemIndex item);

    /// A context for evaluating expressions on this model. `box` replaces inputs.
    [[nodiscard]] language::Context context(const language::Box* box = nullptr);

    /// The inputs that a node's value rests on, through all quantities, each once, in order.
    [[nodiscard]] std::vector<language::Input> inputs_of(const language::Expression& expression,
                                                         language::NodeIndex node, model::ItemIndex item,
                                                         std::span<const model::ItemIndex> variables);

    /// The tight range of a node that is a number, or of the difference of two.
    struct Study {
        language::Refined refined;
        std::vector<language::Input> inputs;  ///< those with width, in the order of refined.slopes
    };
    [[nodiscard]] Study study(const language::Expression& expression, language::NodeIndex left,
                              language::NodeIndex right, model::ItemIndex item,
                              std::span<const model::ItemIndex> variables);

    /// Tables' blocks used since the last call, as (table, block), ascending, each once.
    using BlockUse = std::pair<std::uint32_t, std::uint16_t>;
    void collect_blocks(std::set<BlockUse>* into) { blocks_ = into; }

  private:
    const model::Model& model_;
    const rules::RuleSet& rules_;
    std::vector<std::size_t> first_;  ///< of each quantity: where its items begin in memory_
    std::vector<std::optional<model::Value>> memory_;
    std::set<BlockUse>* blocks_ = nullptr;
};

}  // namespace packproof::facts
