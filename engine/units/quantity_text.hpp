// The form of a written quantity, before anyone asks what its units mean: numbers, signs and where the unit
// texts stand. Rests on nothing but the text.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <variant>

#include "engine/units/decimal.hpp"
#include "engine/units/read_quantity.hpp"

namespace packproof::units {

/// One number and the text of its unit, which may be empty.
struct WrittenNumber {
    std::size_t begin = 0;  ///< of the number
    std::size_t end = 0;
    std::size_t unit_begin = 0;
    std::size_t unit_end = 0;
    Decimal value;
    std::optional<int> gauge;  ///< a wire size instead of a value

    [[nodiscard]] bool has_unit() const { return unit_end > unit_begin; }
};

struct WrittenQuantity {
    enum class Form { single, tolerance, deviations, ends, at_most, at_least };

    Form form = Form::single;
    bool guess = false;
    bool bracketed = false;  ///< (71.7 ± 0.5) mm: the unit is of both numbers
    WrittenNumber first;
    WrittenNumber second;  ///< tolerance, upper deviation, upper end
    WrittenNumber third;   ///< lower deviation, its minus sign taken in
};

[[nodiscard]] std::variant<WrittenQuantity, ReadError> read_form(std::string_view text);

}  // namespace packproof::units
