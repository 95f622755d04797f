// How a verdict was reached, step by step, and what it rests on.
#pragma once

#include <map>
#include <set>
#include <utility>

#include "engine/inspect/judge.hpp"
#include "engine/inspect/label.hpp"

namespace packproof::inspect {

/// The derived quantities behind the deciding part of a demand, and the table blocks whose rows they took.
struct Derivation {
    struct Used {
        facts::Derived derived;
        bool detail = false;  ///< needed for a part of a solved network, or for the numbers of a solver
    };
    std::vector<Used> used;  ///< each once, what is needed first standing first
    std::set<facts::BlockUse> blocks;
};
[[nodiscard]] Derivation derivation_of(const language::Expression& demand, const Deciding& part,
                                       model::ItemIndex item, facts::Facts& facts);

/// How the quantities of one model are worked out, each put into words once for all findings.
using KnownSteps = std::map<std::pair<std::uint16_t, model::ItemIndex>, Step>;

/// Every derived quantity that the deciding part used, in the order in which they are worked out, then the
/// deciding part itself with its numbers.
[[nodiscard]] std::vector<Step> working_of(const language::Expression& demand, const Deciding& part,
                                           model::ItemIndex item, Verdict verdict,
                                           const Derivation& derivation, facts::Facts& facts,
                                           KnownSteps& known);

/// The sources of the derived quantities and of the table rows that the deciding part used.
[[nodiscard]] std::vector<model::Authority> authorities_of(const Derivation& derivation,
                                                           const rules::RuleSet& rules);

/// "rated_current of main-breaker = 200 A (stated, pack.toml:12)", each input once; `places`: those of them
/// that stand in a file are added.
[[nodiscard]] std::vector<std::string> rests_on(const std::vector<language::Input>& inputs,
                                                facts::Facts& facts, const text::Sources& sources,
                                                std::vector<Elsewhere>& places);

}  // namespace packproof::inspect
