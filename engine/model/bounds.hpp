// Whether a value makes physical sense: the field's `least` and `most`.
#pragma once

#include <string>
#include <string_view>

#include "engine/model/vocabulary.hpp"

namespace packproof::model {

/// An end that the text leaves open (`<= 5 mm`) moves to the field's bound; for a permitted range it stays
/// open. A sentence where the value lies beyond the bounds or its tolerance reaches beyond them; else empty.
[[nodiscard]] std::string keep_within_bounds(Value& value, const units::Unit& unit, const Field& field,
                                             std::string_view written);

/// True for a value that is a rate ("0.5C") and has not met the field that it multiplies.
[[nodiscard]] bool is_rate(const Value& value, const units::Unit& unit, const Field& field);

/// "a cell", "an enclosure"; underscores become spaces.
[[nodiscard]] std::string with_article(std::string_view name);

}  // namespace packproof::model
