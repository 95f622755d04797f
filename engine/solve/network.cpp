#include "engine/solve/network.hpp"

#include <algorithm>
#include <numeric>
#include <set>

#include "engine/solve/blocks.hpp"

namespace packproof::solve {

namespace {

constexpr std::uint32_t nowhere = 0xffffffffU;

bool is_source(const Branch& branch) {
    return branch.role == Branch::Role::source;
}

/// Numbers of the parts that the joins leave.
class Joins {
  public:
    explicit Joins(Node nodes) : above_(nodes) { std::iota(above_.begin(), above_.end(), Node{0}); }
    Node part(Node node) {
        while (above_[node] != node)
            node = above_[node] = above_[above_[node]];
        return node;
    }
    void join(Node a, Node b) { above_[part(a)] = part(b); }

  private:
    std::vector<Node> above_;
};

std::vector<Node> joined_by_conductors(const Network& network) {
    Joins joins(network.nodes);
    for (const Branch& branch : network.branches)
        if (branch.role == Branch::Role::conductor) joins.join(branch.from, branch.to);
    std::vector<Node> joined(network.nodes);
    for (Node node = 0; node < network.nodes; ++node)
        joined[node] = joins.part(node);
    return joined;
}

/// One chain while it is walked: joined nodes as its points, sources as the steps between them.
struct Line {
    std::vector<Node> points;
    std::vector<BranchIndex> sources;
};

std::vector<Line> lines_of(const Network& network, const std::vector<Node>& joined) {
    Joins joins(network.nodes);
    for (const Branch& branch : network.branches)
        if (is_source(branch)) joins.join(joined[branch.from], joined[branch.to]);
    std::vector<Line> lines;
    std::vector<std::uint32_t> line_of(network.nodes, nowhere);
    for (BranchIndex b = 0; b < network.branches.size(); ++b) {
        const Branch& branch = network.branches[b];
        if (!is_source(branch)) continue;
        std::uint32_t& line = line_of[joins.part(joined[branch.from])];
        if (line == nowhere) {
            line = static_cast<std::uint32_t>(lines.size());
            lines.emplace_back();
        }
        lines[line].sources.push_back(b);
        for (const Node end : {joined[branch.from], joined[branch.to]}) {
            std::vector<Node>& points = lines[line].points;
            if (std::find(points.begin(), points.end(), end) == points.end()) points.push_back(end);
        }
    }
    return lines;
}

/// The points from one end to the other; empty where they do not stand in one line.
std::vector<Node> walk(const Network& network, const std::vector<Node>& joined, const Line& line) {
    auto neighbours = [&](Node point) {
        std::set<Node> found;
        for (const BranchIndex b : line.sources) {
            const Node from = joined[network.branches[b].from];
            const Node to = joined[network.branches[b].to];
            if (from == point && to != point) found.insert(to);
            if (to == point && from != point) found.insert(from);
        }
        return found;
    };
    std::vector<Node> ends;
    for (const Node point : line.points) {
        const std::size_t count = neighbours(point).size();
        if (count == 1) ends.push_back(point);
        if (count == 0 || count > 2) return {};
    }
    if (ends.size() != 2) return {};
    std::vector<Node> way{ends.front()};
    while (way.size() < line.points.size()) {
        for (const Node next : neighbours(way.back()))
            if (way.size() < 2 || next != way[way.size() - 2]) {
                way.push_back(next);
                break;
            }
    }
    return way;
}

void settle_line(const Network& network, const Line& line, Shape& shape) {
    Chain chain;
    std::vector<Node> way = walk(network, shape.joined, line);
    auto step_of = [&](BranchIndex b) {
        const auto from =
            std::find(way.begin(), way.end(), shape.joined[network.branches[b].from]) - way.begin();
        const auto to = std::find(way.begin(), way.end(), shape.joined[network.branches[b].to]) - way.begin();
        return std::pair{from, to};
    };
    std::size_t forward = 0;
    std::size_t backward = 0;
    for (const BranchIndex b : line.sources) {
        shape.chain[b] = shape.chains.size();
        shape.shorted[b] = shape.joined[network.branches[b].from] == shape.joined[network.branches[b].to];
        if (way.empty() || shape.shorted[b]) continue;
        const auto [from, to] = step_of(b);
        ++(from < to ? forward : backward);
    }
    if (!way.empty()) {
        if (backward > forward) std::reverse(way.begin(), way.end());
        chain.length = static_cast<std::uint32_t>(way.size() - 1);
        for (const BranchIndex b : line.sources) {
            if (shape.shorted[b]) continue;
            const Branch& branch = network.branches[b];
            const auto [from, to] = step_of(b);
            shape.place[b] = static_cast<std::uint32_t>(std::max(from, to));
            shape.reversed[b] = to < from || forward == backward;
            for (const Node end : {branch.from, branch.to}) {
                if (shape.joined[end] == way.front()) chain.negative.push_back(end);
                if (shape.joined[end] == way.back()) chain.positive.push_back(end);
            }
        }
        std::vector<std::uint32_t> at(chain.length + 1, 0);
        for (const BranchIndex b : line.sources)
            if (shape.place[b] != 0) ++at[shape.place[b]];
        for (const BranchIndex b : line.sources)
            shape.side_by_side[b] = at[shape.place[b]];
    }
    shape.chains.push_back(std::move(chain));
}

}  // namespace

Shape shape_of(const Network& network) {
    const std::size_t count = network.branches.size();
    Shape shape;
    shape.joined = joined_by_conductors(network);
    shape.in_circuit = closed_with_a_source(network);
    shape.closed =
        std::find(shape.in_circuit.begin(), shape.in_circuit.end(), true) != shape.in_circuit.end();
    shape.shorted.assign(count, false);
    shape.reversed.assign(count, false);
    shape.from_joined.assign(count, false);
    shape.to_joined.assign(count, false);
    shape.place.assign(count, 0);
    shape.side_by_side.assign(count, 0);
    shape.chain.assign(count, 0);
    for (const Line& line : lines_of(network, shape.joined))
        settle_line(network, line, shape);
    std::vector<std::uint32_t> ends(network.nodes, 0);
    for (const Branch& branch : network.branches) {
        ++ends[branch.from];
        ++ends[branch.to];
    }
    for (BranchIndex b = 0; b < count; ++b) {
        if (!is_source(network.branches[b])) continue;
        shape.from_joined[b] = ends[network.branches[b].from] > 1;
        shape.to_joined[b] = ends[network.branches[b].to] > 1;
    }
    return shape;
}

std::vector<std::vector<BranchIndex>> openers_of(const Network& network) {
    std::vector<std::vector<BranchIndex>> openers(network.branches.size());
    const std::vector<bool> closed = closed_with_a_source(network);
    for (BranchIndex device = 0; device < network.branches.size(); ++device) {
        if (!network.branches[device].opens) continue;
        const std::vector<bool> left = closed_with_a_source(network, device);
        for (BranchIndex b = 0; b < network.branches.size(); ++b)
            if (closed[b] && !left[b]) openers[b].push_back(device);
    }
    return openers;
}

}  // namespace packproof::solve
