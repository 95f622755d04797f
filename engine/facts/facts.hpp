// Derived quantities on one model, each computed once, and the questions that findings ask of a formula: its
// tight range, the inputs it rests on, what is missing. Not thread-safe; one object a description.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <set>
#include <span>
#include <utility>
#include <vector>

#include "engine/facts/circuit.hpp"
#include "engine/facts/solvers.hpp"
#include "engine/language/evaluate.hpp"
#include "engine/language/refine.hpp"
#include "engine/rules/rule_set.hpp"

namespace packproof::facts {

/// A formula on this model: evaluates in the context it is given.
using Formula = std::function<model::Value(const language::Context&)>;

/// A table's block whose rows were used: (table, block).
using BlockUse = std::pair<std::uint32_t, std::uint16_t>;

/// Tight range of a number and how it depends on its inputs.
struct Study {
    language::Refined refined;
    std::vector<language::Input> inputs;  ///< those in doubt, in the order of refined.slopes
    std::vector<double> widths;           ///< of those inputs, SI; infinite if one-sided, 1 for a text
};

class Facts {
  public:
    /// All must outlive it. `memory`: answers of solvers kept from earlier inspections; may be null.
    Facts(const model::Model& model, const rules::RuleSet& rules, SolverMemory* memory = nullptr);
    Facts(const Facts&) = delete;
    Facts& operator=(const Facts&) = delete;

    [[nodiscard]] const model::Model& model() const { return model_; }
    [[nodiscard]] const rules::RuleSet& rules() const { return rules_; }

    /// A context for evaluating expressions on this model; open comparisons are settled with tight ranges.
    /// With a box, its inputs are replaced and nothing is remembered beyond this context.
    [[nodiscard]] language::Context context(const language::Box* box = nullptr);

    /// The inputs that a formula rests on, through all quantities, each once, in order.
    [[nodiscard]] std::vector<language::Input> inputs_of(const Formula& formula);

    /// Inputs of this model in the order of their first mention; what is given is left in disorder.
    [[nodiscard]] std::vector<language::Input> each_once(std::span<language::Input> inputs);

    /// The tight range of a formula that gives a number. `pinned` inputs are taken at their nominal value.
    [[nodiscard]] Study study(const Formula& formula, const std::vector<language::Input>& pinned = {});

    /// From now on adds every table block that a lookup uses to `into`, and derives every quantity anew, so
    /// that it is seen; null: stops.
    void collect_blocks(std::set<BlockUse>* into) { blocks_ = into; }

    /// From what a solved quantity of an item was worked out.
    [[nodiscard]] Account account_of(std::uint16_t quantity, model::ItemIndex item);

    /// What the solver of a quantity that asks one is given for an item; nothing where something is missing.
    [[nodiscard]] std::optional<SolverGiven> given_to_solver(std::uint16_t quantity, model::ItemIndex item);

    /// Evaluates, in `with`, what a solved quantity of an item is worked out from: so that the quantities
    /// behind the resistances of its account, or behind the numbers of its solver, are seen.
    void derive_parts(std::uint16_t quantity, model::ItemIndex item, const language::Context& with);

  private:
    struct Remembered {
        bool known = false;
        model::Value value;
        std::vector<language::Gap> gaps;
        std::vector<language::Input> inputs;  ///< that it rests on, through all quantities, each once
    };
    /// When each input was met last: of field f of item i at [first[i] + f] the number of a list.
    struct Met {
        std::vector<std::size_t> first;
        std::vector<std::uint32_t> when;
        std::uint32_t list = 0;
    };
    const Remembered& remembered(std::uint16_t quantity, model::ItemIndex item);
    model::Value derive(std::uint16_t quantity, model::ItemIndex item, const language::Context& context);
    model::Value compute(std::uint16_t quantity, model::ItemIndex item, const language::Context& context);
    model::Value solve(const rules::Solved& asked, model::ItemIndex item, const language::Context& context);
    model::Value over_whole_box(const language::Context& asking,
                                const std::function<model::Value(const language::Context&)>& work);
    Circuit& circuit(std::size_t network);
    model::Truth settle(const language::Expression& expression, language::NodeIndex comparison,
                        model::ItemIndex item, std::span<const model::ItemIndex> variables);

    const model::Model& model_;
    const rules::RuleSet& rules_;
    std::vector<std::size_t> first_;  ///< of each quantity: where its items begin in memory_
    std::vector<Remembered> memory_;
    Met met_;
    language::Context plain_;            ///< for what is remembered; made once
    std::vector<language::Input> read_;  ///< by the quantities that are being remembered, the innermost last
    std::set<BlockUse>* blocks_ = nullptr;
    std::vector<std::unique_ptr<Circuit>> circuits_;  ///< of each network, made when first asked
    Solvers solvers_;
};

}  // namespace packproof::facts
