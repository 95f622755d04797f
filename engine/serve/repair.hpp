// The change of a text that the hint of a message speaks of: the nearest name, a unit, a value without
// quotes.
#pragma once

#include <optional>
#include <string>

#include "engine/text/message.hpp"

namespace packproof::serve {

struct Repair {
    text::Span span;
    std::string writes;
};

/// Nothing where the hint names no word that could stand there instead.
[[nodiscard]] std::optional<Repair> repair_of(const text::Message& message, const text::Sources& sources);

}  // namespace packproof::serve
