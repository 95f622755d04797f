// A field of the vocabulary in Markdown: what it means, how it is written, who can find it out.
#pragma once

#include <string>

#include "engine/model/vocabulary.hpp"

namespace packproof::serve {

[[nodiscard]] std::string field_markdown(const model::Kind& kind, const model::Field& field,
                                         const model::Vocabulary& vocabulary);

}  // namespace packproof::serve
