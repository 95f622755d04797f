#include "engine/solve/blocks.hpp"

#include <algorithm>
#include <numeric>

namespace packproof::solve {

namespace {

constexpr std::size_t none = static_cast<std::size_t>(-1);

struct End {
    BranchIndex branch = 0;
    Node other = 0;
};

/// The ends of branches at every node, in one list: those of node n stand at [first[n], first[n + 1]).
struct Ends {
    std::vector<std::size_t> first;
    std::vector<End> all;
};

Ends ends_of(const Network& network, std::optional<BranchIndex> without) {
    const auto counts = [&](BranchIndex b) {
        return b != without && network.branches[b].from != network.branches[b].to;
    };
    Ends ends;
    ends.first.assign(network.nodes + std::size_t{2}, 0);
    for (BranchIndex b = 0; b < network.branches.size(); ++b) {
        if (!counts(b)) continue;
        ++ends.first[network.branches[b].from + std::size_t{2}];
        ++ends.first[network.branches[b].to + std::size_t{2}];
    }
    std::partial_sum(ends.first.begin(), ends.first.end(), ends.first.begin());
    ends.all.resize(ends.first.back());
    for (BranchIndex b = 0; b < network.branches.size(); ++b) {
        if (!counts(b)) continue;
        const Branch& branch = network.branches[b];
        ends.all[ends.first[branch.from + std::size_t{1}]++] = {b, branch.to};
        ends.all[ends.first[branch.to + std::size_t{1}]++] = {b, branch.from};
    }
    return ends;
}

/// Where the walk stands at one node.
struct Visit {
    Node node;
    BranchIndex by;    ///< the branch it came by
    std::size_t next;  ///< of the ends
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
            if (at.next == ends_.first[at.node + std::size_t{1}]) {
                const Visit done = at;
                way.pop_back();
                if (!way.empty()) leave(way.back().node, done);
                continue;
            }
            const End end = ends_.all[at.next++];
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
        return {node, by, ends_.first[node]};
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

    Ends ends_;
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
