// The shape of networks, against what the definitions say on small ones, and against every way tried.
#include "engine/solve/network.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <functional>
#include <random>

#include "engine/solve/blocks.hpp"

using namespace packproof::solve;
using Role = Branch::Role;

namespace {

/// Cells 1 to `count` in line, links between them: cell k lies between nodes 2k-2 (minus) and 2k-1 (plus).
Network line_of_cells(Node count) {
    Network network{2 * count, {}};
    for (Node k = 0; k < count; ++k)
        network.branches.push_back({2 * k, 2 * k + 1, Role::source});
    for (Node k = 0; k + 1 < count; ++k)
        network.branches.push_back({2 * k + 1, 2 * k + 2});
    return network;
}

void add_load(Network& network, Node plus, Node minus) {
    network.branches.push_back({plus, minus, Role::sink});
}

/// Whether some closed way that meets no node twice holds both branches: every way tried.
bool on_one_closed_way(const Network& network, std::size_t a, std::size_t b) {
    std::vector<bool> met(network.nodes, false);
    std::vector<bool> used(network.branches.size(), false);
    const Node home = network.branches[a].from;
    const std::function<bool(Node)> go = [&](Node node) {
        if (node == home) return static_cast<bool>(used[b]);
        if (met[node]) return false;
        met[node] = true;
        for (std::size_t n = 0; n < network.branches.size(); ++n) {
            const Branch& branch = network.branches[n];
            if (used[n] || (branch.from != node && branch.to != node)) continue;
            used[n] = true;
            if (go(branch.from == node ? branch.to : branch.from)) return true;
            used[n] = false;
        }
        met[node] = false;
        return false;
    };
    used[a] = true;
    return go(network.branches[a].to);
}

}  // namespace

TEST_CASE("a chain of sixteen cells is one line, each cell at its place") {
    Network network = line_of_cells(16);
    add_load(network, 31, 0);
    const Shape shape = shape_of(network);
    REQUIRE(shape.chains.size() == 1);
    CHECK(shape.chains[0].length == 16);
    CHECK(shape.chains[0].negative == std::vector<Node>{0});
    CHECK(shape.chains[0].positive == std::vector<Node>{31});
    for (std::uint32_t k = 0; k < 16; ++k) {
        CHECK(shape.place[k] == k + 1);
        CHECK(shape.side_by_side[k] == 1);
        CHECK_FALSE(shape.reversed[k]);
        CHECK_FALSE(shape.shorted[k]);
    }
    CHECK(std::count(shape.in_circuit.begin(), shape.in_circuit.end(), false) == 0);
}

TEST_CASE("each reversed cell of a chain is found, and only that one") {
    for (std::size_t turned = 0; turned < 8; ++turned) {
        Network network = line_of_cells(8);
        std::swap(network.branches[turned].from, network.branches[turned].to);
        add_load(network, 15, 0);
        const Shape shape = shape_of(network);
        CHECK(shape.chains[0].length == 8);
        for (std::size_t k = 0; k < 8; ++k)
            CHECK(shape.reversed[k] == (k == turned));
    }
}

TEST_CASE("two cells plus to plus stand against each other") {
    Network network{4, {{0, 1, Role::source}, {3, 2, Role::source}, {1, 2}}};
    const Shape shape = shape_of(network);
    CHECK(shape.reversed[0]);
    CHECK(shape.reversed[1]);
}

TEST_CASE("a link across one cell shorts it and no other") {
    Network network = line_of_cells(4);
    network.branches.push_back({2, 3});  // cell 2
    const Shape shape = shape_of(network);
    for (std::size_t k = 0; k < 4; ++k)
        CHECK(shape.shorted[k] == (k == 1));
    CHECK(shape.chains[0].length == 3);  // the three that are left stand in line
}

TEST_CASE("a missing link leaves two chains and two posts alone") {
    Network network = line_of_cells(4);
    network.branches.erase(network.branches.begin() + 5);  // between cells 2 and 3
    add_load(network, 7, 0);
    const Shape shape = shape_of(network);
    CHECK(shape.chains.size() == 2);
    CHECK_FALSE(shape.closed);
    CHECK(shape.to_joined[0]);
    CHECK_FALSE(shape.to_joined[1]);
    CHECK_FALSE(shape.from_joined[2]);
    CHECK(shape.from_joined[3]);
}

TEST_CASE("a ring of cells is no line") {
    Network network = line_of_cells(4);
    network.branches.push_back({7, 0});
    const Shape shape = shape_of(network);
    CHECK(shape.chains[0].length == 0);
    for (std::size_t k = 0; k < 4; ++k) {
        CHECK(shape.place[k] == 0);
        CHECK(shape.in_circuit[k]);
    }
}

TEST_CASE("two cells side by side share a place") {
    Network network{4, {{0, 1, Role::source}, {0, 1, Role::source}, {1, 2}, {2, 3, Role::source}}};
    const Shape shape = shape_of(network);
    CHECK(shape.chains[0].length == 2);
    CHECK(shape.side_by_side == std::vector<std::uint32_t>{2, 2, 0, 1});
    CHECK(shape.place[3] == 2);
}

TEST_CASE("a device in the plus lead opens all of one string, but not what two strings feed") {
    // 0 minus bar, 1 and 2 plus of the strings, 3 plus bar, 4 load
    Network network{5,
                    {{0, 1, Role::source},
                     {0, 2, Role::source},
                     {1, 3, Role::conductor, true},
                     {2, 3, Role::conductor, true},
                     {3, 4, Role::conductor, true},
                     {4, 0, Role::sink}}};
    CHECK(openers_of(network)[0] == std::vector<BranchIndex>{2});
    CHECK(openers_of(network)[1] == std::vector<BranchIndex>{3});
    CHECK(openers_of(network)[5] == std::vector<BranchIndex>{4});
    network.branches.push_back({4, 4});
    CHECK(openers_of(network)[6].empty());
}

TEST_CASE("blocks are what shares a closed way, on a thousand networks") {
    std::mt19937 random(20260917);  // NOLINT: the same networks each time
    for (int round = 0; round < 1000; ++round) {
        Network network;
        network.nodes = 2 + static_cast<Node>(random() % 5);
        const std::size_t count = 1 + random() % 8;
        for (std::size_t b = 0; b < count; ++b) {
            const Node from = static_cast<Node>(random() % network.nodes);
            const Node to = static_cast<Node>((from + 1 + random() % (network.nodes - 1)) % network.nodes);
            network.branches.push_back({from, to});
        }
        const std::vector<std::size_t> blocks = blocks_of(network);
        for (std::size_t a = 0; a < count; ++a)
            for (std::size_t b = a + 1; b < count; ++b)
                CHECK((blocks[a] == blocks[b]) == on_one_closed_way(network, a, b));
    }
}
