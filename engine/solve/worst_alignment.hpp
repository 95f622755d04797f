// The worst that errors of position can do to two patterns of points of which one may shift and turn: the
// greatest, over all errors, of the least miss. For one error the miss is convex in error and pose, so that
// the worst errors lie at corners of their boxes and on the rims of their zones; branch and bound tries
// these.
#pragma once

#include <span>

#include "engine/solve/alignment.hpp"

namespace packproof::solve {

/// A target that may lie anywhere within a box and, beyond that, within a circle.
struct Uncertain {
    Target target;                      ///< at its middle
    double half_x = 0.0, half_y = 0.0;  ///< m, of the box
    double zone = 0.0;                  ///< m, radius
};

/// m; within 1e-9 m, or more than the worst if after `most_branchings` the bounds have not met.
[[nodiscard]] double worst_miss(std::span<const Uncertain> targets);

inline constexpr int most_branchings = 80;

}  // namespace packproof::solve
