// The names of simple units, their prefixes and exact sizes. Nothing here knows how units combine.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "engine/units/decimal.hpp"
#include "engine/units/dimension.hpp"

namespace packproof::units {

/// A unit that has a name of its own, "mm", "lbf", "°C".
struct SimpleUnit {
    std::string symbol;  ///< as we print it
    Dimension dimension;
    Scale scale;
    bool temperature = false;
};

/// `name` after normal_spelling. Empty: not known.
[[nodiscard]] std::optional<SimpleUnit> find_simple_unit(std::string_view name);

/// Look-alikes made one: micro, ohm, degree, the product dot, spaces, minus signs of exponents.
[[nodiscard]] std::string normal_spelling(std::string_view text);

/// Every name that find_simple_unit takes, prefixed ones included, in a fixed order.
[[nodiscard]] std::span<const std::string_view> simple_unit_names();

}  // namespace packproof::units
