// Comparisons as a reader reads them.
#pragma once

#include <string_view>

#include "engine/inspect/finding.hpp"
#include "engine/language/tree.hpp"

namespace packproof::inspect {

/// "at most", "more than" ...; turned round under a `not`. Empty for what is no comparison.
[[nodiscard]] std::string_view relation_words(language::Operation operation, bool negated);

/// On which side of the second value the first may lie; turned round under a `not`.
[[nodiscard]] Bound bound_of(language::Operation operation, bool negated);

/// "<=", "within", "in"; empty for what is no comparison.
[[nodiscard]] std::string_view relation_sign(language::Operation operation);

}  // namespace packproof::inspect
