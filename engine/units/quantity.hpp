// A number of the physical world as a description states it: value, tolerance, dimension, how it was
// written. And a permitted range, which is another thing: its ends are limits, not doubt.
#pragma once

#include "engine/units/interval.hpp"
#include "engine/units/unit.hpp"

namespace packproof::units {

/// All numbers in SI base units. Temperatures are in kelvin from absolute zero when `absolute`.
struct Quantity {
    Interval range;         ///< every value that the text allows; an unstated end is infinite
    double nominal = 0.0;   ///< the value before the tolerance; of `a .. b` the middle; of `<= b` b
    Unit unit;              ///< as written
    bool absolute = false;  ///< a temperature, not a difference
    bool guess = false;     ///< written with ~
};

/// `2.5 .. 3.5 kN`, `<= 80 °C`, `>= 10 kA`; a single value `6 mm` is a range of no width, `5 ± 1 N·m` its
/// ends. An absent end is infinite.
struct PermittedRange {
    double lower = 0.0;
    double upper = 0.0;
    Unit unit;
    bool absolute = false;
};

}  // namespace packproof::units
