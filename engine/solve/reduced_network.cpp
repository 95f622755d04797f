#include "engine/solve/reduced_network.hpp"

#include <algorithm>

#include "engine/solve/blocks.hpp"

namespace packproof::solve {

namespace {

constexpr Interval nothing{0.0, 0.0};

class Reduction {
  public:
    Reduction(const Network& network, const Electrical& values, BranchIndex branch,
              std::optional<std::pair<Node, Node>> joined) {
        reduced_.fed.assign(network.nodes, nothing);
        const std::vector<bool> closed = joined ? std::vector<bool>{} : closed_with_a_source(network);
        auto place = [&](Node node) { return joined && node == joined->second ? joined->first : node; };
        for (BranchIndex b = 0; b < network.branches.size(); ++b) {
            const Branch& at = network.branches[b];
            if (at.role == Branch::Role::sink) {
                if (joined || !closed[b]) continue;
                reduced_.fed[at.from] = reduced_.fed[at.from] - values.drawn[b];
                reduced_.fed[at.to] = reduced_.fed[at.to] + values.drawn[b];
                continue;
            }
            Strand strand{place(at.from), place(at.to), values.resistance[b], nothing, {b}};
            if (at.role == Branch::Role::source) strand.voltage = values.voltage[b];
            if (b == branch) reduced_.target = reduced_.strands.size();
            reduced_.strands.push_back(std::move(strand));
        }
        alive_.assign(reduced_.strands.size(), true);
        ends_.resize(network.nodes);
        for (std::size_t s = 0; s < reduced_.strands.size(); ++s) {
            ends_[reduced_.strands[s].from].push_back(s);
            ends_[reduced_.strands[s].to].push_back(s);
        }
    }

    Reduced run() {
        std::vector<Node> work(ends_.size());
        for (Node node = 0; node < work.size(); ++node)
            work[node] = node;
        while (!work.empty()) {
            const Node node = work.back();
            work.pop_back();
            if (reduced_.fed[node] != nothing) continue;
            if (ends_[node].size() == 1) {
                drop(ends_[node].front(), work);
            } else if (ends_[node].size() == 2 && ends_[node][0] != ends_[node][1]) {
                take_together(node, ends_[node][0], ends_[node][1]);
            }
        }
        reduced_.carries = alive_[reduced_.target];
        std::vector<Strand> kept;
        std::size_t target = 0;
        for (std::size_t s = 0; s < reduced_.strands.size(); ++s) {
            if (!alive_[s]) continue;
            if (s == reduced_.target) target = kept.size();
            kept.push_back(std::move(reduced_.strands[s]));
        }
        reduced_.strands = std::move(kept);
        reduced_.target = target;
        return std::move(reduced_);
    }

  private:
    void drop(std::size_t strand, std::vector<Node>& work) {
        alive_[strand] = false;
        for (const Node end : {reduced_.strands[strand].from, reduced_.strands[strand].to}) {
            std::erase(ends_[end], strand);
            work.push_back(end);
        }
    }
    /// The second strand is taken into the first, in the first's direction; the first is the one asked for if
    /// either is.
    void take_together(Node node, std::size_t first, std::size_t second) {
        if (second == reduced_.target) std::swap(first, second);
        Strand& kept = reduced_.strands[first];
        Strand& taken = reduced_.strands[second];
        const bool at_end = kept.to == node;  // where the second goes on
        const bool same_way = (at_end ? taken.from : taken.to) == node;
        const Node other = taken.from == node ? taken.to : taken.from;
        kept.resistance = kept.resistance + taken.resistance;
        kept.voltage = same_way ? kept.voltage + taken.voltage : kept.voltage - taken.voltage;
        kept.branches.insert(kept.branches.end(), taken.branches.begin(), taken.branches.end());
        (at_end ? kept.to : kept.from) = other;
        alive_[second] = false;
        ends_[node].clear();
        std::replace(ends_[other].begin(), ends_[other].end(), second, first);
    }

    Reduced reduced_;
    std::vector<bool> alive_;
    std::vector<std::vector<std::size_t>> ends_;  ///< strands that end at each node; a ring twice
};

}  // namespace

Reduced reduce(const Network& network, const Electrical& values, BranchIndex branch,
               std::optional<std::pair<Node, Node>> joined) {
    return Reduction(network, values, branch, joined).run();
}

}  // namespace packproof::solve
