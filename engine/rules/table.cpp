#include "engine/rules/table.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <optional>

namespace packproof::rules {

using model::Value;
using units::Interval;

namespace {

/// Rows [begin, end) that agree in the keys narrowed so far.
struct Stretch {
    std::size_t begin = 0;
    std::size_t end = 0;
    [[nodiscard]] bool empty() const { return begin == end; }
};

/// Those of the keys, by place, for which something holds. It never holds of a key past the 64th.
class KeySet {
  public:
    [[nodiscard]] bool has(std::size_t key) const { return (keys_ & bit(key)) != 0; }
    void drop(std::size_t key) { keys_ &= ~bit(key); }
    void keep(KeySet other) { keys_ &= other.keys_; }

  private:
    static std::uint64_t bit(std::size_t key) { return key < 64 ? std::uint64_t{1} << key : 0U; }
    std::uint64_t keys_ = ~std::uint64_t{0};
};

/// A result with the direction in which it moves along each numeric key.
struct Outcome {
    bool missing = false;
    bool is_text = false;
    Interval range{std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()};
    double nominal = 0.0;
    std::vector<std::string_view> texts;
    KeySet rising;   ///< keys with which it never falls as they grow
    KeySet falling;  ///< keys with which it never rises as they grow
};

void join(Outcome& into, const Outcome& other) {
    into.missing = into.missing || other.missing;
    into.is_text = into.is_text || other.is_text;
    into.range = {std::min(into.range.low, other.range.low), std::max(into.range.high, other.range.high)};
    for (auto text : other.texts)
        if (std::find(into.texts.begin(), into.texts.end(), text) == into.texts.end())
            into.texts.push_back(text);
    into.rising.keep(other.rising);
    into.falling.keep(other.falling);
}

/// Areas of wire sizes go round rounded: to four digits 2/0 AWG, 67.4309 mm², is 67.43 mm², and a section so
/// written must not fall to the row below, nor with "next larger" rise to the one above. Four digits round by
/// at most half a unit in 1000, 0.05 %; neighbouring sizes are 26 % apart.
constexpr double gauge_rounding = 0.0005;

class Search {
  public:
    Search(const Table& table, std::size_t column, std::span<const Value> keys,
           std::vector<std::uint16_t>* used)
        : table_(table), column_(column), keys_(keys), used_(used) {}

    Outcome from(std::size_t key, Stretch stretch) const {
        if (key == table_.keys.size()) return leaf(stretch);
        return table_.keys[key].is_text ? by_text(key, stretch) : by_number(key, stretch);
    }

  private:
    static Outcome nothing() {
        Outcome outcome;
        outcome.missing = true;
        return outcome;
    }

    Outcome leaf(Stretch stretch) const {
        Outcome outcome = nothing();
        if (stretch.empty()) return outcome;
        const TableRow& row = table_.rows[stretch.begin];
        const Cell& cell = row.columns[column_];
        if (cell.none) return outcome;
        if (used_ != nullptr) used_->push_back(row.block);
        outcome.missing = false;
        outcome.is_text = table_.columns[column_].is_text;
        outcome.range = Interval::point(cell.number);
        outcome.nominal = cell.number;
        if (outcome.is_text) outcome.texts.push_back(cell.text);
        return outcome;
    }

    Outcome by_text(std::size_t key, Stretch stretch) const {
        const model::Text* text = keys_[key].text();
        if (text == nullptr) return nothing();
        auto one = [&](std::string_view wanted) {
            auto first =
                std::lower_bound(row(stretch.begin), row(stretch.end), wanted,
                                 [&](const TableRow& r, std::string_view w) { return r.keys[key].text < w; });
            auto last =
                std::upper_bound(first, row(stretch.end), wanted,
                                 [&](std::string_view w, const TableRow& r) { return w < r.keys[key].text; });
            return first == last ? nothing() : from(key + 1, {index(first), index(last)});
        };
        Outcome outcome = one(text->value);
        for (auto alternative : text->alternatives)
            if (alternative != text->value) join(outcome, one(alternative));
        return outcome;
    }

    double number_at(std::size_t key, std::size_t i) const { return table_.rows[i].keys[key].number; }
    double key_of(std::size_t key, Stretch group) const { return number_at(key, group.begin); }

    /// Whether a point is the group's own key, in whatever direction the key is taken.
    bool is_key_of(std::size_t key, Stretch group, double x) const {
        if (group.empty()) return false;
        const Cell& cell = table_.rows[group.begin].keys[key];
        return units::same_number(cell.number, x) ||
               (cell.gauge && std::abs(x - cell.number) <= gauge_rounding * cell.number);
    }

    /// The first row of a stretch whose numeric key is not less than x; its end if there is none.
    std::size_t first_from(std::size_t key, Stretch stretch, double x) const {
        return index(std::lower_bound(row(stretch.begin), row(stretch.end), x,
                                      [&](const TableRow& r, double w) { return r.keys[key].number < w; }));
    }

    // A group is a stretch of rows with one value of a numeric key; one without rows stands for none.

    Stretch group_from(std::size_t key, Stretch stretch, std::size_t begin) const {
        std::size_t end = begin;
        while (end < stretch.end && number_at(key, end) == number_at(key, begin))
            ++end;
        return {begin, end};
    }
    Stretch group_before(std::size_t key, Stretch stretch, std::size_t end) const {
        std::size_t begin = end;
        while (begin > stretch.begin && number_at(key, begin - 1) == number_at(key, end - 1))
            --begin;
        return {begin, end};
    }

    /// The group that a point means, by the key's rule.
    Stretch group_of(std::size_t key, Stretch stretch, double x) const {
        const std::size_t from = first_from(key, stretch, x);
        const Stretch below = group_before(key, stretch, from);
        const Stretch next = group_from(key, stretch, from);
        if (is_key_of(key, below, x)) return below;
        if (is_key_of(key, next, x)) return next;
        switch (table_.keys[key].take) {
            case Take::next_larger:
                return next;
            case Take::next_smaller:
                return next.empty() && !table_.keys[key].beyond_last ? next : below;
            case Take::exact:
            case Take::interpolate:  // handled apart
                break;
        }
        return {};
    }

    Outcome by_number(std::size_t key, Stretch stretch) const {
        const model::Number* number = keys_[key].number();
        if (number == nullptr || stretch.empty()) return nothing();
        if (table_.keys[key].take == Take::interpolate) return interpolated(key, stretch, *number);
        const Stretch low = group_of(key, stretch, number->range.low);
        const Stretch high = number->range.is_point() ? low : group_of(key, stretch, number->range.high);
        if (low.empty() || high.empty()) return nothing();
        if (low.begin == high.begin) return from(key + 1, low);
        if (table_.keys[key].take == Take::exact) return nothing();
        Outcome outcome = from(key + 1, low);
        Outcome previous = outcome;
        for (Stretch group = low; group.end < high.end;) {
            group = group_from(key, stretch, group.end);
            Outcome next = from(key + 1, group);
            note_direction(outcome, key, previous, next);
            join(outcome, next);
            previous = std::move(next);
        }
        const Stretch middle = group_of(key, stretch, number->nominal);
        if (!middle.empty() && middle.begin >= low.begin && middle.end <= high.end)
            outcome.nominal = from(key + 1, middle).nominal;
        return outcome;
    }

    static void note_direction(Outcome& outcome, std::size_t key, const Outcome& before,
                               const Outcome& after) {
        if (before.range.low > after.range.low || before.range.high > after.range.high)
            outcome.rising.drop(key);
        if (before.range.low < after.range.low || before.range.high < after.range.high)
            outcome.falling.drop(key);
    }

    Outcome interpolated(std::size_t key, Stretch stretch, const model::Number& number) const {
        Outcome low = between(key, stretch, number.range.low);
        if (number.range.is_point()) return low;
        Outcome outcome = low;
        Outcome previous = std::move(low);
        auto take = [&](Outcome next) {
            note_direction(outcome, key, previous, next);
            join(outcome, next);
            previous = std::move(next);
        };
        Stretch group = group_from(key, stretch, first_from(key, stretch, number.range.low));
        while (!group.empty() && key_of(key, group) < number.range.high) {
            if (key_of(key, group) > number.range.low) take(from(key + 1, group));
            group = group_from(key, stretch, group.end);
        }
        take(between(key, stretch, number.range.high));
        outcome.nominal = between(key, stretch, number.nominal).nominal;
        return outcome;
    }

    Outcome between(std::size_t key, Stretch stretch, double x) const {
        const std::size_t first = first_from(key, stretch, x);
        const Stretch below = group_before(key, stretch, first);
        const Stretch above = group_from(key, stretch, first);
        if (!below.empty() && units::same_number(key_of(key, below), x)) return from(key + 1, below);
        if (above.empty()) return nothing();
        if (below.empty() || key_of(key, above) == x)
            return units::same_number(key_of(key, above), x) ? from(key + 1, above) : nothing();
        Outcome a = from(key + 1, below);
        const Outcome b = from(key + 1, above);
        const Interval share = (Interval::point(x) - Interval::point(key_of(key, below))) /
                               (Interval::point(key_of(key, above)) - Interval::point(key_of(key, below)));
        const Interval rest = Interval::point(1.0) - share;
        a.missing = a.missing || b.missing;
        a.range = a.range * rest + b.range * share;
        a.nominal = a.nominal * (1.0 - share.low) + b.nominal * share.low;
        a.rising.keep(b.rising);
        a.falling.keep(b.falling);
        return a;
    }

    std::vector<TableRow>::const_iterator row(std::size_t i) const {
        return table_.rows.begin() + static_cast<std::ptrdiff_t>(i);
    }
    std::size_t index(std::vector<TableRow>::const_iterator it) const {
        return static_cast<std::size_t>(it - table_.rows.begin());
    }

    const Table& table_;
    std::size_t column_;
    std::span<const Value> keys_;
    std::vector<std::uint16_t>* used_;
};

/// How a step or a broken line carries the slopes of a key on: only its direction is known.
Interval carried(Interval slope, bool rising, bool falling) {
    const double infinity = std::numeric_limits<double>::infinity();
    if (rising && falling) return {0.0, 0.0};
    if (slope.low == 0.0 && slope.high == 0.0) return slope;
    if (rising) return Interval{0.0, infinity} * slope;
    if (falling) return Interval{-infinity, 0.0} * slope;
    return {-infinity, infinity};
}

}  // namespace

Value look_up(const Table& table, std::size_t column, std::span<const Value> keys,
              std::vector<std::uint16_t>* blocks_used) {
    Value result;
    std::size_t inputs = 0;
    for (const Value& key : keys) {
        result.basis = result.basis | key.basis;
        if (const model::Number* number = key.number()) inputs = std::max(inputs, number->slopes.size());
    }
    std::vector<std::uint16_t> local;
    std::vector<std::uint16_t>& used = blocks_used != nullptr ? *blocks_used : local;
    const std::size_t before = used.size();
    const Outcome outcome = Search(table, column, keys, &used).from(0, {0, table.rows.size()});
    if (outcome.missing) return result;
    for (std::size_t b = before; b < used.size(); ++b)
        for (const model::Authority& authority : table.blocks[used[b]].basis)
            if (authority.status == model::Authority::Status::recalled) result.basis.recalled = true;
    if (outcome.is_text) {
        model::Text text{outcome.texts.front(), {}};
        if (outcome.texts.size() > 1) text.alternatives = outcome.texts;
        result.content = std::move(text);
        return result;
    }
    model::Number number{
        outcome.range, std::clamp(outcome.nominal, outcome.range.low, outcome.range.high), {}};
    number.slopes.assign(inputs, Interval{});
    for (std::size_t k = 0; k < keys.size(); ++k) {
        const model::Number* key = keys[k].number();
        if (key == nullptr) continue;
        for (std::size_t i = 0; i < key->slopes.size(); ++i)
            number.slopes[i] =
                number.slopes[i] + carried(key->slopes[i], outcome.rising.has(k), outcome.falling.has(k));
    }
    result.content = std::move(number);
    return result;
}

Value next_in_series(const Table& table, bool up, const Value& x) {
    Value result;
    result.basis = x.basis;
    const model::Number* number = x.number();
    if (number == nullptr) return result;
    for (const TableBlock& block : table.blocks)
        for (const model::Authority& authority : block.basis)
            if (authority.status == model::Authority::Status::recalled) result.basis.recalled = true;
    auto entry = [&](double value) -> std::optional<double> {
        std::optional<double> best;
        for (const TableRow& row : table.rows) {
            const double candidate = row.keys.front().number;
            const bool fits =
                units::same_number(candidate, value) || (up ? candidate > value : candidate < value);
            if (!fits) continue;
            if (up) return candidate;
            best = candidate;
        }
        return best;
    };
    const auto low = entry(number->range.low);
    const auto high = entry(number->range.high);
    if (!low || !high) return result;
    model::Number next{{*low, *high}, entry(number->nominal).value_or(*low), {}};
    for (const Interval& slope : number->slopes)
        next.slopes.push_back(carried(slope, true, *low == *high));
    result.content = std::move(next);
    return result;
}

}  // namespace packproof::rules
