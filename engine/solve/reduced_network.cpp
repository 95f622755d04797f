#include "engine/solve/reduced_network.hpp"

#include <algorithm>
#include <numeric>
#include <span>
#include <utility>

#include "engine/solve/blocks.hpp"

namespace packproof::solve {

namespace {

constexpr Interval nothing{0.0, 0.0};

/// The strands that end at every node, a ring twice. They only become fewer at a node, so that each has its
/// own stretch of one list.
class Ends {
  public:
    void build(std::size_t nodes, const std::vector<Strand>& strands) {
        stretches_.resize(nodes);
        for (const Strand& strand : strands)
            for (const Node node : {strand.from, strand.to})
                ++stretches_[node].size;
        std::size_t begin = 0;
        for (Stretch& stretch : stretches_) {
            stretch.begin = begin;
            begin += std::exchange(stretch.size, std::size_t{0});
        }
        list_.resize(begin);
        for (std::size_t s = 0; s < strands.size(); ++s)
            for (const Node node : {strands[s].from, strands[s].to})
                list_[stretches_[node].begin + stretches_[node].size++] = s;
    }
    [[nodiscard]] std::span<std::size_t> at(Node node) {
        return std::span(list_).subspan(stretches_[node].begin, stretches_[node].size);
    }
    void remove(Node node, std::size_t strand) {
        const std::span<std::size_t> here = at(node);
        stretches_[node].size =
            static_cast<std::size_t>(std::remove(here.begin(), here.end(), strand) - here.begin());
    }
    void clear(Node node) { stretches_[node].size = 0; }

  private:
    struct Stretch {
        std::size_t begin = 0;
        std::size_t size = 0;
    };
    std::vector<Stretch> stretches_;
    std::vector<std::size_t> list_;
};

class Reduction {
  public:
    Reduction(const Network& network, const Electrical& values, BranchIndex branch,
              std::optional<std::pair<Node, Node>> joined) {
        reduced_.fed.assign(network.nodes, nothing);
        reduced_.strands.reserve(network.branches.size());
        parts_.reserve(network.branches.size());
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
            Strand strand{place(at.from), place(at.to), values.resistance[b], nothing};
            if (at.role == Branch::Role::source) strand.voltage = values.voltage[b];
            const std::size_t s = reduced_.strands.size();
            if (b == branch) reduced_.target = s;
            reduced_.strands.push_back(strand);
            parts_.push_back({b, s, s});
        }
        alive_.assign(reduced_.strands.size(), true);
        ends_.build(network.nodes, reduced_.strands);
    }

    Reduced run() {
        std::vector<Node> work(reduced_.fed.size());
        std::iota(work.begin(), work.end(), Node{0});
        while (!work.empty()) {
            const Node node = work.back();
            work.pop_back();
            if (reduced_.fed[node] != nothing) continue;
            const std::span<const std::size_t> here = ends_.at(node);
            if (here.size() == 1) {
                drop(here.front(), work);
            } else if (here.size() == 2 && here[0] != here[1]) {
                take_together(node, here[0], here[1]);
            }
        }
        reduced_.carries = alive_[reduced_.target];
        reduced_.way = way_of(reduced_.target);
        std::size_t kept = 0;
        for (std::size_t s = 0; s < reduced_.strands.size(); ++s) {
            if (s == reduced_.target) reduced_.target = kept;
            if (alive_[s]) reduced_.strands[kept++] = reduced_.strands[s];
        }
        reduced_.strands.resize(kept);
        return std::move(reduced_);
    }

  private:
    void drop(std::size_t strand, std::vector<Node>& work) {
        alive_[strand] = false;
        for (const Node end : {reduced_.strands[strand].from, reduced_.strands[strand].to}) {
            ends_.remove(end, strand);
            work.push_back(end);
        }
    }
    /// The second strand is taken into the first, in the first's direction; the first is the one asked for if
    /// either is.
    void take_together(Node node, std::size_t first, std::size_t second) {
        if (second == reduced_.target) std::swap(first, second);
        Strand& kept = reduced_.strands[first];
        const Strand& taken = reduced_.strands[second];
        const bool at_end = kept.to == node;  // where the second goes on
        const bool same_way = (at_end ? taken.from : taken.to) == node;
        const Node other = taken.from == node ? taken.to : taken.from;
        kept.resistance = kept.resistance + taken.resistance;
        kept.voltage = same_way ? kept.voltage + taken.voltage : kept.voltage - taken.voltage;
        (at_end ? kept.to : kept.from) = other;
        parts_[parts_[first].last].next = second;
        parts_[first].last = parts_[second].last;
        alive_[second] = false;
        ends_.clear(node);
        const std::span<std::size_t> there = ends_.at(other);
        std::replace(there.begin(), there.end(), second, first);
    }
    [[nodiscard]] std::vector<BranchIndex> way_of(std::size_t strand) const {
        std::vector<BranchIndex> way{parts_[strand].branch};
        for (std::size_t s = strand; s != parts_[strand].last;) {
            s = parts_[s].next;
            way.push_back(parts_[s].branch);
        }
        return way;
    }

    /// What was a strand at first: its branch, the next in the list of those taken together, and of the head
    /// of a list the last.
    struct Part {
        BranchIndex branch;
        std::size_t next;
        std::size_t last;
    };
    Reduced reduced_;
    std::vector<Part> parts_;
    std::vector<bool> alive_;
    Ends ends_;
};

}  // namespace

Reduced reduce(const Network& network, const Electrical& values, BranchIndex branch,
               std::optional<std::pair<Node, Node>> joined) {
    return Reduction(network, values, branch, joined).run();
}

}  // namespace packproof::solve
