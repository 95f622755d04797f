// Units as people type them. A scale is exact: a ratio of whole numbers times a power of ten and of pi, so
// that 1 in and 25.4 mm are the same number.
#pragma once

#include <deque>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/units/decimal.hpp"
#include "engine/units/dimension.hpp"

namespace packproof::units {

struct Unit {
    std::string symbol;  ///< as we print it, by the SI Brochure: "N·m", "mm²", "µΩ", "°C", "AWG", "" for 1
    Dimension dimension;
    double factor = 1.0;       ///< SI value = (written + offset) × factor
    double offset = 0.0;       ///< not 0 only for °C and °F as temperatures
    bool temperature = false;  ///< °C, °F, K alone: may be read as a temperature or as a difference
    bool gauge = false;        ///< AWG: the number is a size, not a multiple (ASTM B258)
    Scale scale = {};          ///< `factor` exactly
};

/// Reads a unit in any spelling that people use ("N.m", "Nm", "mm2", "mm^2", "mohm/m",
/// "uF", "A/mm²", "W/(m.K)"). All after the one `/` divides. `text` is the whole unit; "" and "1" are the
/// unit of plain numbers. Empty result: unknown.
[[nodiscard]] std::optional<Unit> read_unit(std::string_view text);

/// Units already read, so that a text with many quantities pays for each spelling once. Keeps only so many;
/// what it gives stays valid as long as it does.
class UnitMemory {
  public:
    [[nodiscard]] const Unit* find(std::string_view spelling) const;  ///< null: not met yet
    const Unit* keep(std::string_view spelling, const Unit& unit);    ///< null: the memory is full

  private:
    struct Known {
        std::string spelling;
        Unit unit;
    };
    std::deque<Known> known_;
};

/// The known unit that looks nearest (case slips "KN", "nm" for N·m, missing dot), for suggestions; may be
/// "".
[[nodiscard]] std::string nearest_unit(std::string_view text);
/// The same among units of one dimension ("kg" where a force is due: "kgf").
[[nodiscard]] std::string nearest_unit(std::string_view text, const Dimension& dimension);

/// Symbols of common units of a dimension, best first: {"mm", "cm", "m", "in"}. Empty if none is known.
[[nodiscard]] std::vector<std::string_view> units_of(const Dimension& dimension);

/// Every spelling that read_unit knows for simple units, for completion and for tests.
[[nodiscard]] std::vector<std::string_view> known_units();

}  // namespace packproof::units
