// What people call a dimension, and the units they show it in.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "engine/units/dimension.hpp"

namespace packproof::units {

/// From this size on (SI value) the unit is a good one to show a number in.
struct Rung {
    double from = 0.0;
    std::string_view unit;
};

struct DimensionEntry {
    Dimension dimension;
    std::string_view name;
    std::span<const std::string_view> units;  ///< common ones, best first
    std::span<const Rung> ladder;             ///< rising; may be empty: then the first of `units`
};

[[nodiscard]] std::span<const DimensionEntry> dimension_entries();
/// Null for a dimension that has no name.
[[nodiscard]] const DimensionEntry* find_dimension(const Dimension& dimension);

/// "a current", "an area".
[[nodiscard]] std::string with_article(std::string_view name);

/// "m²·kg/s³"; "1" for none.
[[nodiscard]] std::string base_units(const Dimension& dimension);

}  // namespace packproof::units
