// A network of the rule set on one model: its branches are items, and quantities ask it for what no
// expression can say. The shape is found once; the values of a case once for each set of inputs that differ
// from the model's.
#pragma once

#include <map>
#include <optional>
#include <string_view>
#include <utility>
#include <vector>

#include "engine/facts/circuit_values.hpp"
#include "engine/language/evaluate.hpp"
#include "engine/rules/rule_set.hpp"
#include "engine/solve/currents.hpp"

namespace packproof::facts {

/// What a solved value was worked out from, for a reader who wants to redo it.
struct Account {
    struct Part {
        model::ItemIndex item = model::no_item;
        double resistance = 0.0;  ///< Ω, nominal
        double voltage = 0.0;     ///< V, nominal, of a source
        double drawn = 0.0;       ///< A, nominal, of a sink
        double length = 0.0;      ///< m, nominal
    };
    bool one_way = false;  ///< voltages over resistances of one closed way; else parts of a network
    std::vector<Part> parts;
};

/// A branch as the solver is given it, so that another program can solve the same network. A value that is
/// not stated, or that its role does not have, is absent.
struct CircuitBranch {
    model::ItemIndex item = model::no_item;
    solve::Branch ends;
    std::optional<double> resistance;  ///< Ω, nominal
    std::optional<double> voltage;     ///< V, nominal
    std::optional<double> drawn;       ///< A, nominal
};

class Circuit {
  public:
    /// All must outlive it. `context` is one for reading the model's own values.
    Circuit(const rules::NetworkDefinition& definition, const model::Model& model,
            const language::Context& context);

    /// The value of a solved quantity of an item, in `context`, whose gaps and inputs it adds to. A value in
    /// a box is that of the whole box: parts of one kind vary by themselves, so that cutting an input says
    /// nothing of each.
    [[nodiscard]] model::Value solve(const rules::Solved& asked, model::ItemIndex item,
                                     const language::Context& context, Account* account = nullptr);

    /// In the order in which the solver has them.
    [[nodiscard]] std::vector<CircuitBranch> branches(std::size_t in_case, const language::Context& context);
    /// The pairs of nodes that a fault joins for greatest_fault or least_fault of an item.
    [[nodiscard]] std::vector<std::pair<solve::Node, solve::Node>> faults(rules::Question question,
                                                                          model::ItemIndex item) const;

  private:
    static constexpr solve::BranchIndex no_branch = static_cast<solve::BranchIndex>(-1);
    struct BranchValues {
        Quality resistance;
        Quality voltage;
        Quality drawn;
    };
    using CaseValues = std::vector<BranchValues>;
    /// One question to the solver: which branch, and which two nodes a fault joins.
    struct Trial {
        solve::BranchIndex branch = 0;
        std::optional<std::pair<solve::Node, solve::Node>> joined;
        std::vector<bool> matters;  ///< branches that bear on it
    };

    void find_wholes();
    std::optional<solve::Node> node_of(const rules::NetworkBranch& how, const rules::BranchEnd& end,
                                       model::ItemIndex item);
    [[nodiscard]] model::ItemIndex owner_of_ends(const rules::NetworkBranch& how,
                                                 model::ItemIndex item) const;
    solve::Node node_at(model::ItemIndex item, std::string_view point);
    [[nodiscard]] std::optional<solve::BranchIndex> branch_of(model::ItemIndex item) const;
    [[nodiscard]] CaseValues read_case(std::size_t in_case, const language::Context& context) const;
    const CaseValues& values_of(std::size_t in_case, const language::Context& context);

    [[nodiscard]] model::Value unplaced(model::ItemIndex item, const language::Context& context) const;
    model::Value from_shape(rules::Question question, model::ItemIndex item,
                            const language::Context& context);
    model::Value distance(solve::BranchIndex branch, const language::Context& context, Account* account);
    model::Value from_values(const rules::Solved& asked, solve::BranchIndex branch,
                             const language::Context& context, Account* account);
    [[nodiscard]] std::vector<Trial> trials(rules::Question question, solve::BranchIndex branch) const;
    [[nodiscard]] std::vector<Trial> greatest_faults(solve::BranchIndex branch) const;
    [[nodiscard]] std::vector<bool> bears_on_current(solve::BranchIndex branch) const;
    [[nodiscard]] std::vector<Trial> least_faults(solve::BranchIndex branch) const;
    model::Value answer(const Trial& trial, const CaseValues& values, bool resistance,
                        const language::Context& context, Account* account) const;

    const rules::NetworkDefinition& definition_;
    const model::Model& model_;
    solve::Network network_;
    solve::Shape shape_;
    std::vector<model::ItemIndex> items_;  ///< of each branch
    std::vector<solve::BranchIndex> branch_of_item_;
    std::vector<std::vector<solve::BranchIndex>> openers_;  ///< of each branch, once asked for
    std::vector<const rules::NetworkBranch*> how_;          ///< of each branch
    std::map<std::pair<model::ItemIndex, std::string_view>, solve::Node> nodes_;
    std::vector<std::pair<model::ItemIndex, language::Gap>>
        unplaced_;             ///< items with an end that is not known
    std::vector<bool> whole_;  ///< of each item: named as a whole, its points are one
    std::vector<std::optional<CaseValues>> remembered_;  ///< of each case
    struct InBox {
        std::size_t in_case = 0;
        std::vector<language::Input> inputs;
        std::vector<model::Value> whole;
        CaseValues values;
    };
    std::optional<InBox> in_box_;
};

}  // namespace packproof::facts
