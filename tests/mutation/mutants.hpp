// Wrong versions of an expression, each with one thing changed, as text. What does not make sense (a wrong
// dimension) is left to the checker to refuse.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "engine/language/tree.hpp"

namespace packproof::mutation {

/// What was changed, gravest kind of slip first.
enum class Change {
    comparison,
    constant_by_ten_percent,
    logic,
    term,
    end_of_range,
    swapped,
    boundary,
    constant_by_one_percent
};

struct Mutant {
    Change change = Change::comparison;
    std::string text;  ///< the whole expression with the change made
    std::string what;  ///< "`<=` became `<`"
};

[[nodiscard]] std::string_view change_name(Change change);

/// All mutants of a checked expression, in the order of its nodes.
[[nodiscard]] std::vector<Mutant> mutants_of(const language::Expression& expression);

}  // namespace packproof::mutation
