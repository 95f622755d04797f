// Quantities as text, by the SI Brochure: a space before the unit, digits that the tolerance justifies,
// ranges as "2.5 kN to 3.5 kN", tolerances as "(71.7 ± 0.5) mm". Same bytes on every machine.
#pragma once

#include <string>

#include "engine/units/quantity.hpp"

namespace packproof::units {

/// A unit to show an SI value of this dimension in: `preferred` if it fits the dimension, else a common unit
/// (with prefix chosen by `size`, an SI value of typical magnitude).
[[nodiscard]] Unit display_unit(const Dimension& dimension, const Unit& preferred, double size,
                                bool absolute);

/// A bare SI value in a unit: "187.5 A". At most `digits` significant digits, trailing zeros dropped.
[[nodiscard]] std::string print_number(double si_value, const Unit& unit, bool absolute, int digits = 4);

/// An interval: "200 A" when it is a point, "2.5 kN to 3.5 kN", "at most 0.25 mΩ", "at least 10 kA",
/// "any value" when unbounded both ways.
[[nodiscard]] std::string print_interval(Interval range, const Unit& unit, bool absolute, int digits = 4);

/// With its nominal value: "2500 N (1625 N to 3375 N)"; symmetrical ones "(71.7 ± 0.5) mm".
[[nodiscard]] std::string print_value(Interval range, double nominal, const Unit& unit, bool absolute,
                                      int digits = 4);

/// A permitted range: "2.5 kN to 3.5 kN", "at most 80 °C".
[[nodiscard]] std::string print_range(double lower, double upper, const Unit& unit, bool absolute,
                                      int digits = 6);

/// The number of significant digits, from `digits` up to 15, at which `value` and `limit` print differently
/// in this unit (if they differ at all): a value that fails never prints equal to its limit.
[[nodiscard]] int digits_to_tell_apart(double value, double limit, const Unit& unit, bool absolute,
                                       int digits = 4);

}  // namespace packproof::units
