// Conversions against two programs from outside, GNU units and UDUNITS-2. Traps of theirs that the spellings
// below avoid: GNU units reads "h" as Planck's constant and "rad" as a dose; UDUNITS reads "oz" as a volume
// and "degC" always as a temperature, never as a difference.
#include <cmath>
#include <set>
#include <string>
#include <variant>

#include <doctest/doctest.h>

#include "engine/units/read_quantity.hpp"
#include "oracle.hpp"

using namespace packproof::units;
using packproof::tests::ask_gnu_units;
using packproof::tests::ask_udunits;

namespace {

struct Conversion {
    const char* ours;
    const char* to;
    const char* gnu;
    const char* gnu_to;
    const char* udunits;
    const char* udunits_to;
};

// 16 ozf·in is 1 lbf·in, since 16 ounces are a pound: UDUNITS has no ounce-force.
const Conversion conversions[] = {
    {"1 in", "mm", "inch", "mm", "in", "mm"},
    {"3.5 ft", "m", "3.5 ft", "m", "3.5 ft", "m"},
    {"10 mil", "µm", "10 mil", "um", "10 mil", "um"},
    {"12 mm", "in", "12 mm", "inch", "12 mm", "in"},
    {"71.7 cm", "mm", "71.7 cm", "mm", "71.7 cm", "mm"},
    {"2 km", "m", "2 km", "m", "2 km", "m"},
    {"50 mm²", "in²", "50 mm^2", "inch^2", "50 mm2", "in2"},
    {"1 in²", "mm²", "inch^2", "mm^2", "in2", "mm2"},
    {"4 cm²", "mm²", "4 cm^2", "mm^2", "4 cm2", "mm2"},
    {"250 kcmil", "mm²", "250 kcmil", "mm^2", "250e3 circular_mil", "mm2"},
    {"2 L", "cm³", "2 L", "cm^3", "2 L", "cm3"},
    {"3 mL", "mm³", "3 mL", "mm^3", "3 mL", "mm3"},
    {"1 in³", "mm³", "inch^3", "mm^3", "in3", "mm3"},
    {"6 mm⁴", "m⁴", "6 mm^4", "m^4", "6 mm4", "m4"},
    {"5.3 kg", "lb", "5.3 kg", "lb", "5.3 kg", "lb"},
    {"1 lb", "g", "lb", "g", "lb", "g"},
    {"2 oz", "g", "2 oz", "g", "2 avoirdupois_ounce", "g"},
    {"250 mg", "g", "250 mg", "g", "250 mg", "g"},
    {"1.5 h", "s", "1.5 hr", "s", "1.5 h", "s"},
    {"90 min", "h", "90 min", "hr", "90 min", "h"},
    {"2 d", "h", "2 day", "hr", "2 d", "h"},
    {"250 ms", "s", "250 ms", "s", "250 ms", "s"},
    {"300 kgf", "N", "300 kgf", "N", "300 kgf", "N"},
    {"2.5 kN", "lbf", "2.5 kN", "lbf", "2.5 kN", "lbf"},
    {"1 lbf", "N", "lbf", "N", "lbf", "N"},
    {"120 gf", "mN", "120 gram force", "mN", "120 gf", "mN"},
    {"35 lbf·in", "N·m", "35 lbf inch", "N m", "35 lbf.in", "N.m"},
    {"4.5 lbf·ft", "N·m", "4.5 lbf ft", "N m", "4.5 lbf.ft", "N.m"},
    {"40 kgf·cm", "N·m", "40 kgf cm", "N m", "40 kgf.cm", "N.m"},
    {"4 N·m", "lbf·in", "4 N m", "lbf inch", "4 N.m", "lbf.in"},
    {"60 N·cm", "N·m", "60 N cm", "N m", "60 N.cm", "N.m"},
    {"16 ozf·in", "mN·m", "16 oz force inch", "mN m", "1 lbf.in", "mN.m"},
    {"14.7 psi", "kPa", "14.7 psi", "kPa", "14.7 psi", "kPa"},
    {"1.2 bar", "kPa", "1.2 bar", "kPa", "1.2 bar", "kPa"},
    {"3 MPa", "psi", "3 MPa", "psi", "3 MPa", "psi"},
    {"200 GPa", "MPa", "200 GPa", "MPa", "200 GPa", "MPa"},
    {"1 N/mm²", "kPa", "N/mm^2", "kPa", "N/mm2", "kPa"},
    {"1 atm", "kPa", "atm", "kPa", "atm", "kPa"},
    {"1 kgf/cm²", "kPa", "kgf/cm^2", "kPa", "kgf/cm2", "kPa"},
    {"800 mbar", "hPa", "800 mbar", "hPa", "800 mbar", "hPa"},
    {"6.3 kA", "A", "6.3 kA", "A", "6.3 kA", "A"},
    {"80 mA", "A", "80 mA", "A", "80 mA", "A"},
    {"51.2 V", "mV", "51.2 V", "mV", "51.2 V", "mV"},
    {"0.25 mΩ", "µΩ", "0.25 mohm", "uohm", "0.25 mohm", "uohm"},
    {"2.2 MΩ", "kΩ", "2.2 Mohm", "kohm", "2.2 Mohm", "kohm"},
    {"0.387 Ω/km", "mΩ/m", "0.387 ohm/km", "mohm/m", "0.387 ohm/km", "mohm/m"},
    {"1 Ω·mm²/m", "nΩ·m", "ohm mm^2/m", "nohm m", "ohm.mm2/m", "nohm.m"},
    {"58 MS/m", "S/mm", "58 MS/m", "S/mm", "58 MS/m", "S/mm"},
    {"470 µF", "mF", "470 uF", "mF", "470 uF", "mF"},
    {"10 µH", "nH", "10 uH", "nH", "10 uH", "nH"},
    {"280 Ah", "mAh", "280 A hr", "mA hr", "280 A.h", "mA.h"},
    {"280 Ah", "A·s", "280 A hr", "A s", "280 A.h", "C"},
    {"14.3 kWh", "J", "14.3 kW hr", "J", "14.3 kW.h", "J"},
    {"896 Wh", "kJ", "896 W hr", "kJ", "896 W.h", "kJ"},
    {"3 kW", "W", "3 kW", "W", "3 kW", "W"},
    {"3 kVA", "W", "3 kV A", "W", "3 kV.A", "W"},
    {"5 A/mm²", "A/cm²", "5 A/mm^2", "A/cm^2", "5 A/mm2", "A/cm2"},
    {"3 kA²·s", "A²·s", "3 kA^2 s", "A^2 s", "3 kA2.s", "A2.s"},
    {"200 lbf/in", "N/mm", "200 lbf/inch", "N/mm", "200 lbf/in", "N/mm"},
    {"12 kN/mm", "N/mm", "12 kN/mm", "N/mm", "12 kN/mm", "N/mm"},
    {"237 W/(m·K)", "W/(mm·K)", "237 W/(m K)", "W/(mm K)", "237 W.m-1.K-1", "W.mm-1.K-1"},
    {"10 W/(m²·K)", "W/(cm²·K)", "10 W/(m^2 K)", "W/(cm^2 K)", "10 W.m-2.K-1", "W.cm-2.K-1"},
    {"1.5 K/W", "K/kW", "1.5 K/W", "K/kW", "1.5 K/W", "K/kW"},
    {"0.9 kJ/(kg·K)", "J/(g·K)", "0.9 kJ/(kg K)", "J/(g K)", "0.9 kJ.kg-1.K-1", "J.g-1.K-1"},
    {"2.7 g/cm³", "kg/m³", "2.7 g/cm^3", "kg/m^3", "2.7 g/cm3", "kg/m3"},
    {"3 m/s", "mm/min", "3 m/s", "mm/min", "3 m/s", "mm/min"},
    {"9.81 m/s²", "ft/s²", "9.81 m/s^2", "ft/s^2", "9.81 m/s2", "ft/s2"},
    {"6 L/min", "m³/h", "6 L/min", "m^3/hr", "6 L/min", "m3/h"},
    {"160 Wh/kg", "J/kg", "160 W hr/kg", "J/kg", "160 W.h/kg", "J/kg"},
    {"17 ppm/K", "%/K", "17 ppm/K", "percent/K", "17e-6 K-1", "percent.K-1"},
    {"30 %", "", "30 percent", "1", "30 percent", "1"},
    {"90°", "rad", "90 degree", "radian", "90 degree", "rad"},
    {"0.5 1/h", "1/d", "0.5/hr", "1/day", "0.5 h-1", "d-1"},
    {"2 kHz", "1/s", "2 kHz", "1/s", "2 kHz", "s-1"},
    {"3 V/m", "mV/mm", "3 V/m", "mV/mm", "3 V/m", "mV/mm"},
    {"2 mV/K", "V/K", "2 mV/K", "V/K", "2 mV/K", "V/K"},
    {"5 mm", "µm", "5 mm", "um", "5 mm", "um"},
};

/// Our number in another unit, through the SI value.
double converted(const std::string& text, const std::string& to, bool absolute = false) {
    const auto unit = read_unit(to);
    REQUIRE_MESSAGE(unit.has_value(), to);
    const auto result = read_quantity(text, {unit->dimension, absolute, false});
    const auto* quantity = std::get_if<Quantity>(&result);
    REQUIRE_MESSAGE(quantity != nullptr, text);
    return quantity->nominal / unit->factor - (absolute ? unit->offset : 0.0);
}

double difference(double a, double b) {
    return std::fabs(a - b) / std::fabs(b);
}

}  // namespace

TEST_CASE("at least sixty different conversions are compared") {
    std::set<std::string> different;
    for (const Conversion& conversion : conversions)
        different.insert(std::string{conversion.ours} + " to " + conversion.to);
    CHECK(different.size() >= 60);
}

TEST_CASE("GNU units agrees with every conversion to its fifteen digits") {
    for (const Conversion& c : conversions) {
        CAPTURE(c.ours);
        CAPTURE(c.to);
        CHECK(difference(converted(c.ours, c.to), ask_gnu_units(c.gnu, c.gnu_to)) < 1e-13);
    }
}

TEST_CASE("UDUNITS-2 agrees with every conversion to its six digits") {
    for (const Conversion& c : conversions) {
        CAPTURE(c.ours);
        CAPTURE(c.to);
        CHECK(difference(converted(c.ours, c.to), ask_udunits(c.udunits, c.udunits_to)) < 6e-6);
    }
}

TEST_CASE("temperatures carry their offset, as both programs say") {
    CHECK(difference(converted("25 °C", "°F", true), ask_gnu_units("tempC(25)", "tempF")) < 1e-13);
    CHECK(difference(converted("25 °C", "°F", true), ask_udunits("25 degC", "degF")) < 6e-6);
    CHECK(difference(converted("90 °C", "K", true), ask_gnu_units("tempC(90)", "K")) < 1e-13);
    CHECK(difference(converted("90 °C", "K", true), ask_udunits("90 degC", "K")) < 6e-6);
    CHECK(difference(converted("-40 °F", "°C", true), ask_gnu_units("tempF(-40)", "tempC")) < 1e-13);
    CHECK(difference(converted("-40 °F", "°C", true), ask_udunits("-40 degF", "degC")) < 6e-6);
    CHECK(difference(converted("300 K", "°F", true), ask_gnu_units("300 K", "tempF")) < 1e-13);
    CHECK(difference(converted("300 K", "°F", true), ask_udunits("300 K", "degF")) < 6e-6);
}

TEST_CASE("differences of temperature carry no offset, as both programs say") {
    CHECK(difference(converted("10 °C", "°F"), ask_gnu_units("10 degC", "degF")) < 1e-13);
    CHECK(difference(converted("10 K", "°F"), ask_udunits("10 K", "degR")) <
          6e-6);  // Rankine: the same degree
    CHECK(difference(converted("18 °F", "K"), ask_gnu_units("18 degF", "K")) < 1e-13);
}
