// Wrong texts with their whole messages: what is wrong, where, and what to write instead.
#include <string>
#include <string_view>
#include <variant>

#include <doctest/doctest.h>

#include "engine/text/safe_print.hpp"
#include "engine/units/read_quantity.hpp"

using namespace packproof::units;

namespace {

struct Row {
    const char* unit;  ///< of what is due; "T": a temperature, "rate": a current that may be a rate
    const char* text;
    const char* marked;  ///< the piece of the text that the error points at
    const char* message;
    const char* hint;
};

const Row rows[] = {
    // no unit
    {"mm", "12", "12", "\"12\" has no unit", "write for example \"12 mm\""},
    {"mm", "0", "0", "\"0\" has no unit", "write for example \"0 mm\""},
    {"mm", "12 ± 0.2", "0.2", "\"0.2\" has no unit", "write for example \"12 ± 0.2 mm\""},
    {"mm", "12 mm ± 0.2", "0.2", "\"0.2\" has no unit", "write \"12 mm ± 0.2 mm\""},
    {"mm", "12 ± 5 %", "12", "\"12\" has no unit", "write for example \"12 mm ± 5 %\""},
    {"mm", "2 mm .. 3", "3", "\"3\" has no unit", "write \"2 mm .. 3 mm\""},
    {"mm", "12 mm +0.1/-0.3", "-0.3", "\"-0.3\" has no unit", "write \"12 mm +0.1/-0.3 mm\""},
    {"A", "<= 5", "5", "\"5\" has no unit", "write for example \"<= 5 A\""},
    // a unit of another dimension
    {"mm", "12 A", "12 A", "\"12 A\" is a current, but a length is due", "write for example \"12 mm\""},
    {"N", "300 kg", "300 kg", "\"300 kg\" is a mass, but a force is due", "did you mean \"300 kgf\"?"},
    {"N·m", "10 nm", "10 nm", "\"10 nm\" is a length, but a torque or energy is due",
     "did you mean \"10 N·m\"?"},
    {"N·m", "20 kg.cm", "20 kg.cm", "\"20 kg.cm\" is a quantity in m·kg, but a torque or energy is due",
     "did you mean \"20 kgf·cm\"?"},
    {"mm²", "50 mm", "50 mm", "\"50 mm\" is a length, but an area is due", "did you mean \"50 mm²\"?"},
    {"", "12 mm", "12 mm", "\"12 mm\" is a length, but a plain number is due", "write for example \"12\""},
    {"A", "280 Ah", "280 Ah", "\"280 Ah\" is an electric charge, but a current is due",
     "did you mean \"280 A\"?"},
    {"mm", "12 ± 2 V", "2 V", "\"2 V\" is a voltage, but a length is due", "write for example \"12 ± 2 mm\""},
    {"A", "2/0 AWG", "2/0 AWG", "\"2/0 AWG\" is an area, but a current is due", "write for example \"12 A\""},
    // a unit that is not known
    {"N", "3 KN", "KN", "the unit \"KN\" is not known", "did you mean \"3 kN\"?"},
    {"N", "3 kn", "kn", "the unit \"kn\" is not known", "did you mean \"3 kN\"?"},
    {"Ω", "5 MOHM", "MOHM", "the unit \"MOHM\" is not known", "did you mean \"5 MΩ\"?"},
    {"mm", "12 zebra", "zebra", "the unit \"zebra\" is not known", "write for example \"12 mm\""},
    {"T", "25 C", "C", "the unit \"C\" is not known", "did you mean \"25 °C\"?"},
    {"A", "0.5C", "C", "the unit \"C\" is not known", "write for example \"0.5 A\""},
    {"A", "200 Amps", "Amps", "the unit \"Amps\" is not known", "did you mean \"200 A\"?"},
    {"mm²", "12 gauge", "gauge", "the unit \"gauge\" is not known", "did you mean \"12 AWG\"?"},
    {"mm", "0.5\"", "\"", "the unit \"\"\" is not known", "did you mean \"0.5 in\"?"},
    {"W/(m·K)", "2 W/m/K", "W/m/K", "the unit \"W/m/K\" is not known", "did you mean \"2 W/(m·K)\"?"},
    {"Pa", "10 mPa", "mPa", "the unit \"mPa\" is not known", "did you mean \"10 MPa\"?"},
    // numbers that read two ways or none
    {"mm", "4,5 mm", "4,5", "\"4,5\" has a decimal comma", "write \"4.5 mm\""},
    {"mm", "4,5 ± 0,2 mm", "4,5", "\"4,5\" has a decimal comma", "write \"4.5 ± 0.2 mm\""},
    {"mm", "0,125 mm", "0,125", "\"0,125\" has a decimal comma", "write \"0.125 mm\""},
    {"mm", "1,000 mm", "1,000", "\"1,000\" reads two ways", "write \"1000 mm\" or \"1.000 mm\""},
    {"mm", "1,000.5 mm", "1,000.5", "\"1,000.5\" has a comma between its digits", "write \"1000.5 mm\""},
    {"mm", "1,000,000 mm", "1,000,000", "\"1,000,000\" has a comma between its digits",
     "write \"1000000 mm\""},
    {"mm", "1 000 mm", "1 000", "\"1 000\" has something between its digits", "write \"1000 mm\""},
    {"mm", "1_000 mm", "1_000", "\"1_000\" has something between its digits", "write \"1000 mm\""},
    {"mm", "1'000 mm", "1'000", "\"1'000\" has something between its digits", "write \"1000 mm\""},
    {"mm", "1\u202F000 mm", "1\u202F000", "\"1\u202F000\" has something between its digits",
     "write \"1000 mm\""},
    {"mm", "5. mm", "5.", "\"5.\" ends with a point", "write \"5 mm\""},
    {"mm", ".5 mm", ".", "a number begins with a point", "write \"0.5 mm\""},
    {"mm", "1/2 in", "1/2", "\"1/2\" is a fraction", "write a decimal number, for example \"0.5 in\""},
    {"", "50 ± 5 %", "50 ± 5 %", "\"50 ± 5 %\" reads two ways",
     "write \"(50 ± 5) %\", or \"50 +D/-D\" with the deviation D as a number"},
    {"mm", "1e40 mm", "1e40", "\"1e40\" is out of range", "numbers lie between 1e-30 and 1e30"},
    {"mm", "1e-40 mm", "1e-40", "\"1e-40\" is out of range", "numbers lie between 1e-30 and 1e30"},
    {"mm", "1e99999999999 mm", "1e99999999999", "\"1e99999999999\" is out of range",
     "numbers lie between 1e-30 and 1e30"},
    {"mm", "1.2345678901234567891 mm", "1.2345678901234567891",
     "\"1.2345678901234567891\" has more than 18 digits", "round it"},
    {"mm", "inf mm", "inf", "\"inf\" is not a number that a thing can have",
     "for a value with no upper end write for example \">= 10 kA\""},
    {"mm", "-Infinity", "-Infinity", "\"infinity\" is not a number that a thing can have",
     "for a value with no upper end write for example \">= 10 kA\""},
    {"mm", "NaN", "NaN", "\"nan\" is not a number that a thing can have",
     "for a value with no upper end write for example \">= 10 kA\""},
    // forms
    {"mm", "", "", "a number is missing here", "write for example \"12 mm\""},
    {"mm", "~", "", "a number is missing here", "write for example \"12 mm\""},
    {"mm", "12 mm ±", "", "a number is missing here", "write for example \"12 mm\""},
    {"mm", "12 ..", "", "a number is missing here", "write for example \"12 mm\""},
    {"mm", "about 5 mm", "about 5 mm", "\"about 5 mm\" is not a number with a unit",
     "write for example \"12 mm\""},
    {"mm", "mm 5", "mm 5", "\"mm 5\" is not a number with a unit", "write for example \"12 mm\""},
    {"mm", "< 5 mm", "<", "\"<\" leaves open whether the end belongs to it", "write \"<= 5 mm\""},
    {"mm", ">5 mm", ">", "\">\" leaves open whether the end belongs to it", "write \">= 5 mm\""},
    {"mm", "2-3 mm", "-", "\"-\" does not join the ends of a range", "write \"2 .. 3 mm\""},
    {"mm", "2 – 3 mm", "–", "\"–\" does not join the ends of a range", "write \"2 .. 3 mm\""},
    {"mm", "2 mm to 3 mm", "to", "\"to\" does not join the ends of a range", "write \"2 mm .. 3 mm\""},
    {"mm", "3 .. 2 mm", "3 .. 2 mm", "the range begins at its upper end", "write \"2 .. 3 mm\""},
    {"mm", "3 cm .. 2 mm", "3 cm .. 2 mm", "the range begins at its upper end", "write \"2 mm .. 3 cm\""},
    {"mm", "12 ± -0.2 mm", "-0.2", "a tolerance is not negative", "write \"± 0.2\""},
    {"mm", "12 +0.1 mm", "", "an upper deviation stands without a lower one",
     "write for example \"12 +0.1/-0 mm\""},
    {"mm", "12 +-0.1/-0.2 mm", "/-0.2 mm", "the unit \"/-0.2 mm\" is not known",
     "write for example \"12 +-0.1 mm\""},
    {"mm", "12 -0.3/+0.1 mm", "-0.3/+0.1 mm", "the lower deviation stands before the upper one",
     "write for example \"12 +0.1/-0.3 mm\""},
    {"mm", "12 +0.1/--0.3 mm", "0.1/--0.3", "a deviation has two signs",
     "write for example \"12 +0.1/-0.3 mm\""},
    {"A", "250 A +5/-5 %", "%", "deviations are not given in percent here",
     "write them in the unit of the value"},
    {"mm", "<= 5 ± 1 mm", "± 1 mm", "a one-sided value takes neither a tolerance nor a second end",
     "write a range, for example \"2 .. 5 mm\""},
    {"mm", "2 .. 3 .. 4 mm", ".. 4 mm", "\".. 4 mm\" is one too many",
     "write one value with at most one tolerance or two ends"},
    {"mm", "12 mm approx", " approx", "\"12 mm approx\" is more than a number and a unit",
     "write only \"12 mm\""},
    {"mm", "51 mm × 25 mm", " × 25 mm", "\"51 mm × 25 mm\" is more than a number and a unit",
     "write only \"51 mm\""},
    {"mm", "(12 ± 0.2)", "0.2", "\"(12 ± 0.2)\" has no unit", "write for example \"(12 ± 0.2) mm\""},
    {"mm", "(12 ± 0.2) V", "(12 ± 0.2) V", "\"(12 ± 0.2) V\" is a voltage, but a length is due",
     "write for example \"(12 ± 0.2) mm\""},
    {"mm", "(12) mm", "12) mm", "brackets hold a value and its tolerance, nothing else",
     "write for example \"(71.7 ± 0.5) mm\""},
    {"mm", "(12 mm ± 0.2 mm)", "12 mm ± 0.2 mm)", "brackets hold a value and its tolerance, nothing else",
     "write for example \"(71.7 ± 0.5) mm\""},
    {"mm", "(12 ± -0.2) mm", "-0.2", "a tolerance is not negative", "write \"± 0.2\""},
    // temperatures
    {"T", "-300 °C", "-300 °C", "\"-300 °C\" lies below absolute zero", "check the sign and the unit"},
    {"T", "-1 K", "-1 K", "\"-1 K\" lies below absolute zero", "check the sign and the unit"},
    {"T", "25 °C ± 5 %", "5 %", "a percentage of a temperature in °C says nothing",
     "write for example \"25 ± 2 °C\""},
    // wire gauges and rates
    {"mm²", "5/0 AWG", "5/0", "\"5/0\" is not a wire gauge",
     "sizes are 4/0, 3/0, 2/0, 1/0 and 1 to 40, for example \"2/0 AWG\""},
    {"mm²", "AWG", "", "the wire gauge has no size",
     "sizes are 4/0, 3/0, 2/0, 1/0 and 1 to 40, for example \"2/0 AWG\""},
    {"mm²", "4 AWG ± 5 %", "± 5 %", "a wire gauge stands alone",
     "write the area instead, for example \"67.4 ± 0.5 mm²\""},
    {"rate", "0.2 A .. 0.5C", "0.2 A .. 0.5C", "one end is a rate and the other is not",
     "write both ends in one unit"},
};

Expected due(const std::string& unit) {
    if (unit == "T") return {read_unit("K")->dimension, true, false};
    if (unit == "rate") return {read_unit("A")->dimension, false, true};
    return {read_unit(unit)->dimension, false, false};
}

/// Bytes that a fuzzer would reach first.
std::string odd_text(unsigned seed) {
    static constexpr std::string_view pieces[] = {"1",  "0",   ".",  "..", "e",    "-",   "+",  "±",  "/",
                                                  "%",  "mm",  "A",  " ",  "\xff", "\0",  "~",  "<=", ">",
                                                  ",",  "²",   "·",  "(",  ")",    "AWG", "°C", "C",  "5",
                                                  "-9", "e-5", "to", "–",  "K",    "k",   "\t", "N",  "\xc2"};
    std::string text;
    for (unsigned i = 0; i < 1U + seed % 7U; ++i) {
        seed = seed * 1664525U + 1013904223U;  // Numerical Recipes' generator
        text += pieces[(seed >> 16U) % std::size(pieces)];
    }
    return text;
}

}  // namespace

TEST_CASE("a wrong text gets its message, its place and its hint") {
    for (const Row& row : rows) {
        CAPTURE(row.text);
        const auto result = read_quantity(row.text, due(row.unit));
        const auto* error = std::get_if<ReadError>(&result);
        CHECK(error != nullptr);
        if (error == nullptr) continue;
        CHECK(error->text == row.message);
        CHECK(error->hint == row.hint);
        CHECK(std::string{row.text}.substr(error->begin, error->end - error->begin) == row.marked);
    }
}

TEST_CASE("what a hint tells to write can be read") {
    int followed = 0;
    for (const Row& row : rows) {
        const std::string_view hint = row.hint;
        const bool whole = hint.starts_with("did you mean") || hint.starts_with("write \"") ||
                           hint.starts_with("write only") || hint.starts_with("write for example \"");
        const std::size_t begin = hint.find('"') + 1;
        const std::string instead{hint.substr(begin, hint.find('"', begin) - begin)};
        if (!whole || instead.starts_with("±")) continue;
        CAPTURE(row.text);
        CAPTURE(instead);
        CHECK(std::holds_alternative<Quantity>(read_quantity(instead, due(row.unit))));
        ++followed;
    }
    CHECK(followed > 50);
}

TEST_CASE("any text gives a quantity or an error inside the text, never NaN") {
    for (unsigned seed = 0; seed < 20'000; ++seed) {
        const std::string text = odd_text(seed);
        for (const char* unit : {"mm", "T", "rate", ""}) {
            const auto result = read_quantity(text, due(unit));
            bool good = true;
            if (const auto* error = std::get_if<ReadError>(&result)) {
                good = error->begin <= error->end && error->end <= text.size() && !error->text.empty();
            } else {
                const Quantity& quantity = std::get<Quantity>(result);
                good = quantity.range.low <= quantity.range.high && quantity.range.contains(quantity.nominal);
            }
            if (!good) FAIL("text: ", packproof::text::safe_print(text));
        }
    }
}
