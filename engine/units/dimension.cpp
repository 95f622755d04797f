#include "engine/units/dimension.hpp"

#include <algorithm>
#include <array>

#include "engine/units/dimension_table.hpp"

namespace packproof::units {

namespace {

using Ladder = std::span<const Rung>;

constexpr Dimension of(std::array<int, 6> exponents) {
    Dimension result;
    for (std::size_t i = 0; i < exponents.size(); ++i)
        result.exponent[i] = static_cast<std::int8_t>(exponents[i]);
    return result;
}

// Units by dimension: the list for suggestions, then the ladder for showing a number of any size.
constexpr std::array<std::string_view, 2> number_units = {"", "%"};
constexpr std::array<std::string_view, 5> length_units = {"mm", "cm", "m", "in", "µm"};
constexpr std::array<Rung, 3> length_ladder = {{{0, "µm"}, {1e-5, "mm"}, {10, "m"}}};
constexpr std::array<std::string_view, 6> area_units = {"mm²", "AWG", "cm²", "m²", "in²", "kcmil"};
constexpr std::array<Rung, 2> area_ladder = {{{0, "mm²"}, {0.1, "m²"}}};
constexpr std::array<std::string_view, 5> volume_units = {"L", "mm³", "cm³", "mL", "m³"};
constexpr std::array<Rung, 4> volume_ladder = {{{0, "mm³"}, {1e-6, "cm³"}, {1e-4, "L"}, {10, "m³"}}};
constexpr std::array<std::string_view, 2> fourth_units = {"mm⁴", "m⁴"};
constexpr std::array<std::string_view, 4> mass_units = {"kg", "g", "lb", "oz"};
constexpr std::array<Rung, 3> mass_ladder = {{{0, "mg"}, {1e-3, "g"}, {1, "kg"}}};
constexpr std::array<std::string_view, 5> time_units = {"s", "ms", "min", "h", "d"};
constexpr std::array<Rung, 5> time_ladder = {{{0, "µs"}, {1e-3, "ms"}, {1, "s"}, {120, "min"}, {7200, "h"}}};
constexpr std::array<std::string_view, 3> current_units = {"A", "mA", "kA"};
constexpr std::array<Rung, 4> current_ladder = {{{0, "µA"}, {1e-3, "mA"}, {1, "A"}, {1e3, "kA"}}};
constexpr std::array<std::string_view, 3> temperature_units = {"°C", "K", "°F"};
constexpr std::array<std::string_view, 3> voltage_units = {"V", "mV", "kV"};
constexpr std::array<Rung, 4> voltage_ladder = {{{0, "µV"}, {1e-3, "mV"}, {1, "V"}, {1e3, "kV"}}};
constexpr std::array<std::string_view, 5> resistance_units = {"mΩ", "Ω", "µΩ", "kΩ", "MΩ"};
constexpr std::array<Rung, 5> resistance_ladder = {
    {{0, "µΩ"}, {1e-3, "mΩ"}, {1, "Ω"}, {1e3, "kΩ"}, {1e6, "MΩ"}}};
constexpr std::array<std::string_view, 3> line_resistance_units = {"mΩ/m", "Ω/km", "Ω/m"};
constexpr std::array<std::string_view, 3> resistivity_units = {"Ω·mm²/m", "Ω·m", "nΩ·m"};
constexpr std::array<std::string_view, 2> conductivity_units = {"MS/m", "S/m"};
constexpr std::array<std::string_view, 3> conductance_units = {"S", "mS", "µS"};
constexpr std::array<std::string_view, 4> capacitance_units = {"µF", "mF", "F", "nF"};
constexpr std::array<Rung, 5> capacitance_ladder = {
    {{0, "pF"}, {1e-9, "nF"}, {1e-6, "µF"}, {1e-3, "mF"}, {1, "F"}}};
constexpr std::array<std::string_view, 3> inductance_units = {"µH", "mH", "nH"};
constexpr std::array<Rung, 4> inductance_ladder = {{{0, "nH"}, {1e-6, "µH"}, {1e-3, "mH"}, {1, "H"}}};
constexpr std::array<std::string_view, 2> charge_units = {"Ah", "mAh"};
constexpr std::array<Rung, 2> charge_ladder = {{{0, "mAh"}, {3600, "Ah"}}};
constexpr std::array<std::string_view, 8> energy_units = {"N·m",    "kWh", "Wh",     "J",
                                                          "lbf·in", "kJ",  "kgf·cm", "lbf·ft"};
constexpr std::array<Rung, 4> energy_ladder = {{{0, "N·m"}, {1e3, "kJ"}, {3.6e5, "Wh"}, {3.6e6, "kWh"}}};
constexpr std::array<std::string_view, 4> power_units = {"W", "kW", "mW", "VA"};
constexpr std::array<Rung, 4> power_ladder = {{{0, "µW"}, {1e-3, "mW"}, {1, "W"}, {1e3, "kW"}}};
constexpr std::array<std::string_view, 7> pressure_units = {"kPa", "MPa", "bar", "psi", "N/mm²", "GPa", "Pa"};
constexpr std::array<Rung, 4> pressure_ladder = {{{0, "Pa"}, {1e3, "kPa"}, {1e6, "MPa"}, {1e9, "GPa"}}};
constexpr std::array<std::string_view, 4> force_units = {"N", "kN", "kgf", "lbf"};
constexpr std::array<Rung, 3> force_ladder = {{{0, "mN"}, {1, "N"}, {1e3, "kN"}}};
constexpr std::array<std::string_view, 3> rate_units = {"1/h", "Hz", "1/s"};
constexpr std::array<Rung, 3> rate_ladder = {{{0, "1/h"}, {1, "Hz"}, {1e3, "kHz"}}};
constexpr std::array<std::string_view, 3> per_kelvin_units = {"1/K", "ppm/K", "%/K"};
constexpr std::array<std::string_view, 3> stiffness_units = {"N/mm", "kN/mm", "lbf/in"};
constexpr std::array<std::string_view, 2> compliance_units = {"mm/kN", "mm/N"};
constexpr std::array<std::string_view, 2> bed_units = {"kN/m³", "N/mm³"};
constexpr std::array<std::string_view, 1> bending_units = {"N·m²"};
constexpr std::array<std::string_view, 1> current_density_units = {"A/mm²"};
constexpr std::array<std::string_view, 2> let_through_units = {"A²·s", "kA²·s"};
constexpr std::array<std::string_view, 1> conduction_units = {"W/(m·K)"};
constexpr std::array<std::string_view, 1> transfer_units = {"W/(m²·K)"};
constexpr std::array<std::string_view, 1> flux_units = {"W/m²"};
constexpr std::array<std::string_view, 2> thermal_resistance_units = {"K/W", "K/kW"};
constexpr std::array<std::string_view, 1> thermal_conductance_units = {"W/K"};
constexpr std::array<std::string_view, 2> heat_capacity_units = {"J/K", "kJ/K"};
constexpr std::array<std::string_view, 2> specific_heat_units = {"J/(kg·K)", "kJ/(kg·K)"};
constexpr std::array<std::string_view, 2> density_units = {"kg/m³", "g/cm³"};
constexpr std::array<std::string_view, 2> speed_units = {"m/s", "mm/s"};
constexpr std::array<std::string_view, 1> acceleration_units = {"m/s²"};
constexpr std::array<std::string_view, 3> flow_units = {"L/min", "m³/h", "m³/s"};
constexpr std::array<std::string_view, 2> specific_energy_units = {"Wh/kg", "J/kg"};
constexpr std::array<std::string_view, 2> per_length_units = {"1/m", "1/mm"};
constexpr std::array<std::string_view, 1> drift_units = {"mV/K"};
constexpr std::array<std::string_view, 1> amount_units = {"mol"};
constexpr std::array<std::string_view, 2> line_mass_units = {"kg/m", "g/m"};
constexpr std::array<std::string_view, 1> field_units = {"V/m"};
constexpr std::array<std::string_view, 1> warming_units = {"K/s"};
constexpr std::array<std::string_view, 1> joint_units = {"Ω·mm²"};

// Exponents of metre, kilogram, second, ampere, kelvin, mole.
constexpr std::array entries = {
    DimensionEntry{of({0, 0, 0, 0, 0, 0}), "plain number", number_units, Ladder{}},
    DimensionEntry{of({1, 0, 0, 0, 0, 0}), "length", length_units, length_ladder},
    DimensionEntry{of({2, 0, 0, 0, 0, 0}), "area", area_units, area_ladder},
    DimensionEntry{of({3, 0, 0, 0, 0, 0}), "volume", volume_units, volume_ladder},
    DimensionEntry{of({4, 0, 0, 0, 0, 0}), "second moment of area", fourth_units, Ladder{}},
    DimensionEntry{of({0, 1, 0, 0, 0, 0}), "mass", mass_units, mass_ladder},
    DimensionEntry{of({0, 0, 1, 0, 0, 0}), "time", time_units, time_ladder},
    DimensionEntry{of({0, 0, 0, 1, 0, 0}), "current", current_units, current_ladder},
    DimensionEntry{of({0, 0, 0, 0, 1, 0}), "temperature", temperature_units, Ladder{}},
    DimensionEntry{of({0, 0, 0, 0, 0, 1}), "amount of substance", amount_units, Ladder{}},
    DimensionEntry{of({2, 1, -3, -1, 0, 0}), "voltage", voltage_units, voltage_ladder},
    DimensionEntry{of({2, 1, -3, -2, 0, 0}), "resistance", resistance_units, resistance_ladder},
    DimensionEntry{of({1, 1, -3, -2, 0, 0}), "resistance per length", line_resistance_units, Ladder{}},
    DimensionEntry{of({3, 1, -3, -2, 0, 0}), "resistivity", resistivity_units, Ladder{}},
    DimensionEntry{of({4, 1, -3, -2, 0, 0}), "resistance times area", joint_units, Ladder{}},
    DimensionEntry{of({-3, -1, 3, 2, 0, 0}), "conductivity", conductivity_units, Ladder{}},
    DimensionEntry{of({-2, -1, 3, 2, 0, 0}), "conductance", conductance_units, Ladder{}},
    DimensionEntry{of({-2, -1, 4, 2, 0, 0}), "capacitance", capacitance_units, capacitance_ladder},
    DimensionEntry{of({2, 1, -2, -2, 0, 0}), "inductance", inductance_units, inductance_ladder},
    DimensionEntry{of({0, 0, 1, 1, 0, 0}), "electric charge", charge_units, charge_ladder},
    DimensionEntry{of({2, 1, -2, 0, 0, 0}), "torque or energy", energy_units, energy_ladder},
    DimensionEntry{of({2, 1, -3, 0, 0, 0}), "power", power_units, power_ladder},
    DimensionEntry{of({-1, 1, -2, 0, 0, 0}), "pressure", pressure_units, pressure_ladder},
    DimensionEntry{of({1, 1, -2, 0, 0, 0}), "force", force_units, force_ladder},
    DimensionEntry{of({0, 0, -1, 0, 0, 0}), "rate or frequency", rate_units, rate_ladder},
    DimensionEntry{of({0, 0, 0, 0, -1, 0}), "change per kelvin", per_kelvin_units, Ladder{}},
    DimensionEntry{of({0, 1, -2, 0, 0, 0}), "stiffness", stiffness_units, Ladder{}},
    DimensionEntry{of({0, -1, 2, 0, 0, 0}), "compliance", compliance_units, Ladder{}},
    DimensionEntry{of({-2, 1, -2, 0, 0, 0}), "stiffness per area", bed_units, Ladder{}},
    DimensionEntry{of({3, 1, -2, 0, 0, 0}), "bending stiffness", bending_units, Ladder{}},
    DimensionEntry{of({-2, 0, 0, 1, 0, 0}), "current density", current_density_units, Ladder{}},
    DimensionEntry{of({0, 0, 1, 2, 0, 0}), "let-through energy", let_through_units, Ladder{}},
    DimensionEntry{of({1, 1, -3, 0, -1, 0}), "thermal conductivity", conduction_units, Ladder{}},
    DimensionEntry{of({0, 1, -3, 0, -1, 0}), "heat transfer coefficient", transfer_units, Ladder{}},
    DimensionEntry{of({0, 1, -3, 0, 0, 0}), "heat flux", flux_units, Ladder{}},
    DimensionEntry{of({-2, -1, 3, 0, 1, 0}), "thermal resistance", thermal_resistance_units, Ladder{}},
    DimensionEntry{of({2, 1, -3, 0, -1, 0}), "thermal conductance", thermal_conductance_units, Ladder{}},
    DimensionEntry{of({2, 1, -2, 0, -1, 0}), "heat capacity", heat_capacity_units, Ladder{}},
    DimensionEntry{of({2, 0, -2, 0, -1, 0}), "specific heat capacity", specific_heat_units, Ladder{}},
    DimensionEntry{of({-3, 1, 0, 0, 0, 0}), "density", density_units, Ladder{}},
    DimensionEntry{of({-1, 1, 0, 0, 0, 0}), "mass per length", line_mass_units, Ladder{}},
    DimensionEntry{of({1, 0, -1, 0, 0, 0}), "speed", speed_units, Ladder{}},
    DimensionEntry{of({1, 0, -2, 0, 0, 0}), "acceleration", acceleration_units, Ladder{}},
    DimensionEntry{of({3, 0, -1, 0, 0, 0}), "volume flow", flow_units, Ladder{}},
    DimensionEntry{of({2, 0, -2, 0, 0, 0}), "energy per mass", specific_energy_units, Ladder{}},
    DimensionEntry{of({-1, 0, 0, 0, 0, 0}), "number per length", per_length_units, Ladder{}},
    DimensionEntry{of({2, 1, -3, -1, -1, 0}), "voltage per kelvin", drift_units, Ladder{}},
    DimensionEntry{of({1, 1, -3, -1, 0, 0}), "electric field", field_units, Ladder{}},
    DimensionEntry{of({0, 0, -1, 0, 1, 0}), "temperature change per time", warming_units, Ladder{}},
};

constexpr std::array<std::string_view, 7> base_symbols = {"m", "kg", "s", "A", "K", "mol", "cd"};

std::string superscript(int n) {
    constexpr std::array<std::string_view, 10> digits = {"⁰", "¹", "²", "³", "⁴", "⁵", "⁶", "⁷", "⁸", "⁹"};
    if (n == 1) return {};
    std::string result;
    for (const char c : std::to_string(n))
        result += digits[static_cast<std::size_t>(c - '0')];
    return result;
}

std::string product(const Dimension& dimension, int sign, int& factors) {
    std::string result;
    for (std::size_t i = 0; i < base_symbols.size(); ++i) {
        const int exponent = dimension.exponent[i] * sign;
        if (exponent <= 0) continue;
        if (factors++ > 0) result += "·";
        result += base_symbols[i];
        result += superscript(exponent);
    }
    return result;
}

}  // namespace

std::span<const DimensionEntry> dimension_entries() {
    return entries;
}

const DimensionEntry* find_dimension(const Dimension& dimension) {
    const auto* const found =
        std::find_if(entries.begin(), entries.end(),
                     [&dimension](const DimensionEntry& entry) { return entry.dimension == dimension; });
    return found == entries.end() ? nullptr : found;
}

std::string with_article(std::string_view name) {
    const bool vowel = !name.empty() && std::string_view{"aeio"}.find(name.front()) != std::string_view::npos;
    std::string result = vowel ? "an " : "a ";
    result += name;
    return result;
}

std::string base_units(const Dimension& dimension) {
    int above = 0;
    int below = 0;
    std::string result = product(dimension, 1, above);
    const std::string divisor = product(dimension, -1, below);
    if (above == 0) result = "1";
    if (below == 1) result += "/" + divisor;
    if (below > 1) result += "/(" + divisor + ")";
    return result;
}

std::string dimension_name(const Dimension& dimension) {
    const DimensionEntry* entry = find_dimension(dimension);
    return entry != nullptr ? std::string{entry->name} : base_units(dimension);
}

}  // namespace packproof::units
