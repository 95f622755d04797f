// Text to quantity. Never throws; what is wrong comes back as a sentence with a place inside the text.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <variant>

#include "engine/units/quantity.hpp"

namespace packproof::units {

/// What is wrong with a quantity's text: [begin, end) are byte offsets inside the text.
struct ReadError {
    std::size_t begin = 0;
    std::size_t end = 0;
    std::string text;
    std::string hint;
};

/// What the field wants. `absolute`: the field is a temperature, so °C and °F carry their offset; otherwise
/// they are differences. `rate_allowed`: a field of current that also takes a C-rate ("0.5C", dimension
/// 1/time): the result then has the dimension 1/time and the caller multiplies by the capacity.
struct Expected {
    Dimension dimension;
    bool absolute = false;
    bool rate_allowed = false;
};

/// Forms: `12 mm` `12mm` `12 ± 0.2 mm` `12 mm ± 0.2 mm` `(12 ± 0.2) mm` `12 +0.1/-0.3 mm` `71.5 .. 72.5 mm`
/// `71.5..72.5 mm` `250 A ± 5 %` `~ 4 N·m` `<= 0.25 mΩ` `>= 10 kA` `2/0 AWG` `AWG 4` `250 kcmil` `1e3 mm`
/// `0.5C` `50 %` `0.20 ± 35 %`. Errors: a decimal comma, a thousands separator, a missing unit, an unknown
/// unit (nearest named), a wrong dimension (what would fit), reversed ends, a negative tolerance, inf and
/// nan. With a memory, units come from there.
[[nodiscard]] std::variant<Quantity, ReadError> read_quantity(std::string_view text, const Expected& expected,
                                                              UnitMemory* memory = nullptr);
[[nodiscard]] std::variant<PermittedRange, ReadError> read_range(std::string_view text,
                                                                 const Expected& expected,
                                                                 UnitMemory* memory = nullptr);

}  // namespace packproof::units
