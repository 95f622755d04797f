// Papers that contradict each other: what a finding on a claim says of them.
#pragma once

#include "engine/inspect/finding.hpp"

namespace packproof::inspect {

/// If the finding is on a claim that another paper contradicts: `has` becomes what each paper says, the one
/// that counts first, where each stands is added to `elsewhere`, and true is returned.
bool tell_contradiction(Finding& finding, const model::Model& model);

}  // namespace packproof::inspect
