// Blocks of a network: two branches lie on one closed way just where they share a block (Tarjan's lowpoints,
// J. Hopcroft and R. Tarjan, Communications of the ACM 16, 1973, algorithm 447).
#pragma once

#include <optional>

#include "engine/solve/network.hpp"

namespace packproof::solve {

/// Of each branch the number of its block; a branch that no closed way holds is alone in its block. `without`
/// is left out and gets a block of its own. Branches from a node to itself are closed by themselves.
[[nodiscard]] std::vector<std::size_t> blocks_of(const Network& network,
                                                 std::optional<BranchIndex> without = std::nullopt);

/// Of each branch: its block holds a source and more than one branch.
[[nodiscard]] std::vector<bool> closed_with_a_source(const Network& network,
                                                     std::optional<BranchIndex> without = std::nullopt);

}  // namespace packproof::solve
