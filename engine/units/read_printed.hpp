// Printed quantities read again: the way back of print_quantity, for values that somebody copied from a
// report.
#pragma once

#include <string_view>
#include <variant>

#include "engine/units/read_quantity.hpp"

namespace packproof::units {

/// What was printed, each end known to half a unit of its last digit (of the fourth significant one at
/// least). SI base units; an absent end is infinite.
struct Printed {
    Interval widest;     ///< every value that may have been printed so
    Interval narrowest;  ///< ends moved inward instead; of a single value they may be reversed
};

/// The span where one is printed, else the value. Forms: all that read_quantity takes, `2.5 kN to 3.5 kN`,
/// `at most 80 °C`, `at least 10 kA`, `any value`, `2500 N (1625 N to 3375 N)`, and words in brackets after
/// any of them. Errors as of read_quantity.
[[nodiscard]] std::variant<Printed, ReadError> read_printed(std::string_view text, const Expected& expected);

}  // namespace packproof::units
