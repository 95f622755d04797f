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
    comparison,         ///< the other way round
    constant,           ///< by a tenth; a small whole number without unit by one
    logic,              ///< `and` for `or`, a condition left out or turned round
    term,               ///< a summand or factor left out, or its sign turned round
    end_of_range,       ///< the other end of a range, the largest for the smallest
    swapped,            ///< two inputs of one type exchanged
    boundary,           ///< `<` for `<=`
    constant_slightly,  ///< by a hundredth
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
