#include "engine/solve/worst_alignment.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace packproof::solve {

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr double close_enough = 5e-10;  // m, between the bounds
constexpr double pi = std::numbers::pi;

/// What is still open of one target's error: sides of its box, and an arc of its zone's rim.
struct Spread {
    double x = 0.0, y = 0.0;            ///< middle of what is left of the box
    double half_x = 0.0, half_y = 0.0;  ///< 0: settled
    double arc_middle = 0.0;            ///< rad
    double arc_half = pi;               ///< rad; the whole rim at pi

    // The circle around an arc: that on its chord, or the zone itself.
    [[nodiscard]] double radius(double zone) const {
        return arc_half < 0.5 * pi ? zone * std::sin(arc_half) : zone;
    }
    [[nodiscard]] Offset centre(double zone) const {
        const double out = arc_half < 0.5 * pi ? zone * std::cos(arc_half) : 0.0;
        return {x + out * std::cos(arc_middle), y + out * std::sin(arc_middle)};
    }
};

/// How a target presses at the bound: in all, and how much of it cancels within the target, which tells that
/// the bound let it be in two places at once.
struct Pressed {
    Press all;
    double cancels_x = 0.0, cancels_y = 0.0;
};

struct Branch {
    std::vector<Spread> spreads;
    std::vector<Pressed> pressed;
    double bound = infinite;  ///< no errors within the spreads make a greater miss
};

double least_of(std::span<const Target> targets) {
    double least = -infinite;
    for (const Target& target : targets)
        least = std::max(least, -target.play);
    return least;
}

/// One pose against all corners at once: no less than the worst within the spreads.
void bound(std::span<const Uncertain> uncertain, Branch& branch) {
    std::vector<Target> corners;
    std::vector<std::size_t> of;
    for (std::size_t n = 0; n < uncertain.size(); ++n) {
        const Spread& spread = branch.spreads[n];
        const Offset centre = spread.centre(uncertain[n].zone);
        Target corner = uncertain[n].target;
        corner.play -= spread.radius(uncertain[n].zone);
        for (const double side_x : {1.0, -1.0}) {
            if (spread.half_x == 0.0 && side_x < 0.0) continue;
            for (const double side_y : {1.0, -1.0}) {
                if (spread.half_y == 0.0 && side_y < 0.0) continue;
                corner.x = uncertain[n].target.x + centre.x + side_x * spread.half_x;
                corner.y = uncertain[n].target.y + centre.y + side_y * spread.half_y;
                corners.push_back(corner);
                of.push_back(n);
            }
        }
    }
    const Alignment found = align(corners, least_of(corners));
    branch.bound = std::min(branch.bound, found.miss);
    branch.pressed.assign(uncertain.size(), {});
    for (std::size_t c = 0; c < corners.size(); ++c) {
        Pressed& pressed = branch.pressed[of[c]];
        pressed.all.x += found.press[c].x;
        pressed.all.y += found.press[c].y;
        pressed.all.weight += found.press[c].weight;
        pressed.cancels_x += std::fabs(found.press[c].x);
        pressed.cancels_y += std::fabs(found.press[c].y);
    }
    for (Pressed& pressed : branch.pressed) {
        pressed.cancels_x -= std::fabs(pressed.all.x);
        pressed.cancels_y -= std::fabs(pressed.all.y);
    }
}

/// The farthest point of a spread along a direction.
Offset farthest(const Spread& spread, double zone, Offset along) {
    double angle = std::atan2(along.y, along.x);
    if (spread.arc_half < pi) {
        const double off = std::remainder(angle - spread.arc_middle, 2.0 * pi);
        angle = spread.arc_middle + std::clamp(off, -spread.arc_half, spread.arc_half);
    }
    return {spread.x + (along.x < 0.0 ? -spread.half_x : spread.half_x) + zone * std::cos(angle),
            spread.y + (along.y < 0.0 ? -spread.half_y : spread.half_y) + zone * std::sin(angle)};
}

/// The miss with errors pushed along these directions, then along those in which the targets then press, as
/// long as that makes it worse.
double climb(std::span<const Uncertain> uncertain, std::span<const Spread> spreads,
             std::vector<Offset> directions) {
    double worst = -infinite;
    std::vector<Target> targets(uncertain.size());
    for (;;) {
        for (std::size_t n = 0; n < uncertain.size(); ++n) {
            const Offset error = farthest(spreads[n], uncertain[n].zone, directions[n]);
            targets[n] = uncertain[n].target;
            targets[n].x += error.x;
            targets[n].y += error.y;
        }
        const Alignment found = align(targets, least_of(targets));
        if (!(found.miss > worst + close_enough)) return std::max(worst, found.miss);
        worst = found.miss;
        for (std::size_t n = 0; n < uncertain.size(); ++n) {
            if (found.press[n].weight > 1e-6) directions[n] = {found.press[n].x, found.press[n].y};
        }
    }
}

/// Away from the middle of the pattern, and to both sides of it by turns.
std::vector<Offset> outward(std::span<const Uncertain> uncertain) {
    Offset middle;
    const double share = 1.0 / static_cast<double>(uncertain.size());
    for (const Uncertain& one : uncertain) {
        middle.x += share * one.target.x;
        middle.y += share * one.target.y;
    }
    std::vector<Offset> directions;
    double side = 1e-6;
    for (const Uncertain& one : uncertain) {
        const Offset out{one.target.x - middle.x, one.target.y - middle.y};
        directions.push_back({out.x - side * out.y, out.y + side * out.x});
        side = -side;
    }
    return directions;
}

double reached(std::span<const Uncertain> uncertain, const Branch& branch) {
    std::vector<Offset> directions = outward(uncertain);
    for (std::size_t n = 0; n < uncertain.size(); ++n) {
        const Press& press = branch.pressed[n].all;
        if (std::hypot(press.x, press.y) > 1e-6) directions[n] = {press.x, press.y};
    }
    return climb(uncertain, branch.spreads, std::move(directions));
}

/// What the bound gains from taking the circle around an arc for the arc.
double gained_by_arc(const Spread& spread, double zone, const Press& press) {
    const double radius = spread.radius(zone);
    const Offset centre = spread.centre(zone);
    const Offset arc = farthest(spread, zone, {press.x, press.y});
    return radius * press.weight + (centre.x - arc.x) * press.x + (centre.y - arc.y) * press.y;
}

enum class Cut { none, side_x, side_y, arc };

struct Place {
    std::size_t target = 0;
    Cut cut = Cut::none;
};

/// Where the bound gains most from letting a target be in two places at once.
Place loosest(std::span<const Uncertain> uncertain, const Branch& branch) {
    Place place;
    double most = 1e-12;
    auto consider = [&](std::size_t target, Cut cut, double gain) {
        if (gain <= most) return;
        most = gain;
        place = {target, cut};
    };
    for (std::size_t n = 0; n < uncertain.size(); ++n) {
        const Pressed& pressed = branch.pressed[n];
        const Spread& spread = branch.spreads[n];
        consider(n, Cut::side_x, spread.half_x * pressed.cancels_x);
        consider(n, Cut::side_y, spread.half_y * pressed.cancels_y);
        if (spread.half_x == 0.0 && spread.half_y == 0.0)
            consider(n, Cut::arc, gained_by_arc(spread, uncertain[n].zone, pressed.all));
    }
    return place;
}

std::vector<Spread> cut(const Spread& spread, Cut how) {
    std::vector<Spread> parts;
    if (how == Cut::arc) {
        const int count = spread.arc_half == pi ? 4 : 2;
        const double half = spread.arc_half / count;
        for (int n = 0; n < count; ++n) {
            parts.push_back(spread);
            parts.back().arc_half = half;
            parts.back().arc_middle = spread.arc_middle - spread.arc_half + half * (2 * n + 1);
        }
        return parts;
    }
    for (const double side : {1.0, -1.0}) {
        parts.push_back(spread);
        Spread& part = parts.back();
        (how == Cut::side_x ? part.x : part.y) += side * (how == Cut::side_x ? part.half_x : part.half_y);
        (how == Cut::side_x ? part.half_x : part.half_y) = 0.0;
    }
    return parts;
}

/// The bound if the shift follows the error of one target: its own error is gone, and each other has both. It
/// is the better one where a single target leaves little play and the others much, as a locating pin does.
double bound_following(std::span<const Uncertain> uncertain, std::size_t followed) {
    std::vector<Uncertain> others(uncertain.begin(), uncertain.end());
    const Uncertain lead = uncertain[followed];
    Branch branch;
    for (Uncertain& one : others) {
        one.half_x += lead.half_x;
        one.half_y += lead.half_y;
        one.zone += lead.zone;
    }
    others[followed] = {lead.target, 0.0, 0.0, 0.0};
    for (const Uncertain& one : others)
        branch.spreads.push_back({0.0, 0.0, one.half_x, one.half_y, 0.0, pi});
    bound(others, branch);
    return branch.bound;
}

/// The branch with the greatest bound; of equal ones the youngest, which goes down to single corners.
std::size_t most_open(const std::vector<Branch>& open) {
    std::size_t best = 0;
    for (std::size_t n = 1; n < open.size(); ++n) {
        if (open[n].bound >= open[best].bound - 1e-12) best = n;
    }
    return best;
}

}  // namespace

double worst_miss(std::span<const Uncertain> targets) {
    Branch root;
    for (const Uncertain& one : targets)
        root.spreads.push_back({0.0, 0.0, one.half_x, one.half_y, 0.0, pi});
    bound(targets, root);
    double found = std::max(climb(targets, root.spreads, outward(targets)), reached(targets, root));
    if (const Place place = loosest(targets, root);
        place.cut != Cut::none && root.bound > found + close_enough)
        root.bound = std::min(root.bound, bound_following(targets, place.target));
    std::vector<Branch> open{std::move(root)};
    double ceiling = -infinite;  // of branches that cannot be cut further
    for (int step = 0; !open.empty(); ++step) {
        const std::size_t next = most_open(open);
        Branch branch = std::move(open[next]);
        open.erase(open.begin() + static_cast<std::ptrdiff_t>(next));
        if (branch.bound <= std::max(found, ceiling) + close_enough) continue;
        const Place place = loosest(targets, branch);
        if (place.cut == Cut::none || step >= most_branchings) {
            ceiling = std::max(ceiling, branch.bound);
            continue;
        }
        for (const Spread& part : cut(branch.spreads[place.target], place.cut)) {
            Branch child;
            child.spreads = branch.spreads;
            child.spreads[place.target] = part;
            child.bound = branch.bound;
            bound(targets, child);
            if (child.bound <= std::max(found, ceiling) + close_enough) continue;
            found = std::max(found, reached(targets, child));
            open.push_back(std::move(child));
        }
    }
    return std::max(found, ceiling);
}

}  // namespace packproof::solve
