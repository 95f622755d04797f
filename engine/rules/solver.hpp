// A solver as rule data: which method it uses, of which kind of item it is, and the expressions that give the
// method its numbers; and what a derived quantity asks of it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/language/tree.hpp"
#include "engine/model/vocabulary.hpp"
#include "engine/solve/method.hpp"

namespace packproof::rules {

/// Items that are rows of one of the method's lists.
struct SolverRows {
    std::uint16_t list = 0;
    model::KindIndex kind = 0;
    std::optional<model::FieldIndex> part_of;    ///< a reference of the row that names the item at hand
    std::optional<model::FieldIndex> listed_in;  ///< references of the item at hand that name the row
    language::Expression when;                   ///< may be empty: every one
    std::vector<language::Expression> values;    ///< by field of the list; may be empty
};

struct SolverDefinition {
    std::string name;
    std::string about;
    std::uint16_t method = 0;  ///< in solve::methods()
    model::KindIndex kind = 0;
    std::vector<language::Expression> inputs;  ///< by field of the method; may be empty
    std::vector<SolverRows> rows;
};

/// What a quantity asks.
struct SolverAsked {
    std::uint16_t solver = 0;
    std::uint16_t question = 0;  ///< of its method
};

[[nodiscard]] inline const solve::Method& method_of(const SolverDefinition& solver) {
    return solve::methods()[solver.method];
}

}  // namespace packproof::rules
