// Comparisons as a reader reads them.
#pragma once

#include <string_view>

#include "engine/language/tree.hpp"

namespace packproof::inspect {

/// "at most", "more than" ...; turned round under a `not`. Empty for what is no comparison.
[[nodiscard]] std::string_view relation_words(language::Operation operation, bool negated);

/// "<=", "within", "in"; empty for what is no comparison.
[[nodiscard]] std::string_view relation_sign(language::Operation operation);

}  // namespace packproof::inspect
