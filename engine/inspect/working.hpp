// How a verdict was reached, step by step, and what it rests on.
#pragma once

#include "engine/inspect/judge.hpp"
#include "engine/inspect/label.hpp"

namespace packproof::inspect {

/// Every derived quantity that the deciding part used, in the order in which they are worked out, then the
/// deciding part itself with its numbers.
[[nodiscard]] std::vector<Step> working_of(const language::Expression& demand, const Deciding& part,
                                           model::ItemIndex item, Verdict verdict, facts::Facts& facts);

/// The sources of the derived quantities and of the table rows that the deciding part used.
[[nodiscard]] std::vector<model::Authority> authorities_of(const language::Expression& demand,
                                                           const Deciding& part, model::ItemIndex item,
                                                           facts::Facts& facts);

/// "rated_current of main-breaker = 200 A (stated, pack.toml:12)", each input once; `places`: those of them
/// that stand in a file are added.
[[nodiscard]] std::vector<std::string> rests_on(const std::vector<language::Input>& inputs,
                                                facts::Facts& facts, const text::Sources& sources,
                                                std::vector<Elsewhere>& places);

}  // namespace packproof::inspect
