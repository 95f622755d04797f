// Solvers of the rule set on one model: gathers the numbers that a method takes for an item, and keeps what
// it answered for the same numbers.
#pragma once

#include <list>
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

/// One run of a method, with what it was given.
struct SolverRun {
    std::uint8_t group = 0;
    solve::MethodInput input;
    std::vector<solve::MethodAnswer> answers;
};

/// Answers kept from one inspection to the next, of whatever model: a method answers the same to the same. At
/// most so many of each method; those not asked for longest go first. Not thread-safe.
class SolverMemory {
  public:
    [[nodiscard]] const std::vector<solve::MethodAnswer>& answer(std::uint16_t method,
                                                                 const solve::MethodInput& input,
                                                                 std::uint8_t group);

  private:
    std::map<std::uint16_t, std::list<SolverRun>> runs_;  ///< by method, the last asked last
};

/// The solvers on one model. A context without a box always gives the same numbers: they are gathered once.
class Solvers {
  public:
    /// All must outlive it; `memory` may be null.
    Solvers(const model::Model& model, const rules::RuleSet& rules, SolverMemory* memory)
        : model_(model), rules_(rules), memory_(memory) {}

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

    /// The same in a context without a box, gathered once; no gaps or inputs are added.
    [[nodiscard]] const std::optional<SolverGiven>& given_once(std::uint16_t solver, model::ItemIndex item,
                                                               const language::Context& context) {
        return gathered(solver, item, context).given;
    }

  private:
    /// What a solver takes for an item where nothing is replaced, and what it answered, by group.
    struct Gathered {
        std::optional<SolverGiven> given;
        std::vector<language::Gap> gaps;
        std::vector<language::Input> inputs;  ///< each once, in the order of their first mention
        std::map<std::uint8_t, std::vector<solve::MethodAnswer>> answers;
    };
    Gathered& gathered(std::uint16_t solver, model::ItemIndex item, const language::Context& context);
    const std::vector<solve::MethodAnswer>& run(std::uint16_t solver, model::ItemIndex item,
                                                const solve::MethodInput& input, std::uint8_t group);
    [[nodiscard]] std::vector<solve::MethodAnswer> work_out(std::uint16_t solver,
                                                            const solve::MethodInput& input,
                                                            std::uint8_t group);

    const model::Model& model_;
    const rules::RuleSet& rules_;
    SolverMemory* memory_;
    std::map<std::pair<std::uint16_t, model::ItemIndex>, std::vector<SolverRun>>
        runs_;  ///< the last ones in boxes
    std::map<std::pair<std::uint16_t, model::ItemIndex>, Gathered> gathered_;
};

}  // namespace packproof::facts
