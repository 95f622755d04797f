// The fewest demands on an order of steps that no order meets together.
#pragma once

#include <vector>

#include "engine/solve/sequence_demands.hpp"

namespace packproof::solve {

struct Conflict {
    std::vector<Demand> demands;
    bool proven = false;  ///< none is smaller
};

/// `core`: demands that no order meets together. At most about `limit` orders are tried; what comes out is a
/// contradiction in any case, if no smaller than the core at worst.
///
/// Where each demand comes down to links, a shortest circle. Else: demands that miss no part that must be
/// left out for an order to exist (a smallest hitting set of such parts), more parts being found as long as
/// an order meets them (A. Ignatiev, A. Previti, M. Liffiton, J. Marques-Silva, CP 2015).
[[nodiscard]] Conflict smallest_conflict(const Demands& demands, std::vector<bool> core, std::size_t limit);

}  // namespace packproof::solve
