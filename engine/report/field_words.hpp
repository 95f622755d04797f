// How a field of the vocabulary is written, in words.
#pragma once

#include <string>
#include <string_view>

#include "engine/model/vocabulary.hpp"

namespace packproof::report {

/// "quantity", "one of", "id of": without unit, choices or kinds.
[[nodiscard]] std::string_view form_name(const model::Field& field);

/// "quantity in mm²", "one of: copper, aluminium", "id of device".
[[nodiscard]] std::string form_words(const model::Field& field, const model::Vocabulary& vocabulary);

}  // namespace packproof::report
