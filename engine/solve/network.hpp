// An electrical network: nodes joined by branches. The shape alone tells which chain a source stands in, what
// is shorted, and which devices open which branch; the values are in currents.hpp.
#pragma once

#include <cstdint>
#include <vector>

namespace packproof::solve {

using Node = std::uint32_t;
using BranchIndex = std::size_t;

struct Branch {
    enum class Role : std::uint8_t {
        conductor,  ///< a resistance
        source,     ///< its voltage rises from `from` to `to`
        sink,       ///< draws a current from `from` to `to`; no way for a fault
    };
    Node from = 0;
    Node to = 0;
    Role role = Role::conductor;
    bool opens = false;  ///< a conductor that opens by itself on too much current
};

struct Network {
    Node nodes = 0;
    std::vector<Branch> branches;
};

/// Sources in line between two poles, with conductors between them; at each place one source or several side
/// by side.
struct Chain {
    std::uint32_t length = 0;  ///< places from pole to pole; 0 where the sources do not stand in one line
    std::vector<Node>
        negative;  ///< terminals of sources at the poles; of the sources' own ends, so that a fault
    std::vector<Node> positive;  ///< there meets no resistance but theirs
};

struct Shape {
    /// Of each branch: it lies on a closed way with a source (sinks count as closed), so that current can
    /// flow.
    std::vector<bool> in_circuit;
    bool closed = false;  ///< some branch does

    // of sources; of other branches 0 or false
    std::vector<bool> shorted;         ///< conductors alone join its two ends
    std::vector<bool> reversed;        ///< it stands against most of its chain; in a tie all do
    std::vector<std::uint32_t> place;  ///< in its chain, from 1 at the negative pole; 0 if not in one line
    std::vector<std::uint32_t> side_by_side;  ///< sources between the same two nodes, this one counted
    std::vector<bool> from_joined;            ///< another branch ends where it begins
    std::vector<bool> to_joined;
    std::vector<std::size_t> chain;  ///< index in `chains`

    std::vector<Chain> chains;
    /// Of each node: nodes with the same number are joined by conductors alone.
    std::vector<Node> joined;
};

/// Every end of a branch must be less than `nodes`.
[[nodiscard]] Shape shape_of(const Network& network);

/// Of each branch those that open by themselves and whose opening leaves it on no closed way with a source:
/// those in series with it. Itself counts. Ascending; none where it is in no circuit.
[[nodiscard]] std::vector<std::vector<BranchIndex>> openers_of(const Network& network);

}  // namespace packproof::solve
