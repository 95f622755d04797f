// Rules that a team relaxed although people can be hurt by it: told in every report.
#pragma once

#include <string>
#include <vector>

#include "engine/inspect/finding.hpp"

namespace packproof::inspect {

/// Critical rules, and those that decide on concessions, that are switched off or taken as less grave than
/// they came, in the order of the rules.
[[nodiscard]] std::vector<Relaxed> relaxed_rules(const rules::RuleSet& rules);

/// "breaker-protects-conductor: taken as minor by A. Example: REASON".
[[nodiscard]] std::string relaxed_words(const Relaxed& one);

}  // namespace packproof::inspect
