// Currents in a network of resistances, sources and sinks, by node voltages (Kirchhoff's laws; the reduced
// network's conductance matrix is factored for each corner of the resistances). Every resistance, voltage and
// drawn current varies within its interval by itself: two parts of one kind need not be alike.
#pragma once

#include <optional>
#include <utility>
#include <vector>

#include "engine/solve/network.hpp"
#include "engine/units/interval.hpp"

namespace packproof::solve {

using units::Interval;

/// Of each branch, in the order of the network's.
struct Electrical {
    std::vector<Interval> resistance;  ///< Ω, not negative; of a sink not read
    std::vector<Interval> voltage;     ///< V, of sources; of others not read
    std::vector<Interval> drawn;       ///< A, of sinks; of others not read
};

struct Current {
    Interval range;  ///< A, from the branch's `from` to its `to`
    /// Where the whole network comes down to one closed way: its branches in the order of the network, whose
    /// voltages over whose resistances the current is.
    std::vector<BranchIndex> way;
};

/// At most so many resistances that vary by themselves once those in series are taken together: the corners
/// are tried one by one.
inline constexpr std::size_t most_varying = 12;

/// The current through `branch` (conductor or source): with `joined`, two nodes that a fault joins without
/// resistance while sinks draw nothing; else with the sinks drawing their currents. A branch on no closed way
/// carries 0. Each current is a quotient of functions that are linear in any one resistance, so that its ends
/// lie at corners. Nothing if more than `most_varying` vary.
[[nodiscard]] std::optional<Current> current_through(const Network& network, const Electrical& values,
                                                     BranchIndex branch,
                                                     std::optional<std::pair<Node, Node>> joined);

/// The resistance between two nodes, Ω, sources standing for their own resistance, sinks left out. It rises
/// with every resistance (J. W. S. Rayleigh, The Theory of Sound, volume 1, 305: adding resistance nowhere
/// lessens it), so that its ends come from the ends of all. Infinite if nothing joins them.
[[nodiscard]] Interval resistance_between(const Network& network, const Electrical& values, Node a, Node b);

}  // namespace packproof::solve
