// Changes of rules that somebody must answer for, and that every report tells.
#pragma once

#include "engine/rules/rule_set.hpp"

namespace packproof::rules {

/// True of a rule that came as critical, and of one that decides on concessions: whoever relaxes such a rule
/// lets through what can injure or burn.
[[nodiscard]] bool is_answered_for(const Rule& rule, const model::Vocabulary& vocabulary);

/// True if a team switched the rule off or takes it as less grave than it came.
[[nodiscard]] bool is_relaxed(const Rule& rule);

}  // namespace packproof::rules
