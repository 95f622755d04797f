// A judgement told in full: what was found, what is needed, by how much, why, on what authority, what clears
// it.
#pragma once

#include "engine/inspect/judge.hpp"
#include "engine/inspect/label.hpp"

namespace packproof::inspect {

/// Fills in everything of `finding` that depends on values. Its rule, item and verdict are set already.
void describe(Finding& finding, const rules::Rule& rule, const rules::Application& application,
              const Judgement& judgement, facts::Facts& facts, const text::Sources& sources);

}  // namespace packproof::inspect
