// Consequences of one cause folded under it: findings that the change of one input would clear belong
// together.
#pragma once

#include <vector>

#include "engine/inspect/finding.hpp"

namespace packproof::inspect {

/// Failing first, then undecided, not stated, conforming; the gravest first, then as the description has
/// them.
void order_findings(std::vector<Finding>& findings);

/// Sets `cause` and `consequences`. The input that clears the most findings is taken first (then the gravest,
/// then the earliest); the gravest finding that it clears becomes the cause. Findings must be in report
/// order.
void fold_consequences(std::vector<Finding>& findings);

}  // namespace packproof::inspect
