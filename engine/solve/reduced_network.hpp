// A network with everything taken out that does not bear on one branch's current: dead ends dropped, branches
// in series taken together.
#pragma once

#include <vector>

#include "engine/solve/currents.hpp"

namespace packproof::solve {

/// Branches in series taken as one: voltages and resistances added up in its direction.
struct Strand {
    Node from = 0;
    Node to = 0;
    Interval resistance{0.0, 0.0};
    Interval voltage{0.0, 0.0};  ///< rises from `from` to `to`
};

struct Reduced {
    std::vector<Strand> strands;
    std::vector<Interval> fed;     ///< A into each node, by sinks negative where they draw
    std::size_t target = 0;        ///< the strand that holds the branch asked for, and points its way
    std::vector<BranchIndex> way;  ///< the branches of that strand
    bool carries = false;          ///< false: the branch lies on no closed way, all else is void
};

/// A sink that lies on no closed way with a source draws nothing.
[[nodiscard]] Reduced reduce(const Network& network, const Electrical& values, BranchIndex branch,
                             std::optional<std::pair<Node, Node>> joined);

}  // namespace packproof::solve
