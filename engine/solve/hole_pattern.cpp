#include "engine/solve/hole_pattern.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "engine/solve/alignment.hpp"
#include "engine/solve/worst_alignment.hpp"

namespace packproof::solve {

namespace {

constexpr double accuracy = 1e-9;  // m

double middle(units::Interval range) {
    return 0.5 * (range.low + range.high);
}
double half(units::Interval range) {
    return 0.5 * (range.high - range.low);
}
/// A thousandth of a micrometre is no miss, and no play.
double settled(double miss) {
    return std::fabs(miss) < accuracy ? 0.0 : miss;
}

bool usable(const HolePair& hole) {
    for (const units::Interval range : {hole.x, hole.y, hole.other_x, hole.other_y, hole.play}) {
        if (!std::isfinite(range.low) || !std::isfinite(range.high) || range.low > range.high) return false;
    }
    for (const double length : {hole.zone, hole.slot_x, hole.slot_y}) {
        if (!std::isfinite(length) || length < 0.0) return false;
    }
    return true;
}

Target at_middle(const HolePair& hole) {
    return {middle(hole.x), middle(hole.y), middle(hole.other_x), middle(hole.other_y),
            hole.slot_x,    hole.slot_y,    middle(hole.play)};
}

/// The box of both positions together, the second's turned and enclosed along the axes.
Offset half_box(const HolePair& hole, double turn) {
    const double cosine = std::fabs(std::cos(turn));
    const double sine = std::fabs(std::sin(turn));
    return {half(hole.x) + cosine * half(hole.other_x) + sine * half(hole.other_y),
            half(hole.y) + sine * half(hole.other_x) + cosine * half(hole.other_y)};
}

Alignment at_middles(std::span<const HolePair> holes) {
    std::vector<Target> targets;
    double least = -units::unbounded;
    for (const HolePair& hole : holes) {
        targets.push_back(at_middle(hole));
        least = std::max(least, -targets.back().play);
    }
    return align(targets, least);
}

/// What the tolerances allow costs nothing: boxes widen slots, zones widen the play, down to no distance.
double at_best(std::span<const HolePair> holes, double turn) {
    std::vector<Target> targets;
    double least = -units::unbounded;
    for (const HolePair& hole : holes) {
        const Offset box = half_box(hole, turn);
        targets.push_back(at_middle(hole));
        targets.back().slot_x += box.x;
        targets.back().slot_y += box.y;
        targets.back().play = hole.play.high + hole.zone;
        least = std::max(least, -hole.play.high);
    }
    return align(targets, least).miss;
}

double at_worst(std::span<const HolePair> holes, double turn) {
    if (holes.size() == 1) return settled(-holes[0].play.low);
    std::vector<Uncertain> targets;
    for (const HolePair& hole : holes) {
        const Offset box = half_box(hole, turn);
        targets.push_back({at_middle(hole), box.x, box.y, hole.zone});
        targets.back().target.play = hole.play.low;
    }
    return settled(worst_miss(targets));
}

std::vector<HolePair> without(std::span<const HolePair> holes, std::size_t left_out) {
    std::vector<HolePair> rest(holes.begin(), holes.end());
    rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(left_out));
    return rest;
}

std::size_t worst_of(std::span<const HolePair> holes, const Alignment& nominal) {
    std::size_t worst = 0;
    double rest = units::unbounded;
    for (std::size_t n = 0; n < holes.size(); ++n) {
        if (miss_at(at_middle(holes[n]), nominal.pose) < nominal.miss - accuracy) continue;
        const double others = holes.size() == 1 ? 0.0 : at_middles(without(holes, n)).miss;
        if (others >= rest - accuracy) continue;
        worst = n;
        rest = others;
    }
    return worst;
}

/// The least change of a hole at which the worst miss, which falls with it and bulges downward, is none; by
/// secants from both sides. Infinite if not even `most` is enough.
template <typename Change>
double least_change(std::span<const HolePair> holes, std::size_t which, double turn, double most,
                    Change change) {
    auto miss = [&](double amount) {
        std::vector<HolePair> changed(holes.begin(), holes.end());
        change(changed[which], amount);
        return at_worst(changed, turn);
    };
    double below = 0.0;
    double miss_below = miss(0.0);
    if (miss_below <= 0.0) return 0.0;
    double above = miss_below;  // no change makes the miss fall by more than itself
    double miss_above = miss(above);
    while (miss_above > 0.0) {
        if (above >= most) return units::unbounded;
        below = above;
        miss_below = miss_above;
        above = std::min(most, 2.0 * above);
        miss_above = miss(above);
    }
    while (above - below > accuracy && miss_above < 0.0) {
        // A chord between both ends lies above the curve, so that it meets none at or behind the curve.
        const double chord = below + (above - below) * miss_below / (miss_below - miss_above);
        for (const double next : {chord, 0.5 * (below + chord)}) {
            const double there = miss(next);
            (there > 0.0 ? below : above) = next;
            (there > 0.0 ? miss_below : miss_above) = there;
            if (there > 0.0) break;
        }
    }
    return above;
}

}  // namespace

std::optional<PatternFit> fit(std::span<const HolePair> holes) {
    if (holes.empty() || !std::all_of(holes.begin(), holes.end(), usable)) return std::nullopt;
    const Alignment nominal = at_middles(holes);
    PatternFit result;
    result.nominal = settled(nominal.miss);
    result.shift_x = nominal.pose.shift_x;
    result.shift_y = nominal.pose.shift_y;
    result.turn = nominal.pose.turn;
    result.worst = worst_of(holes, nominal);
    const Offset offset = offset_at(at_middle(holes[result.worst]), nominal.pose);
    result.offset_x = offset.x;
    result.offset_y = offset.y;
    result.miss.low = std::min(result.nominal, settled(at_best(holes, nominal.pose.turn)));
    result.miss.high = std::max(result.nominal, at_worst(holes, nominal.pose.turn));
    return result;
}

double wider_holes(const PatternFit& fit) {
    return 2.0 * std::max(0.0, fit.miss.high);
}

std::optional<Mend> mend_worst(std::span<const HolePair> holes) {
    const std::optional<PatternFit> now = fit(holes);
    if (!now) return std::nullopt;
    if (now->miss.high <= 0.0) return Mend{};
    if (holes.size() == 1) return Mend{2.0 * now->miss.high, units::unbounded, units::unbounded};
    if (at_worst(without(holes, now->worst), now->turn) > 0.0) return std::nullopt;
    double most = 0.0;  // beyond the whole pattern nothing is left to gain
    for (const HolePair& hole : holes)
        most = std::max({most, std::fabs(middle(hole.x)), std::fabs(middle(hole.y))});
    most = 4.0 * most + 100.0 * now->miss.high;
    Mend mend;
    mend.diameter = 2.0 * least_change(holes, now->worst, now->turn, most, [](HolePair& hole, double grown) {
                        hole.play.low += grown;
                        hole.play.high += grown;
                    });
    mend.slot_x = 2.0 * least_change(holes, now->worst, now->turn, most,
                                     [](HolePair& hole, double longer) { hole.slot_x += longer; });
    mend.slot_y = 2.0 * least_change(holes, now->worst, now->turn, most,
                                     [](HolePair& hole, double longer) { hole.slot_y += longer; });
    return mend;
}

}  // namespace packproof::solve
