// A judgement told in full: what was found, what is needed, by how much, why, on what authority, what clears
// it.
#pragma once

#include "engine/inspect/survey.hpp"
#include "engine/inspect/working.hpp"

namespace packproof::inspect {

/// The finding of one verdict, told in full; `known` is kept from one finding to the next on the same facts.
[[nodiscard]] Finding finding_of(const Verdicted& one, facts::Facts& facts, const text::Sources& sources,
                                 KnownSteps& known);

}  // namespace packproof::inspect
