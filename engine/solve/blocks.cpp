#include "engine/solve/blocks.hpp"

#include <algorithm>

namespace packproof::solve {

namespace {

constexpr std::size_t none = static_cast<std::size_t>(-1);

struct End {
    BranchIndex branch;
    Node other;
};

std::vector<std::vector<End>> ends_of(const Network& network, std::optional<BranchIndex> without) {
    std::vector<std::vector<End>> ends(network.nodes);
    for (BranchIndex b = 0; b < network.branches.size(); ++b) {
        const Branch& branch = network.branches[b];
        if (b == without || branch.from == branch.to) continue;
        ends[branch.from].push_back({b, branch.to});
        ends[branch.to].push_back({b, branch.from});
    }
    return ends;
}

/// Where the walk stands at one node.
struct Visit {
    Node node;
    BranchIndex by;        ///< the branch it came by
    std::size_t next = 0;  ///< of its ends
};

class Walk {
  public:
    Walk(const Network& network, std::optional<BranchIndex> without)
        : ends_(ends_of(network, without)),
          met_(network.nodes, none),
          low_(network.nodes, none),
          block_(network.branches.size(), none) {
        for (Node node = 0; node < network.nodes; ++node)
            if (met_[node] == none) from(node);
        for (std::size_t& block : block_)
            if (block == none) block = blocks_++;
    }
    [[nodiscard]] std::vector<std::size_t> take() { return std::move(block_); }

  private:
    void from(Node root) {
        std::vector<Visit> way{enter(root, none)};
        while (!way.empty()) {
            Visit& at = way.back();
            if (at.next == ends_[at.node].size()) {
                const Visit done = at;
                way.pop_back();
                if (!way.empty()) leave(way.back().node, done);
                continue;
            }
            const End end = ends_[at.node][at.next++];
            if (end.branch == at.by) continue;
            if (met_[end.other] == none) {
                open_.push_back(end.branch);
                way.push_back(enter(end.other, end.branch));
            } else if (met_[end.other] < met_[at.node]) {
                open_.push_back(end.branch);
                low_[at.node] = std::min(low_[at.node], met_[end.other]);
            }
        }
    }
    Visit enter(Node node, BranchIndex by) {
        met_[node] = low_[node] = count_++;
        return {node, by};
    }
    /// Back at `above` from a node: if no way led above it, what was met since is one block.
    void leave(Node above, const Visit& done) {
        low_[above] = std::min(low_[above], low_[done.node]);
        if (low_[done.node] < met_[above]) return;
        for (BranchIndex last = none; last != done.by;) {
            last = open_.back();
            open_.pop_back();
            block_[last] = blocks_;
        }
        ++blocks_;
    }

    std::vector<std::vector<End>> ends_;
    std::vector<std::size_t> met_;  ///< when each node was met
    std::vector<std::size_t> low_;  ///< the earliest node that a closed way leads back to
    std::vector<std::size_t> block_;
    std::vector<BranchIndex> open_;
    std::size_t count_ = 0;
    std::size_t blocks_ = 0;
};

}  // namespace

std::vector<std::size_t> blocks_of(const Network& network, std::optional<BranchIndex> without) {
    return Walk(network, without).take();
}

std::vector<bool> closed_with_a_source(const Network& network, std::optional<BranchIndex> without) {
    const std::vector<std::size_t> blocks = blocks_of(network, without);
    std::vector<std::size_t> size(network.branches.size(), 0);
    std::vector<bool> source(network.branches.size(), false);
    for (BranchIndex b = 0; b < blocks.size(); ++b) {
        if (b == without) continue;
        const Branch& branch = network.branches[b];
        // A branch from a node to itself is a closed way.
        size[blocks[b]] += branch.from == branch.to ? 2 : 1;
        if (branch.role == Branch::Role::source) source[blocks[b]] = true;
    }
    std::vector<bool> closed(network.branches.size(), false);
    for (BranchIndex b = 0; b < blocks.size(); ++b)
        closed[b] = b != without && source[blocks[b]] && size[blocks[b]] > 1;
    return closed;
}

}  // namespace packproof::solve
