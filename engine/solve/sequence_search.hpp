// Search for an order of steps that meets demands: any one, or the one that moves the fewest steps.
#pragma once

#include <cstddef>
#include <vector>

#include "engine/solve/precedence.hpp"
#include "engine/solve/sequence_demands.hpp"

namespace packproof::solve {

/// An order that meets the demands, and links that it follows and that no plan with fewer moves does.
struct Found {
    Possible possible = Possible::open;
    Plan plan;                ///< where possible
    std::vector<Link> links;  ///< where possible
    std::vector<bool> core;   ///< where not: demands of those in force that no order meets together
};

/// Tries ways to mend what is broken in turn, at most as many orders as `limit` has left, which it lowers.
/// The order found is the nearest that follows the ways taken, not the nearest of all.
[[nodiscard]] Found any_order(const Demands& demands, const std::vector<bool>& in_force, std::size_t& limit);

/// Best first: the plan that moves the fewest steps of all that meet every demand, after at most `limit`
/// orders. `core` is left empty.
[[nodiscard]] Found nearest_order(const Demands& demands, std::size_t limit);

}  // namespace packproof::solve
