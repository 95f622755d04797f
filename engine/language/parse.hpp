// Text to tree. Bounded: at most 4096 bytes and 64 levels. No evaluation, no names resolved.
#pragma once

#include <optional>
#include <vector>

#include "engine/language/tree.hpp"

namespace packproof::language {

/// A mistake inside an expression: [begin, end) are byte offsets in its text.
struct Mistake {
    std::size_t begin = 0;
    std::size_t end = 0;
    std::string text;
    std::string hint;
};

/// All syntax errors that can be told apart (at least the first). The grammar stands in DEVELOPERS.md.
[[nodiscard]] std::optional<Expression> parse(std::string_view text, std::vector<Mistake>& mistakes);

}  // namespace packproof::language
