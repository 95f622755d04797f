// Currents against hand solutions (Ohm's and Kirchhoff's laws) and against the closed forms of handbook
// networks.
#include "engine/solve/currents.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <random>

using namespace packproof::solve;
using packproof::units::Interval;
using Role = Branch::Role;

namespace {

Interval at(double x) {
    return Interval::point(x);
}
constexpr Interval nothing{0.0, 0.0};

struct Circuit {
    Network network;
    Electrical values;
    BranchIndex add(Node from, Node to, Interval resistance) {
        return add({from, to, Role::conductor}, resistance, nothing, nothing);
    }
    BranchIndex source(Node from, Node to, Interval voltage, Interval resistance) {
        return add({from, to, Role::source}, resistance, voltage, nothing);
    }
    BranchIndex sink(Node from, Node to, Interval drawn) {
        return add({from, to, Role::sink}, nothing, nothing, drawn);
    }
    BranchIndex add(Branch branch, Interval resistance, Interval voltage, Interval drawn) {
        network.nodes = std::max({network.nodes, branch.from + 1, branch.to + 1});
        network.branches.push_back(branch);
        values.resistance.push_back(resistance);
        values.voltage.push_back(voltage);
        values.drawn.push_back(drawn);
        return network.branches.size() - 1;
    }
    [[nodiscard]] Interval current(BranchIndex branch) const {
        const auto found = current_through(network, values, branch, std::nullopt);
        REQUIRE(found);
        return found->range;
    }
    [[nodiscard]] Interval fault(BranchIndex branch, Node a, Node b) const {
        const auto found = current_through(network, values, branch, std::pair{a, b});
        REQUIRE(found);
        return found->range;
    }
};

void near(Interval range, double low, double high) {
    CHECK(range.low == doctest::Approx(low).epsilon(1e-9));
    CHECK(range.high == doctest::Approx(high).epsilon(1e-9));
}

}  // namespace

TEST_CASE(
    "a string of sixteen cells shorted: 58.4 V over 5 mΩ is 11.68 kA, and 9.561 kA behind 2 m of cable") {
    // 16 · 0.25 mΩ + 1 mΩ of links; then 1 m out and 1 m back at 0.554 mΩ/m
    Circuit circuit;
    const BranchIndex cells = circuit.source(0, 1, at(58.4), at(4e-3));
    circuit.add(1, 2, at(1e-3));
    circuit.add(2, 3, at(0.554e-3));
    circuit.add(0, 4, at(0.554e-3));
    near(circuit.fault(cells, 2, 0), 11680, 11680);
    near(circuit.fault(cells, 3, 4), 58.4 / 6.108e-3, 58.4 / 6.108e-3);
    const auto way = current_through(circuit.network, circuit.values, cells, std::pair<Node, Node>{2, 0});
    CHECK(way->way == std::vector<BranchIndex>{0, 1});
}

TEST_CASE("tolerances go to both ends of a single way") {
    Circuit circuit;
    const BranchIndex cells = circuit.source(0, 1, {40.0, 58.4}, {4e-3, 5e-3});
    near(circuit.fault(cells, 1, 0), 8000, 14600);
}

TEST_CASE("a resistance that may be nothing leaves the fault current unbounded") {
    Circuit circuit;
    const BranchIndex cells = circuit.source(0, 1, at(58.4), {0.0, 4e-3});
    const Interval range = circuit.fault(cells, 1, 0);
    CHECK(range.low == doctest::Approx(14600));
    CHECK(std::isinf(range.high));
}

TEST_CASE("two cables side by side share as their conductances: 100 A over 1 mΩ and 3 mΩ is 75 A and 25 A") {
    Circuit circuit;
    circuit.source(0, 1, at(51.2), at(5e-3));
    const BranchIndex thick = circuit.add(1, 2, at(1e-3));
    const BranchIndex thin = circuit.add(1, 2, at(3e-3));
    circuit.sink(2, 0, at(100));
    near(circuit.current(thick), 75, 75);
    near(circuit.current(thin), 25, 25);
}

TEST_CASE("the share's ends lie where one cable is best and the other worst") {
    // 1 mΩ ± 10 % beside 1 mΩ ± 10 %: 0.9 / (0.9 + 1.1) = 45 % to 55 %
    Circuit circuit;
    circuit.source(0, 1, at(51.2), at(5e-3));
    const BranchIndex first = circuit.add(1, 2, {0.9e-3, 1.1e-3});
    circuit.add(1, 2, {0.9e-3, 1.1e-3});
    circuit.sink(2, 0, at(100));
    near(circuit.current(first), 45, 55);
}

TEST_CASE("two packs joined at different voltages: 0.5 V over 2 · 5 mΩ + 1 mΩ is 45.45 A") {
    Circuit circuit;
    const BranchIndex first = circuit.source(0, 1, at(53.5), at(5e-3));
    const BranchIndex second = circuit.source(0, 2, at(53.0), at(5e-3));
    circuit.add(1, 2, at(1e-3));
    near(circuit.current(first), 0.5 / 11e-3, 0.5 / 11e-3);
    near(circuit.current(second), -0.5 / 11e-3, -0.5 / 11e-3);
}

TEST_CASE("at a fault on the bar each pack gives its own; at one pack's terminals the others give theirs") {
    // 58.4 V / 5 mΩ = 11.68 kA each
    Circuit circuit;
    circuit.source(0, 1, at(58.4), at(5e-3));
    circuit.source(0, 2, at(58.4), at(5e-3));
    circuit.source(0, 3, at(58.4), at(5e-3));
    const BranchIndex first = circuit.add(1, 4, nothing);
    circuit.add(2, 4, nothing);
    circuit.add(3, 4, nothing);
    // a bar of no resistance at all counts as 0.1 nΩ
    CHECK(circuit.fault(first, 4, 0).high == doctest::Approx(11680).epsilon(1e-6));
    CHECK(circuit.fault(first, 1, 0).low == doctest::Approx(-23360).epsilon(1e-6));
}

TEST_CASE("the bridge of five equal resistances carries nothing across, and has the resistance of one") {
    Circuit circuit;
    circuit.add(0, 1, at(1));
    circuit.add(0, 2, at(1));
    const BranchIndex across = circuit.add(1, 2, at(1));
    circuit.add(1, 3, at(1));
    circuit.add(2, 3, at(1));
    near(resistance_between(circuit.network, circuit.values, 0, 3), 1, 1);
    circuit.source(0, 3, at(10), at(1));
    CHECK(std::abs(circuit.current(across).high) < 1e-12);
}

TEST_CASE(
    "a cube of twelve equal resistances has 5/6 of one from corner to corner, 3/4 over a face, 7/12 over an "
    "edge") {
    // Closed forms of every textbook of networks.
    Circuit circuit;
    for (Node corner = 0; corner < 8; ++corner)
        for (const Node axis : {1U, 2U, 4U})
            if ((corner & axis) == 0) circuit.add(corner, corner | axis, at(1));
    near(resistance_between(circuit.network, circuit.values, 0, 7), 5.0 / 6.0, 5.0 / 6.0);
    near(resistance_between(circuit.network, circuit.values, 0, 3), 0.75, 0.75);
    near(resistance_between(circuit.network, circuit.values, 0, 1), 7.0 / 12.0, 7.0 / 12.0);
}

TEST_CASE("a load that is joined at one end only draws nothing") {
    Circuit circuit;
    const BranchIndex cells = circuit.source(0, 1, at(51.2), at(5e-3));
    const BranchIndex cable = circuit.add(1, 2, at(1e-3));
    circuit.sink(2, 3, at(100));
    near(circuit.current(cable), 0, 0);
    near(circuit.current(cells), 0, 0);
}

TEST_CASE("more than twelve varying resistances are too many to bound") {
    Circuit circuit;
    circuit.source(0, 1, at(51.2), at(5e-3));
    for (int n = 0; n < 13; ++n)
        circuit.add(1, 2, {0.9e-3, 1.1e-3});
    circuit.sink(2, 0, at(100));
    CHECK_FALSE(current_through(circuit.network, circuit.values, 1, std::nullopt));
}

TEST_CASE("no sample within the tolerances leaves the range, and its ends are reached") {
    std::mt19937 random(20260917);  // NOLINT: the same networks each time
    std::uniform_real_distribution<double> size(0.5, 2.0);
    for (int round = 0; round < 200; ++round) {
        Circuit circuit;
        const auto vary = [&](double scale) {
            const double a = scale * size(random);
            const double b = scale * size(random);
            return Interval{std::min(a, b), std::max(a, b)};
        };
        circuit.source(0, 1, vary(50), vary(4e-3));
        circuit.source(0, 2, vary(50), vary(4e-3));
        circuit.add(1, 3, vary(1e-3));
        circuit.add(2, 3, vary(1e-3));
        circuit.add(1, 2, vary(1e-3));
        circuit.add(3, 4, vary(1e-3));
        circuit.sink(4, 0, vary(100));
        const BranchIndex asked = random() % 6;
        const Interval range = circuit.current(asked);
        for (int sample = 0; sample < 40; ++sample) {
            Circuit drawn = circuit;
            for (auto* list : {&drawn.values.resistance, &drawn.values.voltage, &drawn.values.drawn})
                for (Interval& value : *list)
                    value = at(std::uniform_real_distribution<double>(value.low, value.high)(random));
            const Interval point = drawn.current(asked);
            CHECK(point.low >= range.low - 1e-9 * std::abs(range.low) - 1e-9);
            CHECK(point.high <= range.high + 1e-9 * std::abs(range.high) + 1e-9);
        }
    }
}
