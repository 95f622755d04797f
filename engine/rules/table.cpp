#include "engine/rules/table.hpp"

#include <algorithm>
#include <cmath>
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
};

/// A result with the direction in which it moves along each numeric key.
struct Outcome {
    bool missing = false;
    bool is_text = false;
    Interval range{std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()};
    double nominal = 0.0;
    std::vector<std::string_view> texts;
    std::vector<bool> rising;   ///< of each key: never falls as the key grows
    std::vector<bool> falling;  ///< of each key: never rises as the key grows
};

void join(Outcome& into, const Outcome& other) {
    into.missing = into.missing || other.missing;
    into.is_text = into.is_text || other.is_text;
    into.range = {std::min(into.range.low, other.range.low), std::max(into.range.high, other.range.high)};
    for (auto text : other.texts)
        if (std::find(into.texts.begin(), into.texts.end(), text) == into.texts.end())
            into.texts.push_back(text);
    for (std::size_t k = 0; k < into.rising.size(); ++k) {
        into.rising[k] = into.rising[k] && other.rising[k];
        into.falling[k] = into.falling[k] && other.falling[k];
    }
}

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
    Outcome nothing() const {
        Outcome outcome;
        outcome.missing = true;
        outcome.rising.assign(table_.keys.size(), true);
        outcome.falling.assign(table_.keys.size(), true);
        return outcome;
    }

    Outcome leaf(Stretch stretch) const {
        Outcome outcome = nothing();
        if (stretch.begin == stretch.end) return outcome;
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

    /// The stretches of equal value of a numeric key, ascending.
    std::vector<Stretch> groups(std::size_t key, Stretch stretch) const {
        std::vector<Stretch> found;
        for (std::size_t begin = stretch.begin; begin < stretch.end;) {
            std::size_t end = begin + 1;
            while (end < stretch.end &&
                   table_.rows[end].keys[key].number == table_.rows[begin].keys[key].number)
                ++end;
            found.push_back({begin, end});
            begin = end;
        }
        return found;
    }

    double key_of(std::size_t key, Stretch group) const { return table_.rows[group.begin].keys[key].number; }

    /// The group that a point means, by the key's rule; `groups.size()` if it lies beyond the table.
    std::size_t group_of(std::size_t key, const std::vector<Stretch>& all, double x) const {
        const std::size_t none = all.size();
        for (std::size_t g = 0; g < all.size(); ++g)
            if (units::same_number(key_of(key, all[g]), x)) return g;
        switch (table_.keys[key].take) {
            case Take::exact:
                return none;
            case Take::next_larger:
                for (std::size_t g = 0; g < all.size(); ++g)
                    if (key_of(key, all[g]) > x) return g;
                return none;
            case Take::next_smaller: {
                if (all.empty() || x < key_of(key, all.front())) return none;
                if (x > key_of(key, all.back())) return table_.keys[key].beyond_last ? all.size() - 1 : none;
                std::size_t g = 0;
                while (g + 1 < all.size() && key_of(key, all[g + 1]) < x)
                    ++g;
                return g;
            }
            case Take::interpolate:
                return none;  // handled apart
        }
        return none;
    }

    Outcome by_number(std::size_t key, Stretch stretch) const {
        const model::Number* number = keys_[key].number();
        if (number == nullptr || stretch.begin == stretch.end) return nothing();
        const std::vector<Stretch> all = groups(key, stretch);
        if (table_.keys[key].take == Take::interpolate) return interpolated(key, all, *number);
        const std::size_t low = group_of(key, all, number->range.low);
        const std::size_t high = group_of(key, all, number->range.high);
        if (low == all.size() || high == all.size()) return nothing();
        if (table_.keys[key].take == Take::exact && low != high) return nothing();
        Outcome outcome = from(key + 1, all[low]);
        Outcome previous = outcome;
        for (std::size_t g = low + 1; g <= high; ++g) {
            Outcome next = from(key + 1, all[g]);
            note_direction(outcome, key, previous, next);
            join(outcome, next);
            previous = std::move(next);
        }
        const std::size_t middle = group_of(key, all, number->nominal);
        if (middle != all.size() && middle >= low && middle <= high && low != high)
            outcome.nominal = from(key + 1, all[middle]).nominal;
        return outcome;
    }

    static void note_direction(Outcome& outcome, std::size_t key, const Outcome& before,
                               const Outcome& after) {
        if (before.range.low > after.range.low || before.range.high > after.range.high)
            outcome.rising[key] = false;
        if (before.range.low < after.range.low || before.range.high < after.range.high)
            outcome.falling[key] = false;
    }

    Outcome interpolated(std::size_t key, const std::vector<Stretch>& all,
                         const model::Number& number) const {
        Outcome low = between(key, all, number.range.low);
        if (number.range.is_point()) return low;
        Outcome outcome = low;
        Outcome previous = std::move(low);
        auto take = [&](Outcome next) {
            note_direction(outcome, key, previous, next);
            join(outcome, next);
            previous = std::move(next);
        };
        for (const Stretch& group : all)
            if (key_of(key, group) > number.range.low && key_of(key, group) < number.range.high)
                take(from(key + 1, group));
        take(between(key, all, number.range.high));
        outcome.nominal = between(key, all, number.nominal).nominal;
        return outcome;
    }

    Outcome between(std::size_t key, const std::vector<Stretch>& all, double x) const {
        for (std::size_t g = 0; g < all.size(); ++g) {
            if (units::same_number(key_of(key, all[g]), x)) return from(key + 1, all[g]);
            if (g + 1 == all.size() || !(key_of(key, all[g]) < x && x < key_of(key, all[g + 1]))) continue;
            Outcome a = from(key + 1, all[g]);
            const Outcome b = from(key + 1, all[g + 1]);
            const Interval share =
                (Interval::point(x) - Interval::point(key_of(key, all[g]))) /
                (Interval::point(key_of(key, all[g + 1])) - Interval::point(key_of(key, all[g])));
            const Interval rest = Interval::point(1.0) - share;
            a.missing = a.missing || b.missing;
            a.range = a.range * rest + b.range * share;
            a.nominal = a.nominal * (1.0 - share.low) + b.nominal * share.low;
            for (std::size_t k = 0; k < a.rising.size(); ++k) {
                a.rising[k] = a.rising[k] && b.rising[k];
                a.falling[k] = a.falling[k] && b.falling[k];
            }
            return a;
        }
        return nothing();
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
                number.slopes[i] + carried(key->slopes[i], outcome.rising[k], outcome.falling[k]);
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
