// Concessions: recorded permissions to use what does not conform. What the engine knows of one is filled into
// its fields; whether it is honoured is then a matter of the rules about concessions. A verdict never
// changes.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/facts/facts.hpp"
#include "engine/inspect/finding.hpp"
#include "engine/text/day.hpp"
#include "engine/text/message.hpp"

namespace packproof::inspect {

/// Fills in, for each item of role concession, those of these fields that its kind has: `names_one` (it names
/// one rule and one item), `is_used` (the rule fails or is undecided on the item), `class` (of that rule),
/// `two_people` (`by` and `second` name two different ones), `not_worse` (the value of the finding is not
/// worse than `has`, nor its limit stricter than `needs`; where they are stated, in any form in which a
/// report prints them), `days_left` (from `day` to `until`; negative when that is over). Errors, at the
/// place: one of these that the description states, a rule or an item that does not exist (nearest name), a
/// concession for a finding on a concession, a number that cannot be read or is of another dimension than the
/// finding's.
void weigh_concessions(model::Model& model, const rules::RuleSet& rules, const text::Sources& sources,
                       const std::optional<text::Day>& day, text::Messages& messages,
                       facts::SolverMemory* memory = nullptr);

/// True of the fields that weigh_concessions fills in.
[[nodiscard]] bool is_found_out(const model::Kind& kind, std::string_view field);

/// Those of a model that has been weighed, in its order. One is honoured if it is used, its end is known and
/// not over, what it was granted for still holds, two people stand behind it where the finding is critical,
/// and no rule about concessions fails, is undecided or waits
/// on it, observations left out.
[[nodiscard]] std::vector<Concession> concessions_of(facts::Facts& facts);

/// Marks the findings that the report's concessions speak of, and counts those that are conceded as such
/// instead of as failing or undecided. Of several concessions the first that is honoured counts.
void mark_conceded(Report& report);

/// "A. Example and B. Example, until 2027-05-31: REASON Only while LIMITS": as every form of a report says
/// it.
[[nodiscard]] std::string conceded_words(const Concession& concession);

}  // namespace packproof::inspect
