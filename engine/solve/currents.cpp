#include "engine/solve/currents.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "engine/solve/reduced_network.hpp"

namespace packproof::solve {

namespace {

// Beyond these a resistance is no other than none at all, or an open end: they keep the matrix solvable.
constexpr double least_resistance = 1e-10;
constexpr double most_resistance = 1e12;
constexpr std::uint32_t left_out = 0xffffffffU;

double bounded(double resistance) {
    return std::clamp(resistance, least_resistance, most_resistance);
}

/// Rows of the matrix: one for each node that joined strands reach from `start`, but `start` itself.
struct Rows {
    std::vector<std::uint32_t> of_node;
    Eigen::Index count = 0;
};

Rows rows_from(Node start, std::size_t nodes, const std::vector<Strand>& strands) {
    Rows rows{std::vector<std::uint32_t>(nodes, left_out), 0};
    std::vector<bool> met(nodes, false);
    met[start] = true;
    for (bool grown = true; grown;) {
        grown = false;
        for (const Strand& strand : strands) {
            if (met[strand.from] == met[strand.to]) continue;
            const Node fresh = met[strand.from] ? strand.to : strand.from;
            met[fresh] = true;
            rows.of_node[fresh] = static_cast<std::uint32_t>(rows.count++);
            grown = true;
        }
    }
    return rows;
}

/// Adds to both ends of a strand; the start node has no row.
void join(Eigen::MatrixXd& matrix, const Rows& rows, const Strand& strand, double conductance) {
    const std::uint32_t a = rows.of_node[strand.from];
    const std::uint32_t b = rows.of_node[strand.to];
    if (a == b) return;
    if (a != left_out) matrix(a, a) += conductance;
    if (b != left_out) matrix(b, b) += conductance;
    if (a != left_out && b != left_out) {
        matrix(a, b) -= conductance;
        matrix(b, a) -= conductance;
    }
}

double at(const Eigen::VectorXd& values, const Rows& rows, Node node) {
    return rows.of_node[node] == left_out ? 0.0 : values(rows.of_node[node]);
}

/// The current of the target at one corner of the resistances, over all voltages and drawn currents. Each of
/// them enters with a weight that one solution gives: the voltages that one ampere taken along the target
/// makes, for the matrix is symmetric.
Interval at_corner(const Reduced& reduced, const Rows& rows, const std::vector<double>& resistance) {
    Eigen::MatrixXd matrix = Eigen::MatrixXd::Zero(rows.count, rows.count);
    for (std::size_t s = 0; s < reduced.strands.size(); ++s)
        join(matrix, rows, reduced.strands[s], 1.0 / resistance[s]);
    const Strand& target = reduced.strands[reduced.target];
    const double own = 1.0 / resistance[reduced.target];
    Eigen::VectorXd unit = Eigen::VectorXd::Zero(rows.count);
    if (rows.of_node[target.from] != left_out) unit(rows.of_node[target.from]) += own;
    if (rows.of_node[target.to] != left_out) unit(rows.of_node[target.to]) -= own;
    const Eigen::VectorXd weight = matrix.ldlt().solve(unit);
    Interval sum{0.0, 0.0};
    auto add = [&sum](double factor, Interval value) {
        const double a = factor * value.low;
        const double b = factor * value.high;
        sum.low += factor == 0.0 ? 0.0 : std::min(a, b);
        sum.high += factor == 0.0 ? 0.0 : std::max(a, b);
    };
    for (std::size_t s = 0; s < reduced.strands.size(); ++s) {
        const Strand& strand = reduced.strands[s];
        double factor = (at(weight, rows, strand.to) - at(weight, rows, strand.from)) / resistance[s];
        if (s == reduced.target) factor += own;
        add(factor, strand.voltage);
    }
    for (Node node = 0; node < reduced.fed.size(); ++node)
        add(at(weight, rows, node), reduced.fed[node]);
    return sum;
}

std::optional<Interval> over_corners(const Reduced& reduced) {
    std::vector<std::size_t> varying;
    std::vector<double> resistance;
    for (std::size_t s = 0; s < reduced.strands.size(); ++s) {
        resistance.push_back(bounded(reduced.strands[s].resistance.low));
        if (resistance.back() != bounded(reduced.strands[s].resistance.high)) varying.push_back(s);
    }
    const Rows rows = rows_from(reduced.strands[reduced.target].from, reduced.fed.size(), reduced.strands);
    std::erase_if(varying, [&](std::size_t s) {  // what nothing joins to the branch does not bear on it
        const Strand& strand = reduced.strands[s];
        const Node start = reduced.strands[reduced.target].from;
        return strand.from == strand.to || (strand.from != start && rows.of_node[strand.from] == left_out);
    });
    if (varying.size() > most_varying) return std::nullopt;
    Interval range{units::unbounded, -units::unbounded};
    for (std::size_t corner = 0; corner < (std::size_t{1} << varying.size()); ++corner) {
        for (std::size_t v = 0; v < varying.size(); ++v) {
            const Interval ends = reduced.strands[varying[v]].resistance;
            resistance[varying[v]] = bounded((corner >> v & 1U) != 0 ? ends.high : ends.low);
        }
        const Interval here = at_corner(reduced, rows, resistance);
        range = {std::min(range.low, here.low), std::max(range.high, here.high)};
    }
    return range;
}

}  // namespace

std::optional<Current> current_through(const Network& network, const Electrical& values, BranchIndex branch,
                                       std::optional<std::pair<Node, Node>> joined) {
    Reduced reduced = reduce(network, values, branch, joined);
    Current current;
    if (!reduced.carries) return current;
    const Strand& target = reduced.strands[reduced.target];
    if (target.from == target.to) {
        current.range = target.voltage / target.resistance;
        current.way = std::move(reduced.way);
        std::sort(current.way.begin(), current.way.end());
    } else if (const std::optional<Interval> range = over_corners(reduced)) {
        current.range = *range;
    } else {
        return std::nullopt;
    }
    return current;
}

Interval resistance_between(const Network& network, const Electrical& values, Node a, Node b) {
    if (a == b) return {0.0, 0.0};
    std::vector<Strand> strands;
    for (BranchIndex n = 0; n < network.branches.size(); ++n) {
        const Branch& branch = network.branches[n];
        if (branch.role == Branch::Role::sink) continue;
        strands.push_back({branch.from, branch.to, values.resistance[n], {0.0, 0.0}});
    }
    const Rows rows = rows_from(a, network.nodes, strands);
    if (rows.of_node[b] == left_out) return {units::unbounded, units::unbounded};
    auto with = [&](double Interval::*end) {
        Eigen::MatrixXd matrix = Eigen::MatrixXd::Zero(rows.count, rows.count);
        for (const Strand& strand : strands)
            join(matrix, rows, strand, 1.0 / bounded(strand.resistance.*end));
        Eigen::VectorXd unit = Eigen::VectorXd::Zero(rows.count);
        unit(rows.of_node[b]) = 1.0;
        return matrix.ldlt().solve(unit)(rows.of_node[b]);
    };
    return {with(&Interval::low), with(&Interval::high)};
}

}  // namespace packproof::solve
