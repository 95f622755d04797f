#include "engine/units/unit_table.hpp"

#include <algorithm>
#include <array>
#include <cstdint>
#include <vector>

#include "engine/text/utf8.hpp"

namespace packproof::units {

namespace {

/// Exponents of metre, kilogram, second, ampere, kelvin, mole.
constexpr Dimension of(int metre, int kilogram, int second, int ampere = 0, int kelvin = 0, int mole = 0) {
    const auto small = [](int n) { return static_cast<std::int8_t>(n); };
    return {{small(metre), small(kilogram), small(second), small(ampere), small(kelvin), small(mole), 0}};
}

constexpr Dimension length = of(1, 0, 0);
constexpr Dimension area = of(2, 0, 0);
constexpr Dimension volume = of(3, 0, 0);
constexpr Dimension mass = of(0, 1, 0);
constexpr Dimension time = of(0, 0, 1);
constexpr Dimension current = of(0, 0, 0, 1);
constexpr Dimension temperature = of(0, 0, 0, 0, 1);
constexpr Dimension force = of(1, 1, -2);
constexpr Dimension energy = of(2, 1, -2);
constexpr Dimension power_of_time = of(2, 1, -3);
constexpr Dimension pressure = of(-1, 1, -2);
constexpr Dimension number = of(0, 0, 0);

struct Entry {
    std::string_view symbol;
    std::string_view prefixes;  ///< which ones people use; others would only hide slips ("mPa" for MPa)
    Dimension dimension;
    Scale scale;
};

// Exact by definition: inch 25.4 mm and pound 0.45359237 kg (international yard and pound agreement, 1959),
// standard gravity 9.80665 m/s² (3rd CGPM, 1901), litre 1 dm³ (12th CGPM, 1964), standard atmosphere
// 101 325 Pa (10th CGPM, 1954). lbf = lb × gravity; psi = lbf/in².
// A circular mil is π/4 mil² (ASTM B258), a kcmil a thousand of them.
constexpr std::array entries = {
    Entry{"m", "nµmcdk", length, {}},
    Entry{"in", "", length, {254, 1, -4, 0}},
    Entry{"ft", "", length, {3048, 1, -4, 0}},
    Entry{"mil", "", length, {254, 1, -7, 0}},
    Entry{"kcmil", "", area, {16129, 1, -11, 1}},
    Entry{"L", "µmcd", volume, {1, 1, -3, 0}},
    Entry{"g", "µmk", mass, {1, 1, -3, 0}},
    Entry{"lb", "", mass, {45359237, 1, -8, 0}},
    Entry{"oz", "", mass, {45359237, 16, -8, 0}},
    Entry{"s", "nµm", time, {}},
    Entry{"min", "", time, {60, 1, 0, 0}},
    Entry{"h", "", time, {3600, 1, 0, 0}},
    Entry{"d", "", time, {86400, 1, 0, 0}},
    Entry{"A", "nµmk", current, {}},
    Entry{"K", "mk", temperature, {}},
    Entry{"°C", "", temperature, {}},
    Entry{"°F", "", temperature, {5, 9, 0, 0}},
    Entry{"mol", "µmk", of(0, 0, 0, 0, 0, 1), {}},
    Entry{"V", "nµmk", of(2, 1, -3, -1), {}},
    Entry{"Ω", "nµmkMG", of(2, 1, -3, -2), {}},
    Entry{"S", "nµmkM", of(-2, -1, 3, 2), {}},
    Entry{"F", "pnµm", of(-2, -1, 4, 2), {}},
    Entry{"H", "nµm", of(2, 1, -2, -2), {}},
    Entry{"Hz", "kMG", of(0, 0, -1), {}},
    Entry{"N", "mckM", force, {}},
    Entry{"kgf", "", force, {980665, 1, -5, 0}},
    Entry{"gf", "", force, {980665, 1, -8, 0}},
    Entry{"lbf", "", force, {44482216152605, 1, -13, 0}},
    Entry{"ozf", "", force, {44482216152605, 16, -13, 0}},
    Entry{"Pa", "hkMG", pressure, {}},
    Entry{"bar", "m", pressure, {1, 1, 5, 0}},
    Entry{"atm", "", pressure, {101325, 1, 0, 0}},
    Entry{"psi", "", pressure, {44482216152605, 64516, -5, 0}},
    Entry{"J", "mkMG", energy, {}},
    Entry{"Wh", "mkM", energy, {3600, 1, 0, 0}},
    Entry{"W", "nµmkMG", power_of_time, {}},
    Entry{"VA", "kM", power_of_time, {}},
    Entry{"Ah", "µmk", of(0, 0, 1, 1), {3600, 1, 0, 0}},
    Entry{"%", "", number, {1, 1, -2, 0}},
    Entry{"ppm", "", number, {1, 1, -6, 0}},
    Entry{"rad", "m", number, {}},
    Entry{"°", "", number, {1, 180, 0, 1}},
};

struct Spelling {
    std::string_view written;
    std::string_view symbol;
};

// Other ways to write the symbols above, prefixes go before these too ("mohm"); whole words take none.
constexpr std::array spellings = {
    Spelling{"ohm", "Ω"},     Spelling{"Ohm", "Ω"},      Spelling{"ohms", "Ω"},      Spelling{"Ohms", "Ω"},
    Spelling{"l", "L"},       Spelling{"hr", "h"},       Spelling{"hrs", "h"},       Spelling{"hour", "h"},
    Spelling{"hours", "h"},   Spelling{"minute", "min"}, Spelling{"minutes", "min"}, Spelling{"sec", "s"},
    Spelling{"second", "s"},  Spelling{"seconds", "s"},  Spelling{"day", "d"},       Spelling{"days", "d"},
    Spelling{"inch", "in"},   Spelling{"inches", "in"},  Spelling{"foot", "ft"},     Spelling{"feet", "ft"},
    Spelling{"thou", "mil"},  Spelling{"MCM", "kcmil"},  Spelling{"degC", "°C"},     Spelling{"deg C", "°C"},
    Spelling{"° C", "°C"},    Spelling{"degF", "°F"},    Spelling{"° F", "°F"},      Spelling{"deg", "°"},
    Spelling{"kp", "kgf"},    Spelling{"lbs", "lb"},     Spelling{"volt", "V"},      Spelling{"volts", "V"},
    Spelling{"amp", "A"},     Spelling{"amps", "A"},     Spelling{"watt", "W"},      Spelling{"watts", "W"},
    Spelling{"percent", "%"},
};

struct Prefix {
    std::string_view symbol;
    int ten;
};

constexpr std::array prefixes = {Prefix{"p", -12}, Prefix{"n", -9}, Prefix{"µ", -6}, Prefix{"m", -3},
                                 Prefix{"c", -2},  Prefix{"d", -1}, Prefix{"h", 2},  Prefix{"k", 3},
                                 Prefix{"M", 6},   Prefix{"G", 9}};

struct Name {
    std::uint64_t key = 0;  ///< the name's bytes, first byte highest: eight at most, compared at once
    std::string_view written;
    std::uint16_t entry = 0;
};

constexpr std::size_t longest_name = 8;

constexpr std::uint64_t key_of(std::string_view name) {
    std::uint64_t key = 0;
    for (std::size_t i = 0; i < longest_name; ++i)
        key = key << 8U | (i < name.size() ? static_cast<unsigned char>(name[i]) : 0U);
    return key;
}

constexpr auto names = [] {
    std::array<Name, entries.size() + spellings.size()> result{};
    std::size_t count = 0;
    for (std::size_t i = 0; i < entries.size(); ++i)
        result[count++] = {key_of(entries[i].symbol), entries[i].symbol, static_cast<std::uint16_t>(i)};
    for (const Spelling& spelling : spellings)
        for (std::size_t i = 0; i < entries.size(); ++i)
            if (entries[i].symbol == spelling.symbol)
                result[count++] = {key_of(spelling.written), spelling.written, static_cast<std::uint16_t>(i)};
    std::sort(result.begin(), result.end(), [](const Name& a, const Name& b) { return a.key < b.key; });
    return result;
}();
static_assert(names.front().key != 0, "every other spelling names a symbol of the table");
static_assert(std::all_of(names.begin(), names.end(),
                          [](const Name& name) { return name.written.size() <= longest_name; }));

const Entry* find_entry(std::string_view name) {
    if (name.empty() || name.size() > longest_name) return nullptr;
    const std::uint64_t key = key_of(name);
    const auto* const found =
        std::lower_bound(names.begin(), names.end(), key,
                         [](const Name& candidate, std::uint64_t sought) { return candidate.key < sought; });
    return found != names.end() && found->key == key ? &entries[found->entry] : nullptr;
}

/// "volts", "inches": a word that no prefix goes before.
bool is_word(std::string_view name) {
    return name.size() > 3 && name != "ohms" && name != "Ohms";
}

bool takes(const Entry& entry, const Prefix& prefix) {
    return entry.prefixes.find(prefix.symbol) != std::string_view::npos;
}

SimpleUnit made_of(const Entry& entry, std::string_view prefix, int ten) {
    Scale scale = entry.scale;
    scale.ten += ten;
    std::string symbol{prefix};
    symbol += entry.symbol;
    const bool degree = entry.symbol == "°C" || entry.symbol == "°F";
    return {std::move(symbol), entry.dimension, scale, degree || (entry.symbol == "K" && prefix.empty())};
}

char32_t normal_character(char32_t c) {
    switch (c) {
        case 0x03BC:
            return 0x00B5;  // mu for micro
        case 0x2126:
            return 0x03A9;  // ohm sign for omega
        case 0x00BA:
        case 0x02DA:
            return 0x00B0;  // ordinal, ring for degree
        case 0x22C5:
        case 0x2219:
        case 0x2022:
        case '*':
        case 0x00D7:
            return 0x00B7;  // product
        case 0x2212:
        case 0x207B:
            return '-';
        case 0x00A0:
        case 0x202F:
        case 0x2009:
        case 0x2007:
            return ' ';
        case 0x2044:
        case 0x2215:
            return '/';
        default:
            return c;
    }
}

}  // namespace

std::optional<SimpleUnit> find_simple_unit(std::string_view name) {
    if (const Entry* entry = find_entry(name)) return made_of(*entry, "", 0);
    for (const Prefix& prefix : prefixes) {
        const bool typed_u = prefix.symbol == "µ" && name.starts_with('u');
        if (!typed_u && !name.starts_with(prefix.symbol)) continue;
        const std::string_view rest = name.substr(typed_u ? 1 : prefix.symbol.size());
        const Entry* entry = is_word(rest) ? nullptr : find_entry(rest);
        if (entry != nullptr && takes(*entry, prefix)) return made_of(*entry, prefix.symbol, prefix.ten);
    }
    return std::nullopt;
}

std::string normal_spelling(std::string_view written) {
    std::string result;
    for (std::size_t at = 0; at < written.size();) {
        if (static_cast<unsigned char>(written[at]) < 0x80U && written[at] != '*') {
            result.push_back(written[at++]);
            continue;
        }
        const text::CodePoint point = text::code_point_at(written, at);
        if (point.value == 0x2103 || point.value == 0x2109)
            result += point.value == 0x2103 ? "°C" : "°F";
        else
            text::append_utf8(result, normal_character(point.value));
        at += point.length;
    }
    return result;
}

std::span<const std::string_view> simple_unit_names() {
    static const std::vector<std::string> owned = [] {
        std::vector<std::string> result;
        for (const Name& name : names) {
            result.emplace_back(name.written);
            if (is_word(name.written)) continue;
            for (const Prefix& prefix : prefixes) {
                if (!takes(entries[name.entry], prefix)) continue;
                result.push_back(std::string{prefix.symbol} + std::string{name.written});
                if (prefix.symbol == "µ") result.push_back("u" + std::string{name.written});
            }
        }
        return result;
    }();
    static const std::vector<std::string_view> views(owned.begin(), owned.end());
    return views;
}

}  // namespace packproof::units
