// Properties that hold for every quantity: what is printed reads back as the same; what fails never prints
// like its limit.
#include <cmath>
#include <random>
#include <string>
#include <variant>

#include <doctest/doctest.h>

#include "engine/units/print_quantity.hpp"
#include "engine/units/read_quantity.hpp"

using namespace packproof::units;

namespace {

const char* const unit_names[] = {"mm",  "in",     "m",   "mm²",  "kcmil", "N",       "kgf",     "lbf",
                                  "N·m", "lbf·in", "kPa", "psi",  "A",     "mV",      "mΩ",      "µΩ",
                                  "Ah",  "kWh",    "W",   "min",  "%",     "W/(m·K)", "Ω·mm²/m", "ppm/K",
                                  "L",   "°",      "kg",  "N/mm", "",      "A²·s"};

class Random {
  public:
    /// A decimal number of up to `digits` digits, 0.001 to 99999.
    std::string decimal(int digits) {
        const int places = static_cast<int>(engine_() % static_cast<unsigned>(std::min(digits, 4)));
        std::uint64_t limit = 1;
        for (int i = 0; i < digits; ++i)
            limit *= 10;
        std::string text = std::to_string(engine_() % limit);
        while (static_cast<int>(text.size()) <= places)
            text.insert(0, "0");
        if (places > 0) text.insert(text.size() - static_cast<std::size_t>(places), ".");
        return text;
    }
    double between(double low, double high) {
        return low + (high - low) * (static_cast<double>(engine_() >> 11U) * 0x1p-53);
    }
    const char* unit() { return unit_names[engine_() % std::size(unit_names)]; }

  private:
    std::mt19937_64 engine_{7};
};

Quantity read(const std::string& text, const Expected& expected) {
    const auto result = read_quantity(text, expected);
    if (const auto* error = std::get_if<ReadError>(&result)) FAIL(text, ": ", error->text, "; ", error->hint);
    return std::get<Quantity>(result);
}

std::string with_unit(const std::string& text, const std::string& unit) {
    return unit.empty() ? text : text + " " + unit;
}

constexpr int rounds = 20'000;

}  // namespace

TEST_CASE("a number printed with all its digits reads back as the very same double") {
    Random random;
    for (int i = 0; i < rounds; ++i) {
        const Unit unit = *read_unit(random.unit());
        const Expected expected{unit.dimension, false, false};
        const Quantity quantity = read(with_unit(random.decimal(12), unit.symbol), expected);
        const std::string text = print_number(quantity.nominal, unit, false, 15);
        CAPTURE(text);
        REQUIRE(read(text, expected).nominal == quantity.nominal);
    }
}

TEST_CASE("a temperature printed in any degree reads back as the same temperature") {
    Random random;
    for (int i = 0; i < rounds; ++i) {
        const double kelvin = random.between(0.0, 600.0);
        const Expected expected{read_unit("K")->dimension, true, false};
        for (const char* name : {"°C", "°F", "K"}) {
            const std::string text = print_number(kelvin, *read_unit(name), true, 15);
            CAPTURE(text);
            REQUIRE(std::fabs(read(text, expected).nominal - kelvin) < 1e-11);
        }
    }
}

TEST_CASE("a short tolerance as written prints and reads back as the same quantity") {
    Random random;
    int symmetrical = 0;
    for (int i = 0; i < rounds; ++i) {
        const Unit unit = *read_unit(random.unit());
        const Expected expected{unit.dimension, false, false};
        const std::string middle = random.decimal(4);  // one after the other: the order is not the compiler's
        const std::string written = "(" + middle + " ± " + random.decimal(3) + ") " + unit.symbol;
        const Quantity quantity =
            read(unit.symbol.empty() ? written.substr(1, written.size() - 3) : written, expected);
        const std::string text = print_value(quantity.range, quantity.nominal, unit, false, 15);
        CAPTURE(text);
        if (text.find("±") == std::string::npos) continue;  // wide ones print their ends, another form
        ++symmetrical;
        const Quantity back = read(text, expected);
        REQUIRE(same_number(back.range.high, quantity.range.high));
        REQUIRE(std::fabs(back.range.low - quantity.range.low) <= 1e-12 * std::fabs(quantity.range.high));
        REQUIRE(same_number(back.nominal, quantity.nominal));
    }
    CHECK(symmetrical > rounds / 4);
}

TEST_CASE("a range prints and reads back as the same range") {
    Random random;
    for (int i = 0; i < rounds; ++i) {
        const Unit unit = *read_unit(random.unit());
        if (unit.symbol == "°")
            continue;  // 5° has no space, 5° to 9° reads as well but not by this replacement
        const Expected expected{unit.dimension, false, false};
        const double a = read(with_unit(random.decimal(6), unit.symbol), expected).nominal;
        const double b = read(with_unit(random.decimal(6), unit.symbol), expected).nominal;
        if (a == b) continue;
        std::string text = print_range(std::min(a, b), std::max(a, b), unit, false, 6);
        CAPTURE(text);
        text.replace(text.find(" to "), 4, " .. ");
        const auto result = read_range(text, expected);
        REQUIRE(std::holds_alternative<PermittedRange>(result));
        REQUIRE(std::get<PermittedRange>(result).lower == std::min(a, b));
        REQUIRE(std::get<PermittedRange>(result).upper == std::max(a, b));
    }
}

TEST_CASE("a value that differs from its limit by more than input can tell never prints like it") {
    Random random;
    for (int i = 0; i < rounds; ++i) {
        const Unit unit = *read_unit(random.unit());
        const double limit =
            read(with_unit(random.decimal(6), unit.symbol), {unit.dimension, false, false}).nominal;
        const double share = std::pow(10.0, random.between(-11.7, 0.0));  // from 2e-12 on
        const double value = i % 2 == 0 ? limit * (1.0 + share) : limit * (1.0 - share);
        if (same_number(value, limit)) continue;
        const int digits = digits_to_tell_apart(value, limit, unit, false);
        CAPTURE(digits);
        REQUIRE(print_number(value, unit, false, digits) != print_number(limit, unit, false, digits));
    }
}

TEST_CASE("the same holds for temperatures, whose offset eats digits") {
    Random random;
    for (int i = 0; i < rounds; ++i) {
        const double limit = random.between(230.0, 400.0);
        const double value = limit * (1.0 + std::pow(10.0, random.between(-11.7, -2.0)));
        for (const char* name : {"°C", "°F", "K"}) {
            const Unit unit = *read_unit(name);
            const int digits = digits_to_tell_apart(value, limit, unit, true);
            REQUIRE(print_number(value, unit, true, digits) != print_number(limit, unit, true, digits));
        }
    }
}

TEST_CASE("the same holds for areas in wire gauge") {
    const Unit gauge = *read_unit("AWG");
    const Expected area{gauge.dimension, false, false};
    for (const char* name : {"4/0 AWG", "2/0 AWG", "4 AWG", "22 AWG"}) {
        const double limit = read(name, area).nominal;
        for (const double share : {2e-12, 1e-9, 1e-6, 0.01}) {
            const double value = limit * (1.0 - share);
            const int digits = digits_to_tell_apart(value, limit, gauge, false);
            CHECK(print_number(value, gauge, false, digits) != print_number(limit, gauge, false, digits));
        }
    }
}
