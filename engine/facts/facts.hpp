// Derived quantities on one model, each computed once, and the questions that findings ask of a formula: its
// tight range, the inputs it rests on, what is missing. Not thread-safe; one object a description.
#pragma once

#include <functional>
#include <map>
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

/// A quantity that was derived on the way to another.
struct Derived {
    std::uint16_t quantity;
    model::ItemIndex item;
    model::Value value;
};

/// What stands behind a formula: each quantity once, what is needed first standing first, and the table
/// blocks whose rows were used.
struct Behind {
    std::vector<Derived> quantities;
    std::set<BlockUse> blocks;
};

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

    /// What a formula derives, through all quantities except into those that are solved or asked of a solver.
    [[nodiscard]] Behind behind(const Formula& formula);

    /// What a quantity that is solved or asked of a solver is worked out from: the quantities behind the
    /// resistances of its account, or behind the numbers of its solver (the same for all that ask it).
    [[nodiscard]] std::shared_ptr<const Behind> behind(std::uint16_t quantity, model::ItemIndex item);

    /// From what a solved quantity of an item was worked out.
    [[nodiscard]] Account account_of(std::uint16_t quantity, model::ItemIndex item);

    /// What the solver of a quantity that asks one is given for an item; nothing where something is missing.
    [[nodiscard]] const SolverGiven* given_to_solver(std::uint16_t quantity, model::ItemIndex item);

  private:
    struct Remembered {
        bool known = false;
        model::Value value;
        std::vector<language::Gap> gaps;
        std::vector<language::Input> inputs;  ///< that it rests on, through all quantities, each once
    };
    using Key = std::pair<std::uint16_t, model::ItemIndex>;  ///< a quantity of an item
    /// How a quantity was derived with nothing settled.
    struct Watched {
        model::Value value;
        std::vector<Key> direct;  ///< the quantities that its own formula asks for, in order, with repeats
        std::set<BlockUse> blocks;
    };
    /// When each input was met last: of field f of item i at [first[i] + f] the number of a list.
    struct Met {
        std::vector<std::size_t> first;
        std::vector<std::uint32_t> when;
        std::uint32_t list = 0;
    };
    const Remembered& remembered(std::uint16_t quantity, model::ItemIndex item);
    model::Value derive(std::uint16_t quantity, model::ItemIndex item, const language::Context& context,
                        std::span<const language::Input> replaced);
    model::Value compute(std::uint16_t quantity, model::ItemIndex item, const language::Context& context);
    model::Value solve(const rules::Solved& asked, model::ItemIndex item, const language::Context& context);
    model::Value over_whole_box(const language::Context& asking,
                                const std::function<model::Value(const language::Context&)>& work);
    Watched watch(const Formula& formula);
    const Watched& watched(const Key& key);
    Circuit& circuit(std::size_t network);
    void evaluate_parts(std::uint16_t quantity, model::ItemIndex item, const language::Context& with);
    model::Truth settle(const language::Expression& expression, language::NodeIndex comparison,
                        model::ItemIndex item, std::span<const model::ItemIndex> variables);

    const model::Model& model_;
    const rules::RuleSet& rules_;
    std::vector<std::size_t> first_;  ///< of each quantity: where its items begin in memory_
    std::vector<Remembered> memory_;
    Met met_;
    language::Context plain_;            ///< for what is remembered; made once
    std::vector<language::Input> read_;  ///< by the quantities that are being remembered, the innermost last
    /// Where every table block that a lookup uses is added; every quantity is then derived anew, so that it
    /// is seen. Null: nothing is collected.
    std::set<BlockUse>* blocks_ = nullptr;
    std::map<Key, Watched> watched_;
    /// By solver and the item that it is asked of.
    std::map<std::pair<std::uint16_t, model::ItemIndex>, std::shared_ptr<const Behind>> behind_solvers_;
    std::vector<std::unique_ptr<Circuit>> circuits_;  ///< of each network, made when first asked
    Solvers solvers_;
};

}  // namespace packproof::facts
