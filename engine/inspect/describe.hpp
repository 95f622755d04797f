// A judgement told in full: what was found, what is needed, by how much, why, on what authority, what clears
// it.
#pragma once

#include "engine/inspect/survey.hpp"

namespace packproof::inspect {

/// The finding of one verdict, told in full.
[[nodiscard]] Finding finding_of(const Verdicted& one, facts::Facts& facts, const text::Sources& sources);

}  // namespace packproof::inspect
