// Spellings of units: what people type, what we print, what is not a unit.
#include <set>
#include <string>

#include <doctest/doctest.h>

#include "engine/units/print_quantity.hpp"
#include "engine/units/unit.hpp"

using namespace packproof::units;

namespace {

std::string printed(const std::string& spelling) {
    const auto unit = read_unit(spelling);
    return unit ? unit->symbol : "(unknown)";
}

bool same_unit(const Unit& a, const Unit& b) {
    return a.symbol == b.symbol && a.dimension == b.dimension && a.factor == b.factor &&
           a.offset == b.offset && a.scale == b.scale && a.temperature == b.temperature && a.gauge == b.gauge;
}

}  // namespace

TEST_CASE("many spellings are one unit, printed as the SI Brochure writes it") {
    struct Row {
        const char* symbol;
        std::initializer_list<const char*> spellings;
    };
    const Row rows[] = {
        {"N·m", {"N·m", "N.m", "N*m", "Nm", "N m", "N⋅m", "N∙m", "N-m", "m·N"}},
        {"mm²", {"mm²", "mm2", "mm^2", "sqmm", "sq mm"}},
        {"mΩ", {"mΩ", "m\u2126", "mohm", "mOhm"}},
        {"MΩ", {"MΩ", "Mohm", "MOhm"}},
        {"µΩ", {"µΩ", "\u03BCΩ", "uΩ", "uohm", "µ\u2126"}},
        {"µF", {"µF", "uF", "\u03BCF"}},
        {"°C", {"°C", "\u2103", "degC", "deg C", "ºC", "˚C", "° C"}},
        {"°F", {"°F", "\u2109", "degF"}},
        {"lbf·in",
         {"lbf·in", "lbf.in", "lbf-in", "lbf in", "in·lbf", "in-lb", "in.lb", "lb.in", "lb-in", "inlb"}},
        {"lbf·ft", {"lbf·ft", "ft-lb", "ft·lb", "lb-ft", "ftlb", "ft.lbf", "lbf·ft"}},
        {"kgf·cm", {"kgf·cm", "kgf.cm", "kgfcm", "kgf-cm", "kp·cm"}},
        {"N·cm", {"N·cm", "Ncm", "N.cm"}},
        {"mN·m", {"mN·m", "mNm"}},
        {"Ah", {"Ah", "A·h", "A.h", "A h"}},
        {"mAh", {"mAh", "mA·h"}},
        {"kWh", {"kWh", "kW·h", "kW.h", "kW*h"}},
        {"W/(m·K)", {"W/(m·K)", "W/(m.K)", "W/(m K)", "W/mK", "W/m·K", "W·m⁻¹·K⁻¹", "W m^-1 K^-1"}},
        {"W/(m²·K)", {"W/(m²·K)", "W/(m2.K)", "W/m²K", "W/m2K", "W/(m^2*K)"}},
        {"A²·s", {"A²·s", "A²s", "A2s", "A^2s", "A^2.s", "A2.s"}},
        {"Ω/km", {"Ω/km", "ohm/km", "Ohm/km"}},
        {"Ω·mm²/m", {"Ω·mm²/m", "ohm.mm2/m", "Ω mm²/m"}},
        {"1/K", {"1/K", "K⁻¹", "K^-1", "K-1"}},
        {"1/h", {"1/h", "h⁻¹", "1/hr"}},
        {"ppm/K", {"ppm/K"}},
        {"N/mm²", {"N/mm²", "N/mm2", "N/mm^2"}},
        {"kcmil", {"kcmil", "MCM"}},
        {"L", {"L", "l"}},
        {"h", {"h", "hr", "hours"}},
        {"min", {"min", "minutes"}},
        {"in", {"in", "inch", "in."}},
        {"AWG", {"AWG", "awg"}},
        {"%", {"%", "percent"}},
        {"", {"", "1", " "}},
    };
    for (const Row& row : rows)
        for (const char* spelling : row.spellings) {
            CAPTURE(spelling);
            CHECK(printed(spelling) == row.symbol);
        }
}

TEST_CASE("letters that differ only in case or place mean different units") {
    CHECK(read_unit("mW")->factor == 1e-3);
    CHECK(read_unit("MW")->factor == 1e6);
    CHECK(read_unit("mohm")->factor == 1e-3);
    CHECK(read_unit("Mohm")->factor == 1e6);
    CHECK(read_unit("min")->factor == 60.0);  // not milli-inch
    CHECK(read_unit("m")->dimension == read_unit("mm")->dimension);
    CHECK(read_unit("mm")->factor == 1e-3);
    CHECK(read_unit("h")->factor == 3600.0);
    CHECK(read_unit("nm")->dimension == read_unit("m")->dimension);  // nanometre, not newton metre
    CHECK(read_unit("Nm")->dimension == read_unit("J")->dimension);
    CHECK(read_unit("mN")->dimension == read_unit("N")->dimension);
    CHECK(read_unit("S")->dimension == read_unit("A/V")->dimension);
    CHECK(read_unit("s")->dimension == read_unit("h")->dimension);
}

TEST_CASE("what is no unit, or only nearly one, is not read") {
    for (const char* text : {"KN",
                             "MOHM",
                             "kv",
                             "mPa",
                             "C",
                             "F/",
                             "/",
                             "()",
                             "(m",
                             "m)",
                             "m//s",
                             "W/m/K",
                             "mm^",
                             "mm^0",
                             "mm^5",
                             "mm22",
                             "mm²²",
                             "^2",
                             "2mm",
                             "m..s",
                             ".m",
                             "kkg",
                             "µ",
                             "AWG/m",
                             "N·",
                             "kinch",
                             "m^m",
                             "\xff",
                             "mm\xff",
                             "abcdefghijklmnopqrstuvwxyzabcdefghijklmnopqrstuvwxyzabcdefghijklmnopqrstuvwxyz",
                             "m·m·m·m·m·m·m"}) {
        CAPTURE(text);
        CHECK(printed(text) == "(unknown)");
    }
}

TEST_CASE("the printed symbol of every unit reads back as the same unit") {
    std::set<std::string> symbols;
    for (const std::string_view name : known_units()) {
        const auto unit = read_unit(name);
        REQUIRE_MESSAGE(unit.has_value(), std::string{name});
        symbols.insert(unit->symbol);
    }
    for (const char* compound : {"N·m", "W/(m²·K)", "Ω·mm²/m", "1/K", "A²·s", "lbf·in", "kgf·cm", "J/(kg·K)",
                                 "mΩ/m", "mm⁴", "L/min"})
        symbols.insert(compound);
    for (const std::string& symbol : symbols) {
        CAPTURE(symbol);
        const auto unit = read_unit(symbol);
        REQUIRE(unit.has_value());
        CHECK(unit->symbol == symbol);
        CHECK(same_unit(*unit, *read_unit(unit->symbol)));
    }
}

TEST_CASE("scales are exact: factors follow from the definitions of inch, pound and gravity") {
    CHECK(read_unit("in")->factor == 0.0254);            // yard and pound agreement, 1959
    CHECK(read_unit("kgf")->factor == 9.80665);          // 3rd CGPM, 1901
    CHECK(read_unit("lbf")->factor == 4.4482216152605);  // 0.45359237 × 9.80665
    CHECK(read_unit("lbf·in")->factor == 0.1129848290276167);
    CHECK(read_unit("lbf·ft")->factor == 1.3558179483314004);
    CHECK(read_unit("kWh")->factor == 3.6e6);
    CHECK(read_unit("in²")->factor == 645.16e-6);
    CHECK(read_unit("W/(m·K)")->factor == 1.0);
    CHECK(read_unit("Ω/km")->factor == read_unit("mΩ/m")->factor);
}

TEST_CASE("only °C, °F and K alone may be temperatures") {
    CHECK(read_unit("°C")->temperature);
    CHECK(read_unit("°C")->offset == 273.15);
    CHECK(read_unit("°F")->offset == 459.67);
    CHECK(read_unit("K")->temperature);
    CHECK(read_unit("K")->offset == 0.0);
    CHECK_FALSE(read_unit("mK")->temperature);
    CHECK_FALSE(read_unit("W/(m·°C)")->temperature);
    CHECK(read_unit("W/(m·°C)")->offset == 0.0);
    CHECK(read_unit("W/(m·°C)")->factor == 1.0);
}

TEST_CASE("a unit that is nearly right is suggested") {
    CHECK(nearest_unit("KN") == "kN");
    CHECK(nearest_unit("kn") == "kN");
    CHECK(nearest_unit("Megohm") == "MΩ");
    CHECK(nearest_unit("megohm") == "MΩ");
    CHECK(nearest_unit("kilohm") == "kΩ");
    CHECK(nearest_unit("MOHM") == "MΩ");  // the capital M is nearer to mega than to milli
    CHECK(nearest_unit("mOHM") == "mΩ");
    CHECK(nearest_unit("kv") == "kV");
    CHECK(nearest_unit("AH") == "Ah");
    CHECK(nearest_unit("mmm") == "mm");
    CHECK(nearest_unit("mpa") == "MPa");
    CHECK(nearest_unit("") == "");
    CHECK(nearest_unit("zebra") == "");
}

TEST_CASE("among units of one dimension the likeliest meant one is suggested") {
    CHECK(nearest_unit("kg", read_unit("N")->dimension) == "kgf");
    CHECK(nearest_unit("lb", read_unit("N")->dimension) == "lbf");
    CHECK(nearest_unit("nm", read_unit("N·m")->dimension) == "N·m");
    CHECK(nearest_unit("kg·cm", read_unit("N·m")->dimension) == "kgf·cm");
    CHECK(nearest_unit("C", read_unit("K")->dimension) == "°C");
    CHECK(nearest_unit("mm", read_unit("mm²")->dimension) == "mm²");
    CHECK(nearest_unit("gauge", read_unit("mm²")->dimension) == "AWG");
    CHECK(nearest_unit("A", read_unit("mm")->dimension) == "");
}

TEST_CASE("dimensions have the names that people use, else base units") {
    CHECK(dimension_name(read_unit("A")->dimension) == "current");
    CHECK(dimension_name(read_unit("mm²")->dimension) == "area");
    CHECK(dimension_name(read_unit("N·m")->dimension) == "torque or energy");
    CHECK(dimension_name(read_unit("")->dimension) == "plain number");
    CHECK(dimension_name(read_unit("kg·m")->dimension) == "m·kg");
    CHECK(dimension_name(read_unit("W²/s")->dimension) == "m⁴·kg²/s⁷");
    CHECK(dimension_name(read_unit("1/(kg·s)")->dimension) == "1/(kg·s)");
    CHECK(dimension_name(read_unit("mol/A")->dimension) == "mol/A");
}

TEST_CASE("the common units of a dimension are of that dimension, best first") {
    CHECK(units_of(read_unit("m")->dimension).front() == "mm");
    CHECK(units_of(read_unit("N")->dimension).front() == "N");
    CHECK(units_of(read_unit("kg·m")->dimension).empty());
    for (const std::string_view name : known_units()) {
        const Dimension dimension = read_unit(name)->dimension;
        CAPTURE(std::string{name});
        CHECK_FALSE(units_of(dimension).empty());
        for (const std::string_view common : units_of(dimension)) {
            CAPTURE(std::string{common});
            CHECK(read_unit(common)->dimension == dimension);
        }
    }
}
