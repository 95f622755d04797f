#include <algorithm>
#include <array>
#include <string>
#include <vector>

#include "engine/text/nearest_name.hpp"
#include "engine/units/dimension_table.hpp"
#include "engine/units/unit.hpp"
#include "engine/units/unit_table.hpp"

// Suggestions for a unit that is not known or does not fit. Only error messages come here, so nothing is
// kept.

namespace packproof::units {

namespace {

struct Slip {
    std::string_view folded;
    std::string_view meant;
};

// Too far from what is meant for a spelling distance to find.
constexpr std::array slips = {
    Slip{"c", "°C"},      Slip{"f", "°F"},      Slip{"deg", "°C"},    Slip{"celsius", "°C"},
    Slip{"kelvin", "K"},  Slip{"kg", "kgf"},    Slip{"g", "gf"},      Slip{"lb", "lbf"},
    Slip{"lbs", "lbf"},   Slip{"oz", "ozf"},    Slip{"ga", "AWG"},    Slip{"gauge", "AWG"},
    Slip{"newton", "N"},  Slip{"pascal", "Pa"}, Slip{"pct", "%"},     Slip{"ampere", "A"},
    Slip{"amperes", "A"}, Slip{"mm", "mm²"},    Slip{"cm", "cm²"},    Slip{"kgcm", "kgf·cm"},
    Slip{"kgm", "kgf·m"}, Slip{"\"", "in"},     Slip{"\u2033", "in"}, Slip{"amps", "A"},
    Slip{"volts", "V"},   Slip{"watts", "W"},   Slip{"megohm", "MΩ"}, Slip{"megohms", "MΩ"},
    Slip{"kilohm", "kΩ"}, Slip{"kilohms", "kΩ"}};

struct Replacement {
    std::string_view from;
    std::string_view to;
};

constexpr std::array replacements = {Replacement{"·", ""},  Replacement{".", ""},    Replacement{" ", ""},
                                     Replacement{"-", ""},  Replacement{"^", ""},    Replacement{"(", ""},
                                     Replacement{")", ""},  Replacement{"²", "2"},   Replacement{"³", "3"},
                                     Replacement{"µ", "u"}, Replacement{"Ω", "ohm"}, Replacement{"°", "deg"}};

/// Without what slips: case, dots, powers as digits, Greek letters.
std::string folded(std::string_view text) {
    std::string result = normal_spelling(text);
    for (const Replacement& replacement : replacements)
        for (std::size_t at = result.find(replacement.from); at != std::string::npos;
             at = result.find(replacement.from, at))
            result.replace(at, replacement.from.size(), replacement.to);
    for (char& c : result)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return result;
}

void add_once(std::vector<std::string>& list, std::string_view symbol) {
    if (std::find(list.begin(), list.end(), symbol) == list.end()) list.emplace_back(symbol);
}

bool has_dimension(std::string_view unit, const Dimension* dimension) {
    if (dimension == nullptr) return true;
    const auto read = read_unit(unit);
    return read && read->dimension == *dimension;
}

/// Printed symbols, the common ones of every dimension before the rest.
std::vector<std::string> symbols_of(const Dimension* dimension) {
    std::vector<std::string> symbols;
    for (const DimensionEntry& entry : dimension_entries()) {
        if (dimension != nullptr && entry.dimension != *dimension) continue;
        for (const std::string_view unit : entry.units)
            if (!unit.empty()) add_once(symbols, unit);
    }
    for (const std::string_view name : simple_unit_names()) {
        const auto simple = find_simple_unit(name);
        if (dimension == nullptr || simple->dimension == *dimension) add_once(symbols, simple->symbol);
    }
    return symbols;
}

std::string nearest(std::string_view text, const Dimension* dimension) {
    const std::string sought = folded(text);
    if (sought.empty()) return {};
    const std::vector<std::string> symbols = symbols_of(dimension);
    std::vector<std::string> spelled;
    for (const std::string& symbol : symbols)
        spelled.push_back(folded(symbol));
    std::string found;
    for (std::size_t i = 0; i < symbols.size(); ++i) {
        if (spelled[i] != sought || symbols[i] == text) continue;
        if (symbols[i].front() == text.front()) return symbols[i];  // "MOHM" is nearer to MΩ than to mΩ
        if (found.empty()) found = symbols[i];
    }
    if (!found.empty()) return found;
    for (const Slip& slip : slips)
        if (slip.folded == sought && has_dimension(slip.meant, dimension)) return std::string{slip.meant};
    const std::vector<std::string_view> candidates(spelled.begin(), spelled.end());
    const std::string_view name = text::nearest_name(sought, candidates);
    for (std::size_t i = 0; !name.empty() && i < candidates.size(); ++i) {
        if (candidates[i] != name) continue;
        if (found.empty()) found = symbols[i];
        if (symbols[i].front() == text.front())
            return symbols[i];  // a milli for a mega would be nine powers off
    }
    return found;
}

}  // namespace

std::string nearest_unit(std::string_view text) {
    return nearest(text, nullptr);
}

std::string nearest_unit(std::string_view text, const Dimension& dimension) {
    return nearest(text, &dimension);
}

}  // namespace packproof::units
