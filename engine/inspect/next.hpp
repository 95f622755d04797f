// Which further values would decide the most rules, by weight of their class.
#pragma once

#include <vector>

#include "engine/inspect/judge.hpp"

namespace packproof::inspect {

/// One rule that waits for values.
struct Waiting {
    const rules::Rule* rule = nullptr;
    std::vector<language::Gap> gaps;
};

/// How much a verdict of a class counts when we choose what to ask for first (our own choice: each class
/// outweighs several of the next).
[[nodiscard]] double weight(Class c);

/// A person could fill this gap.
[[nodiscard]] bool can_be_stated(const language::Gap& gap);

/// What a gap asks for, as a reader reads it.
[[nodiscard]] Wanted wanted(const language::Gap& gap, const facts::Facts& facts);

/// At most `most` values. A rule that waits for several shares its weight among them.
[[nodiscard]] std::vector<NextValue> next_values(const std::vector<Waiting>& waiting,
                                                 const facts::Facts& facts, std::size_t most = 5);

}  // namespace packproof::inspect
