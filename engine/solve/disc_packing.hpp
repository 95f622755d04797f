// Discs packed into a small circle by search: overlaps and the circle's radius are costs to be lessened
// together, from regular and random places and by moving single discs (monotonic basin hopping; A. Grosso et
// al., Journal of Global Optimization 47, 2010). Steps and random numbers are fixed, so that results repeat.
#pragma once

#include <span>
#include <vector>

namespace packproof::solve {

struct Places {
    std::vector<double> x, y;  ///< of the middles, from that of the circle
    double radius = 0.0;       ///< of the circle that holds all
};

/// The best places found for discs of these radii (at least one, all above nothing and finite, largest
/// first). No two overlap and none reaches beyond the radius, to twelve digits.
[[nodiscard]] Places pack_discs(std::span<const double> radii, bool thorough);

}  // namespace packproof::solve
