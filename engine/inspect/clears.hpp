// What would clear a finding: for each input that the rule says a builder may change, the nearest value at
// which the demand holds, all else as stated, found by trying and halving, never by inverting formulas.
#pragma once

#include "engine/inspect/judge.hpp"
#include "engine/inspect/label.hpp"

namespace packproof::inspect {

[[nodiscard]] std::vector<Remedy> clears(const rules::Application& application, model::ItemIndex item,
                                         facts::Facts& facts);

}  // namespace packproof::inspect
