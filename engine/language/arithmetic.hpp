// Arithmetic on numbers that are intervals with slopes: forward differentiation, interval by interval. A
// slope encloses the partial derivative with respect to one input of the box over the whole box; of a step it
// encloses every difference quotient. No slopes at all means that no input matters. Pure functions.
#pragma once

#include <optional>

#include "engine/model/value.hpp"

namespace packproof::language {

using model::Number;
using units::Interval;
using Slopes = std::vector<Interval>;

[[nodiscard]] Number constant(double value);

[[nodiscard]] Number add(const Number& a, const Number& b);
[[nodiscard]] Number subtract(const Number& a, const Number& b);
[[nodiscard]] Number multiply(const Number& a, const Number& b);
[[nodiscard]] Number negate(const Number& a);
[[nodiscard]] Number absolute(const Number& a);
[[nodiscard]] Number exponential(const Number& a);
[[nodiscard]] Number lesser(const Number& a, const Number& b);
[[nodiscard]] Number greater(const Number& a, const Number& b);
/// Anywhere from one to the other; its nominal value lies in the middle of theirs.
[[nodiscard]] Number between(const Number& a, const Number& b);

/// Nothing where no point of the operand has a value: a divisor that is zero, the root of a negative number.
[[nodiscard]] std::optional<Number> divide(const Number& a, const Number& b);
[[nodiscard]] std::optional<Number> power(const Number& a, int exponent);
[[nodiscard]] std::optional<Number> square_root(const Number& a);
[[nodiscard]] std::optional<Number> logarithm(const Number& a);

/// To whole numbers; a number that decimal input cannot tell from a whole one is that whole one.
[[nodiscard]] Number round_up(const Number& a);
[[nodiscard]] Number round_down(const Number& a);

/// One or the other, unknown which. `inputs` is the size of the box: which one it is may jump with any input,
/// so slopes are unbounded, unless both are the same.
[[nodiscard]] Number hull(const Number& a, const Number& b, std::size_t inputs);

/// Slopes of a step function of a number that has slopes, for table lookups: of one that only rises with it
/// [0, inf) × slope, of one that only falls (-inf, 0] × slope, else unbounded where the number varies at all.
[[nodiscard]] Slopes step_slopes(const model::Value& key, bool rising, bool falling);

/// Slopes of a sum; empty ones count as zeros.
[[nodiscard]] Slopes add_slopes(const Slopes& a, const Slopes& b);
[[nodiscard]] Slopes unbounded_slopes(std::size_t inputs);

}  // namespace packproof::language
