#include "engine/units/unit.hpp"

#include <algorithm>
#include <array>
#include <span>
#include <utility>

#include "engine/units/dimension_table.hpp"
#include "engine/units/unit_table.hpp"

namespace packproof::units {

namespace {

constexpr std::size_t longest_unit = 64;
constexpr std::size_t most_known = 32;  // more than a description has, few enough to look through
constexpr std::size_t most_factors = 6;
constexpr int highest_power = 4;  // with six factors no exponent leaves its eight bits

struct Factor {
    SimpleUnit unit;
    int power = 1;
};

using Factors = std::vector<Factor>;

struct Alias {
    std::string_view written;
    std::string_view meant;
};

// Whole units that the grammar cannot read as people mean them.
constexpr std::array aliases = {
    Alias{"W/mK", "W/(m·K)"}, Alias{"J/kgK", "J/(kg·K)"}, Alias{"sqmm", "mm²"},     Alias{"sq mm", "mm²"},
    Alias{"sqin", "in²"},     Alias{"sq in", "in²"},      Alias{"cc", "cm³"},       Alias{"As", "A·s"},
    Alias{"Vs", "V·s"},       Alias{"inlb", "lbf·in"},    Alias{"inlbf", "lbf·in"}, Alias{"lbin", "lbf·in"},
    Alias{"lbfin", "lbf·in"}, Alias{"ftlb", "lbf·ft"},    Alias{"ftlbf", "lbf·ft"}, Alias{"lbft", "lbf·ft"},
    Alias{"lbfft", "lbf·ft"}};

constexpr std::array<std::string_view, 5> superscripts = {"⁰", "¹", "²", "³", "⁴"};
constexpr std::string_view dot = "·";
constexpr Dimension force{{1, 1, -2, 0, 0, 0, 0}};

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

/// "Nm", "kgfcm", "µΩm": a force or resistance and a length with nothing between.
bool read_run_together(std::string_view name, Factors& factors) {
    for (const std::string_view end : {"mm", "cm", "m"}) {
        if (!name.ends_with(end)) continue;
        const auto front = find_simple_unit(name.substr(0, name.size() - end.size()));
        if (!front) continue;
        const std::string_view kind = find_dimension(front->dimension)->name;
        if (kind != "force" && kind != "resistance") continue;
        factors.push_back({*front, 1});
        factors.push_back({*find_simple_unit(end), 1});
        return true;
    }
    return false;
}

/// Reads PRODUCT [ "/" PRODUCT ] out of a normal spelling; brackets may stand around either.
class Grammar {
  public:
    explicit Grammar(std::string_view text) : text_(text) {}

    bool read(Factors& factors) {
        skip_spaces();
        if (next_is("1") && text_.find('/', at_) != std::string_view::npos) {
            ++at_;
        } else if (!read_side(factors)) {
            return false;
        }
        skip_spaces();
        if (done()) return true;
        if (!take("/")) return false;
        Factors below;
        if (!read_side(below)) return false;
        for (Factor& factor : below)
            factor.power = -factor.power;
        factors.insert(factors.end(), below.begin(), below.end());
        skip_spaces();
        return done();
    }

  private:
    std::string_view text_;
    std::size_t at_ = 0;

    bool done() const { return at_ >= text_.size(); }
    bool next_is(std::string_view token) const {
        return !done() && text_[at_] == token.front() && text_.substr(at_).starts_with(token);
    }
    bool take(std::string_view token) {
        if (!next_is(token)) return false;
        at_ += token.size();
        return true;
    }
    void skip_spaces() {
        while (take(" ")) {}
    }

    bool read_side(Factors& factors) {
        skip_spaces();
        if (!take("(")) return read_product(factors);
        if (!read_product(factors)) return false;
        skip_spaces();
        return take(")");
    }

    bool read_product(Factors& factors) {
        do {
            if (factors.size() >= most_factors || !read_factor(factors)) return false;
        } while (take_product_sign());
        return true;
    }

    /// A dot, a space, a hyphen before a letter ("lbf-in"), or nothing after a power ("A²s").
    bool take_product_sign() {
        skip_spaces();
        if (take(dot) || take(".")) {
            skip_spaces();
            return true;
        }
        if (next_is("-") && at_ + 1 < text_.size() && name_length(at_ + 1) > 0) return take("-");
        return name_length(at_) > 0;
    }

    std::size_t superscript_at(std::size_t at) const {
        if (at >= text_.size() || static_cast<unsigned char>(text_[at]) < 0x80U) return superscripts.size();
        for (std::size_t i = 0; i < superscripts.size(); ++i)
            if (text_.substr(at).starts_with(superscripts[i])) return i;
        return superscripts.size();
    }

    std::size_t name_length(std::size_t begin) const {
        constexpr std::string_view ends = " ./()^-+0123456789";
        std::size_t at = begin;
        while (at < text_.size() && ends.find(text_[at]) == std::string_view::npos &&
               (static_cast<unsigned char>(text_[at]) < 0x80U ||
                (!text_.substr(at).starts_with(dot) && superscript_at(at) == superscripts.size())))
            ++at;
        return at - begin;
    }

    bool read_factor(Factors& factors) {
        const std::size_t length = name_length(at_);
        if (length == 0) return false;
        const std::string_view name = text_.substr(at_, length);
        if (const auto simple = find_simple_unit(name)) {
            factors.push_back({*simple, 1});
        } else if (!read_run_together(name, factors)) {
            return false;
        }
        at_ += length;
        return read_power(factors.back().power);
    }

    bool read_power(int& power) {
        const bool caret = take("^");
        const std::size_t digit_at = at_ + (next_is("-") ? 1U : 0U);
        const std::size_t raised = superscript_at(digit_at);
        if (raised < superscripts.size()) {
            power = static_cast<int>(raised);
            at_ = digit_at + superscripts[raised].size();
        } else if (digit_at < text_.size() && is_digit(text_[digit_at])) {
            power = text_[digit_at] - '0';
            at_ = digit_at + 1;
        } else {
            return !caret;
        }
        if (text_[digit_at - 1] == '-') power = -power;
        return power != 0 && power >= -highest_power && power <= highest_power &&
               (done() || !is_digit(text_[at_]));
    }
};

bool is_torque_arm(const Factor& factor) {
    return factor.unit.symbol == "in" || factor.unit.symbol == "ft";
}

/// What the trade means and how it writes it: lb·in is lbf·in, m·N is N·m, A·h is Ah, kW·h is kWh.
void rewrite_pair(Factors& factors) {
    if (factors.size() != 2 || factors[0].power != 1 || factors[1].power != 1) return;
    if (factors[1].unit.symbol == "lb" || factors[1].unit.dimension == force)
        std::swap(factors[0], factors[1]);
    if (factors[0].unit.symbol == "lb" && is_torque_arm(factors[1]))
        factors[0].unit = *find_simple_unit("lbf");
    if (factors[1].unit.symbol != "h") return;
    if (const auto joined = find_simple_unit(factors[0].unit.symbol + "h")) factors = {{*joined, 1}};
}

std::string product_symbol(const Factors& factors, int sign, std::size_t& count) {
    std::string symbol;
    for (const Factor& factor : factors) {
        const int power = factor.power * sign;
        if (power <= 0) continue;
        if (count++ > 0) symbol += dot;
        symbol += factor.unit.symbol;
        if (power > 1) symbol += superscripts[static_cast<std::size_t>(power)];
    }
    return symbol;
}

std::string symbol_of(const Factors& factors) {
    std::size_t above = 0;
    std::size_t below = 0;
    std::string symbol = product_symbol(factors, 1, above);
    const std::string divisor = product_symbol(factors, -1, below);
    if (above == 0) symbol = "1";
    if (below == 1) symbol += "/" + divisor;
    if (below > 1) symbol += "/(" + divisor + ")";
    return symbol;
}

std::optional<Unit> built_of(const Factors& factors) {
    Unit unit;
    unit.symbol = symbol_of(factors);
    for (const Factor& factor : factors) {
        const auto part = power(factor.unit.scale, factor.power);
        const auto whole = part ? multiply(unit.scale, *part) : std::nullopt;
        if (!whole) return std::nullopt;
        unit.scale = *whole;
        unit.dimension = unit.dimension * factor.unit.dimension.power(factor.power);
    }
    unit.factor = to_double({1, 0}, unit.scale);
    if (factors.size() == 1 && factors[0].power == 1 && factors[0].unit.temperature) {
        unit.temperature = true;
        unit.offset = unit.symbol == "°C" ? 273.15 : unit.symbol == "°F" ? 459.67 : 0.0;
    }
    return unit;
}

char lower(char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

bool is_wire_gauge(std::string_view name) {
    return name.size() == 3 && lower(name[0]) == 'a' && lower(name[1]) == 'w' && lower(name[2]) == 'g';
}

Unit wire_gauge() {
    Unit unit;
    unit.symbol = "AWG";
    unit.dimension = find_simple_unit("m")->dimension.power(2);
    unit.gauge = true;
    return unit;
}

}  // namespace

std::optional<Unit> read_unit(std::string_view text) {
    if (text.size() > longest_unit) return std::nullopt;
    std::string spelling = normal_spelling(text);
    const std::size_t first = spelling.find_first_not_of(' ');
    if (first == std::string::npos || spelling == "1") return Unit{};
    spelling = spelling.substr(first, spelling.find_last_not_of(' ') - first + 1);
    if (spelling.size() > 1 && spelling.ends_with('.')) spelling.pop_back();  // "in."
    Factors factors;
    if (auto simple = find_simple_unit(spelling)) {
        factors.push_back({*std::move(simple), 1});
        return built_of(factors);
    }
    if (is_wire_gauge(spelling)) return wire_gauge();
    for (const Alias& alias : aliases)
        if (alias.written == spelling) spelling = alias.meant;
    if (!Grammar{spelling}.read(factors) || factors.size() > most_factors) return std::nullopt;
    rewrite_pair(factors);
    return built_of(factors);
}

const Unit* UnitMemory::find(std::string_view spelling) const {
    for (const Known& one : known_)
        if (one.spelling == spelling) return &one.unit;
    return nullptr;
}

const Unit* UnitMemory::keep(std::string_view spelling, const Unit& unit) {
    if (known_.size() >= most_known) return nullptr;
    return &known_.emplace_back(Known{std::string(spelling), unit}).unit;
}

std::vector<std::string_view> units_of(const Dimension& dimension) {
    const DimensionEntry* entry = find_dimension(dimension);
    if (entry == nullptr) return {};
    return {entry->units.begin(), entry->units.end()};
}

std::vector<std::string_view> known_units() {
    const auto names = simple_unit_names();
    return {names.begin(), names.end()};
}

}  // namespace packproof::units
