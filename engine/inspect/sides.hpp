// What stands against each other in a question: papers, and what was measured.
#pragma once

#include "engine/inspect/request.hpp"

namespace packproof::inspect {

/// Fills in the question's text and its sides, one a paper. Measurements alone that differ are a question to
/// the bench.
void tell_sides(Question& question, const model::Conflict& conflict, const model::Model& model,
                const text::Sources& sources);

}  // namespace packproof::inspect
