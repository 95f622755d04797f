// Solvers of the rule set on one model: gathers the numbers that a method takes for an item, and keeps what
// it answered for the same numbers.
#pragma once

#include <map>
#include <optional>
#include <utility>
#include <vector>

#include "engine/language/evaluate.hpp"
#include "engine/rules/rule_set.hpp"

namespace packproof::facts {

/// What a solver was given for an item, so that a reader can redo it.
struct SolverGiven {
    solve::MethodInput input;
    std::vector<std::vector<model::ItemIndex>> rows;  ///< of each list: the item behind each row
    model::Basis basis;
};

class Solvers {
  public:
    /// Both must outlive it.
    Solvers(const model::Model& model, const rules::RuleSet& rules) : model_(model), rules_(rules) {}

    /// The answer for an item, in `context`, whose gaps and inputs it adds to.
    [[nodiscard]] model::Value answer(const rules::SolverAsked& asked, model::ItemIndex item,
                                      const language::Context& context);

    /// Nothing, with gaps in `context`, where a value is missing.
    [[nodiscard]] std::optional<SolverGiven> given(const rules::SolverDefinition& solver,
                                                   model::ItemIndex item,
                                                   const language::Context& context) const;

    /// The item whose solver answers: of a question about a row the only one of its kind, or the one that the
    /// joining field names (no_item if none does); else the item itself.
    [[nodiscard]] model::ItemIndex whole_of(const rules::SolverAsked& asked, model::ItemIndex row) const;

  private:
    struct Run {
        std::uint8_t group = 0;
        solve::MethodInput input;
        std::vector<solve::MethodAnswer> answers;
    };
    const std::vector<solve::MethodAnswer>& run(std::uint16_t solver, model::ItemIndex item,
                                                const solve::MethodInput& input, std::uint8_t group);

    const model::Model& model_;
    const rules::RuleSet& rules_;
    std::map<std::pair<std::uint16_t, model::ItemIndex>, std::vector<Run>> runs_;  ///< the last ones
};

}  // namespace packproof::facts
