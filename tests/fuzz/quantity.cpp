// Any text as one quantity or permitted range. The first byte chooses what the field wants.
#include <cmath>

#include "engine/text/safe_print.hpp"
#include "engine/units/print_quantity.hpp"
#include "engine/units/read_quantity.hpp"
#include "tests/fuzz/oracle.hpp"

namespace {

using namespace packproof;

constexpr const char* wanted_units[] = {"mm",  "A",   "N", "V",  "mΩ",  "°C",
                                        "N·m", "mm²", "",  "Ah", "K/W", "1/s"};

void demand_good(const units::ReadError& error, std::string_view text) {
    fuzz::demand(error.begin <= error.end && error.end <= text.size(), "a mistake lies inside the text");
    fuzz::demand(!error.text.empty(), "a mistake says something");
    fuzz::demand(text::check_utf8(error.text).good && text::check_utf8(error.hint).good,
                 "a mistake is whole UTF-8");
}

void demand_good(const units::Quantity& quantity, const units::Expected& expected) {
    fuzz::demand(quantity.range.low <= quantity.range.high, "a tolerance's ends are in order");
    fuzz::demand(std::isfinite(quantity.nominal), "a quantity's value is a number");
    fuzz::demand(quantity.range.contains(quantity.nominal), "a quantity's value lies inside its tolerance");
    fuzz::demand(quantity.unit.dimension == expected.dimension || expected.rate_allowed,
                 "the dimension is the field's");
    const std::string printed =
        units::print_value(quantity.range, quantity.nominal, quantity.unit, quantity.absolute);
    fuzz::demand(!printed.empty() && text::check_utf8(printed).good, "a quantity prints");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (size == 0) return 0;
    const unsigned choice = data[0] % (std::size(wanted_units) * 2);
    const auto unit = units::read_unit(wanted_units[choice / 2]);
    fuzz::demand(unit.has_value(), "the units that this target wants are known");
    units::Expected expected;
    expected.dimension = unit->dimension;
    expected.absolute = unit->temperature && choice % 2 == 0;
    expected.rate_allowed = std::string_view{wanted_units[choice / 2]} == "A" && choice % 2 == 0;

    const std::string_view text = fuzz::as_text(data + 1, size - 1);
    if (!text::check_utf8(text).good) return 0;  // refused before any value is read
    const auto quantity = units::read_quantity(text, expected);
    if (const auto* error = std::get_if<units::ReadError>(&quantity)) demand_good(*error, text);
    if (const auto* read = std::get_if<units::Quantity>(&quantity)) demand_good(*read, expected);
    const auto range = units::read_range(text, expected);
    if (const auto* error = std::get_if<units::ReadError>(&range)) demand_good(*error, text);
    if (const auto* read = std::get_if<units::PermittedRange>(&range)) {
        fuzz::demand(read->lower <= read->upper, "a range's ends are in order");
        fuzz::demand(!units::print_range(read->lower, read->upper, read->unit, read->absolute).empty(),
                     "a range prints");
    }
    return 0;
}
