#include "engine/solve/ladder.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <utility>

#include "engine/solve/sagging.hpp"

namespace packproof::solve {

namespace {

using units::Interval;

constexpr std::size_t nowhere = std::numeric_limits<std::size_t>::max();

double middle(Interval range) {
    return 0.5 * (range.low + range.high);
}

/// What two ranges have in common; ends that are equal to twelve digits meet.
std::optional<Interval> meet(Interval a, Interval b) {
    const Interval both{std::max(a.low, b.low), std::min(a.high, b.high)};
    if (both.low <= both.high) return both;
    if (units::same_number(both.low, both.high)) return Interval{both.high, both.low};
    return std::nullopt;
}

/// How things would stand with one mistake made.
struct Supposed {
    std::vector<std::size_t> place;  ///< of each lead; `nowhere` if its reading says nothing
    std::size_t sources = 0;
    bool signs = false;
    std::size_t turned = 0;  ///< source, from 1; 0 for none
    std::size_t free = 0;    ///< source whose limits do not count; 0 for none
};

/// The potentials of places against that of lead 0, each as narrow as readings and limits make it.
using Potentials = std::vector<Interval>;

class Examiner {
  public:
    explicit Examiner(const Ladder& ladder) : ladder_(ladder), last_(ladder.readings.size() - 1) {}

    LadderFinding finding() {
        const Supposed right = in_order();
        if (const auto potentials = fits(right)) {
            keep({}, right, *potentials);
            result_.explanation.sources = sagging_steps(ladder_.readings, ladder_.loaded);
            if (!result_.explanation.sources.empty()) result_.explanation.mistake = Mistake::joint;
        } else {
            try_exchanges(true);
            try_reversals();
            try_signs();
            try_no_reading();
            try_left_out();
            try_other_number();
            try_turned();
            try_exchanges(false);
            try_any_order();
            try_outside(true);
            try_floating();
            if (!found_) try_outside(false);
            if (!found_) lay_beside_longest_run();
        }
        return std::move(result_);
    }

  private:
    [[nodiscard]] const std::optional<Interval>& reading(std::size_t lead) const {
        return ladder_.readings[lead];
    }
    /// Less than half a source, whatever the tolerance.
    [[nodiscard]] bool near_nothing(std::size_t lead) const {
        const double half = 0.5 * ladder_.source.low;
        return reading(lead) && reading(lead)->low > -half && reading(lead)->high < half;
    }
    [[nodiscard]] Supposed in_order() const {
        Supposed supposed;
        supposed.place.resize(last_ + 1);
        std::iota(supposed.place.begin(), supposed.place.end(), std::size_t{0});
        supposed.sources = last_;
        return supposed;
    }
    [[nodiscard]] Interval step(const Supposed& supposed, std::size_t source) const {
        if (source == supposed.free) return Interval::all();
        return source == supposed.turned ? -ladder_.source : ladder_.source;
    }

    /// Places form a chain in which neighbours differ by one source each, so that narrowing the ranges once
    /// forward and once back leaves exactly what is possible; an empty range says that nothing is.
    [[nodiscard]] std::optional<Potentials> fits(const Supposed& supposed) const {
        Potentials ranges(supposed.sources + 1, Interval::all());
        const auto narrow = [&](std::size_t place, Interval by) {
            const auto both = meet(ranges[place], by);
            if (both) ranges[place] = *both;
            return both.has_value();
        };
        if (supposed.place[0] != nowhere && !narrow(supposed.place[0], Interval::point(0.0)))
            return std::nullopt;
        for (std::size_t lead = 0; lead <= last_; ++lead) {
            if (supposed.place[lead] == nowhere || !reading(lead)) continue;
            if (!narrow(supposed.place[lead], supposed.signs ? -*reading(lead) : *reading(lead)))
                return std::nullopt;
        }
        for (std::size_t k = 1; k <= supposed.sources; ++k)
            if (!narrow(k, ranges[k - 1] + step(supposed, k))) return std::nullopt;
        for (std::size_t k = supposed.sources; k >= 1; --k)
            if (!narrow(k - 1, ranges[k] - step(supposed, k))) return std::nullopt;
        return ranges;
    }

    /// The place whose potential is nearest, if it is nearer than half a source.
    [[nodiscard]] std::optional<std::size_t> nearest(double value,
                                                     const std::vector<double>& potentials) const {
        std::optional<std::size_t> best;
        double off = 0.5 * ladder_.source.low;
        for (std::size_t place = 0; place < potentials.size(); ++place) {
            if (std::fabs(potentials[place] - value) >= off) continue;
            off = std::fabs(potentials[place] - value);
            best = place;
        }
        return best;
    }

    void keep(Explanation explanation, const Supposed& supposed, const Potentials& potentials) {
        if (found_) {
            result_.other.push_back(std::move(explanation));
            return;
        }
        found_ = true;
        result_.explanation = std::move(explanation);
        std::vector<double> middles;
        for (const Interval range : potentials)
            middles.push_back(middle(range));
        for (std::size_t lead = 0; lead <= last_; ++lead) {
            std::optional<std::size_t> place;
            if (supposed.place[lead] != nowhere) {
                if (lead == 0 || reading(lead)) place = supposed.place[lead];
            } else if (reading(lead)) {
                place = nearest(middle(*reading(lead)), middles);
            }
            result_.sits_at.push_back(place);
        }
    }

    void suppose(Mistake mistake, std::vector<std::size_t> leads, const Supposed& supposed) {
        if (const auto potentials = fits(supposed)) {
            Explanation explanation;
            explanation.mistake = mistake;
            explanation.leads = std::move(leads);
            keep(std::move(explanation), supposed, *potentials);
        }
    }

    /// Of two leads that were read, or of such of which one was not: little speaks for those.
    void try_exchanges(bool both_read) {
        for (std::size_t a = 0; a <= last_; ++a) {
            for (std::size_t b = a + 1; b <= last_; ++b) {
                if (((a == 0 || reading(a)) && reading(b)) != both_read) continue;
                Supposed supposed = in_order();
                std::swap(supposed.place[a], supposed.place[b]);
                suppose(Mistake::exchanged, {a, b}, supposed);
            }
        }
    }

    /// Two or three in reverse are an exchange.
    void try_reversals() {
        for (std::size_t a = 0; a + 3 <= last_; ++a) {
            for (std::size_t b = a + 3; b <= last_; ++b) {
                Supposed supposed = in_order();
                const auto begin = supposed.place.begin();
                std::reverse(begin + static_cast<std::ptrdiff_t>(a),
                             begin + static_cast<std::ptrdiff_t>(b + 1));
                suppose(Mistake::reversed, {a, b}, supposed);
            }
        }
    }

    void try_signs() {
        Supposed supposed = in_order();
        supposed.signs = true;
        suppose(Mistake::signs, {}, supposed);
    }

    /// A lead that reads near nothing is open; if all do, it is lead 0.
    void try_no_reading() {
        bool all = true;
        for (std::size_t lead = 1; lead <= last_; ++lead) {
            all = all && (!reading(lead) || near_nothing(lead));
            if (near_nothing(lead)) suppose_open(lead);
        }
        if (!all) return;
        Supposed supposed = in_order();
        std::fill(supposed.place.begin(), supposed.place.end(), nowhere);
        suppose(Mistake::open, {0}, supposed);
    }

    void try_floating() {
        for (std::size_t lead = 1; lead <= last_; ++lead)
            if (reading(lead) && !near_nothing(lead)) suppose_open(lead);
    }

    void suppose_open(std::size_t lead) {
        Supposed supposed = in_order();
        supposed.place[lead] = nowhere;
        suppose(Mistake::open, {lead}, supposed);
    }

    /// From a lead on one place too far, or one too low.
    [[nodiscard]] Supposed shifted(std::size_t from, bool too_far) const {
        Supposed supposed = in_order();
        for (std::size_t lead = from; lead <= last_; ++lead)
            supposed.place[lead] = too_far ? lead + 1 : lead - 1;
        return supposed;
    }

    /// The last lead reads nothing, was not read, or shares the last place.
    void try_left_out() {
        for (std::size_t from = 1; from < last_; ++from) {
            Supposed supposed = shifted(from, true);
            supposed.place[last_] = !reading(last_) || near_nothing(last_) ? nowhere : last_;
            suppose(Mistake::left_out, {from}, supposed);
        }
    }

    /// One source less shows as two leads on one place, one more as a step of two sources. Where it is known
    /// which leads share a place that is said first, else the number.
    void try_other_number() {
        std::vector<std::size_t> shared;
        std::vector<std::size_t> wide;
        for (std::size_t from = 1; from <= last_; ++from) {
            if (fits(shifted(from, false))) shared.push_back(from);
            if (fits(one_more(from))) wide.push_back(from);
        }
        if (shared.size() == 1) suppose(Mistake::doubled, shared, shifted(shared[0], false));
        if (!shared.empty() && last_ > 1) suppose_number(last_ - 1, shared, shifted(shared[0], false));
        if (shared.size() > 1)
            for (const std::size_t from : shared)
                suppose(Mistake::doubled, {from}, shifted(from, false));
        if (!wide.empty()) suppose_number(last_ + 1, wide, one_more(wide[0]));
        if (last_ > 1 && near_nothing(last_)) {
            Supposed hanging = in_order();
            hanging.place[last_] = nowhere;
            hanging.sources = last_ - 1;
            suppose_number(last_ - 1, {last_}, hanging);
        }
    }

    [[nodiscard]] Supposed one_more(std::size_t from) const {
        Supposed supposed = shifted(from, true);
        supposed.sources = last_ + 1;
        return supposed;
    }

    void suppose_number(std::size_t count, std::vector<std::size_t> leads, const Supposed& supposed) {
        if (const auto potentials = fits(supposed)) {
            Explanation explanation;
            explanation.mistake = Mistake::number;
            explanation.leads = std::move(leads);
            explanation.count = count;
            keep(std::move(explanation), supposed, *potentials);
        }
    }

    void try_turned() {
        for (std::size_t source = 1; source <= last_; ++source) {
            Supposed supposed = in_order();
            supposed.turned = source;
            if (const auto potentials = fits(supposed)) {
                Explanation explanation;
                explanation.mistake = Mistake::turned;
                explanation.sources = {source};
                keep(std::move(explanation), supposed, *potentials);
            }
        }
    }

    /// A source of any value from 0 up, or only of one below 0.
    void try_outside(bool upward) {
        for (std::size_t source = 1; source <= last_; ++source) {
            Supposed supposed = in_order();
            supposed.free = source;
            const auto potentials = fits(supposed);
            if (!potentials) continue;
            Explanation explanation;
            explanation.mistake = Mistake::outside;
            explanation.sources = {source};
            explanation.value = (*potentials)[source] - (*potentials)[source - 1];
            if ((explanation.value.high >= 0.0) == upward)
                keep(std::move(explanation), supposed, *potentials);
        }
    }

    /// With every lead read, the order of the readings is that of the places.
    void try_any_order() {
        const Mistake so_far = result_.explanation.mistake;
        if (so_far == Mistake::exchanged || so_far == Mistake::reversed) return;  // an order has been named
        for (std::size_t lead = 1; lead <= last_; ++lead)
            if (!reading(lead)) return;
        const auto value = [&](std::size_t lead) { return lead == 0 ? 0.0 : middle(*reading(lead)); };
        std::vector<std::size_t> order = in_order().place;
        std::stable_sort(order.begin(), order.end(),
                         [&](std::size_t a, std::size_t b) { return value(a) < value(b); });
        Supposed supposed = in_order();
        for (std::size_t place = 0; place <= last_; ++place)
            supposed.place[order[place]] = place;
        std::vector<std::size_t> moved;
        for (std::size_t lead = 0; lead <= last_; ++lead)
            if (supposed.place[lead] != lead) moved.push_back(lead);
        suppose(Mistake::reordered, moved, supposed);
    }

    /// Of leads from lead 0 on that can be right two by two in a row, the most; the potentials between them
    /// on a straight line, beyond them by a source of middle value each. All others sit where these come
    /// nearest.
    void lay_beside_longest_run() {
        result_.explanation.mistake = Mistake::unexplained;
        const auto value = [&](std::size_t lead) {
            return lead == 0 ? Interval::point(0.0) : *reading(lead);
        };
        std::vector<std::size_t> length(last_ + 1, 0);
        std::vector<std::size_t> before(last_ + 1, nowhere);
        std::size_t end = 0;
        length[0] = 1;
        for (std::size_t b = 1; b <= last_; ++b) {
            if (!reading(b)) continue;
            for (std::size_t a = 0; a < b; ++a) {
                const Interval steps = Interval::point(static_cast<double>(b - a)) * ladder_.source;
                if (length[a] == 0 || length[a] < length[b] || !meet(value(b) - value(a), steps)) continue;
                length[b] = length[a] + 1;
                before[b] = a;
            }
            if (length[b] > length[end]) end = b;
        }
        const double one = middle(ladder_.source);
        std::vector<double> potentials(last_ + 1, 0.0);
        for (std::size_t place = end; place <= last_; ++place)
            potentials[place] = middle(value(end)) + one * static_cast<double>(place - end);
        for (std::size_t b = end; before[b] != nowhere; b = before[b]) {
            const std::size_t a = before[b];
            const double rise = (middle(value(b)) - middle(value(a))) / static_cast<double>(b - a);
            for (std::size_t place = a; place < b; ++place)
                potentials[place] = middle(value(a)) + rise * static_cast<double>(place - a);
        }
        for (std::size_t lead = 0; lead <= last_; ++lead) {
            const bool known = lead == 0 || reading(lead);
            result_.sits_at.push_back(known ? nearest(middle(value(lead)), potentials) : std::nullopt);
        }
    }

    const Ladder& ladder_;
    std::size_t last_;
    bool found_ = false;
    LadderFinding result_;
};

bool usable(const std::vector<std::optional<Interval>>& readings) {
    return std::all_of(readings.begin(), readings.end(), [](const std::optional<Interval>& reading) {
        return !reading ||
               (std::isfinite(reading->low) && std::isfinite(reading->high) && reading->low <= reading->high);
    });
}

}  // namespace

std::optional<LadderFinding> examine(const Ladder& ladder) {
    const std::size_t leads = ladder.readings.size();
    if (leads < 2 || leads > most_leads) return std::nullopt;
    if (!ladder.loaded.empty() && ladder.loaded.size() != leads) return std::nullopt;
    if (!(ladder.source.low > 0.0) || !(ladder.source.low <= ladder.source.high)) return std::nullopt;
    if (!std::isfinite(ladder.source.high)) return std::nullopt;
    if (!usable(ladder.readings) || !usable(ladder.loaded)) return std::nullopt;
    return Examiner(ladder).finding();
}

}  // namespace packproof::solve
