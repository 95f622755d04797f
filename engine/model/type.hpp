// Static types of fields, quantities and expressions.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "engine/model/value.hpp"
#include "engine/units/dimension.hpp"

namespace packproof::model {

struct Type {
    enum class Kind : std::uint8_t { number, range, truth, text, item, items };
    Kind kind = Kind::number;
    units::Dimension dimension;    ///< of number and range
    bool absolute = false;         ///< a temperature (number, range)
    std::vector<KindIndex> kinds;  ///< of item and items: what they may be, ascending

    friend bool operator==(const Type&, const Type&) = default;
};

/// "a number in A", "a temperature", "text", "an item of conductor or busbar" …
class Vocabulary;
[[nodiscard]] std::string type_name(const Type& type, const Vocabulary& vocabulary);

}  // namespace packproof::model
