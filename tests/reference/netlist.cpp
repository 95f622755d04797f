#include "tests/reference/netlist.hpp"

#include <fmt/core.h>
#include <fmt/format.h>

#include <algorithm>
#include <numeric>

namespace packproof::reference {

namespace {

constexpr double scale = 1e6;
constexpr double no_resistance = 1e-10;  // Ω, for a loop without any could not be solved

std::string node_name(const std::string& copy, solve::Node node) {
    return fmt::format("{}n{}", copy, node);
}

solve::Node root_of(std::vector<solve::Node>& parent, solve::Node node) {
    while (parent[node] != node)
        node = parent[node] = parent[parent[node]];
    return node;
}

}  // namespace

Netlist::Netlist(std::string title) : lines_("* " + std::move(title) + "\n") {}

/// One node of each connected part is tied to ground, over a resistor that carries nothing.
void Netlist::ground(const Points& points, const std::string& copy,
                     std::optional<std::pair<solve::Node, solve::Node>> joined) {
    std::vector<solve::Node> parent(points.network.nodes);
    std::iota(parent.begin(), parent.end(), solve::Node{0});
    for (const solve::Branch& branch : points.network.branches)
        if (branch.role != solve::Branch::Role::sink)
            parent[root_of(parent, branch.from)] = root_of(parent, branch.to);
    if (joined) parent[root_of(parent, joined->first)] = root_of(parent, joined->second);
    for (solve::Node node = 0; node < points.network.nodes; ++node)
        if (root_of(parent, node) == node)
            lines_ += fmt::format("r{}g{} {} 0 1\n", copy, node, node_name(copy, node));
}

std::vector<std::string> Netlist::add(const Points& points,
                                      std::optional<std::pair<solve::Node, solve::Node>> joined) {
    const std::string copy = fmt::format("c{}", copies_++);
    const solve::Shape shape = solve::shape_of(points.network);
    std::vector<std::string> names(points.network.branches.size());
    ground(points, copy, joined);
    for (std::size_t b = 0; b < names.size(); ++b) {
        const solve::Branch& branch = points.network.branches[b];
        const std::string from = node_name(copy, branch.from);
        const std::string to = node_name(copy, branch.to);
        if (branch.role == solve::Branch::Role::sink) {
            if (!joined && shape.in_circuit[b])
                lines_ += fmt::format("i{}b{} {} {} {:.17g}\n", copy, b, from, to, points.drawn[b]);
            continue;
        }
        // a source of no voltage carries what flows from `from` to `to`; a cell's rises that way
        const double volts = branch.role == solve::Branch::Role::source ? points.voltage[b] : 0.0;
        const std::string middle = fmt::format("{}m{}", copy, b);
        lines_ +=
            fmt::format("v{}b{} {} {} {:.17g}\n", copy, b, from, middle, volts == 0.0 ? 0.0 : -volts * scale);
        lines_ += fmt::format("r{}b{} {} {} {:.17g}\n", copy, b, middle, to,
                              std::max(points.resistance[b], no_resistance) * scale);
        names[b] = fmt::format("i(v{}b{})", copy, b);
    }
    if (joined)
        lines_ += fmt::format("v{}fault {} {} 0\n", copy, node_name(copy, joined->first),
                              node_name(copy, joined->second));
    return names;
}

std::string Netlist::add_resistance(const Points& points, solve::Node from, solve::Node to) {
    const std::string copy = fmt::format("c{}", copies_);
    Points dead = points;
    std::fill(dead.voltage.begin(), dead.voltage.end(), 0.0);
    std::fill(dead.drawn.begin(), dead.drawn.end(), 0.0);
    (void)add(dead, std::nullopt);
    lines_ += fmt::format("i{}one {} {} 1\n", copy, node_name(copy, from), node_name(copy, to));
    return fmt::format("v({})-v({})", node_name(copy, from), node_name(copy, to));
}

void Netlist::expect(double value, Pick pick, const std::vector<std::string>& results,
                     const std::string& label) {
    std::string names;
    for (std::size_t r = 0; r < results.size(); ++r) {
        const std::string name = fmt::format("x{}_{}", expected_, r);
        prints_ += fmt::format("let {0} = {1}\nprint {0}\n", name, results[r]);
        names += (names.empty() ? "" : ",") + name;
    }
    ++expected_;
    expectations_ +=
        fmt::format("{:.17g} {} {} {}\n", value, pick == Pick::greatest ? "greatest" : "least", names, label);
}

std::string Netlist::circuit() const {
    return lines_ + ".control\nset numdgt=15\nop\n" + prints_ + "quit\n.endc\n.end\n";
}

}  // namespace packproof::reference
