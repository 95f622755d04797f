// Papers that contradict each other or what was measured: what a finding on a claim or a measurement says.
#pragma once

#include "engine/inspect/finding.hpp"

namespace packproof::inspect {

/// If the finding is on a claim or a measurement that something else contradicts: `has` becomes what each
/// paper and each measurement says, the one that counts first, where each stands is added to `elsewhere`, and
/// true is returned.
bool tell_contradiction(Finding& finding, const model::Model& model);

}  // namespace packproof::inspect
