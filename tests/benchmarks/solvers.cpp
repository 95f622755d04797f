// The solvers by the stopwatch: a plate over two rows, thick and thin, twelve holes, bundles of wires, two
// hundred steps out of order.
#include <benchmark/benchmark.h>

#include <algorithm>
#include <cstddef>
#include <random>
#include <set>
#include <utility>
#include <vector>

#include "engine/solve/bundle.hpp"
#include "engine/solve/hole_pattern.hpp"
#include "engine/solve/plate.hpp"
#include "engine/solve/sequence.hpp"

namespace {

using namespace packproof;

/// Steel of a thickness in mm over two rows of cells, nine bolts.
solve::Plate plate_over_two_rows(double millimetres) {
    solve::Plate plate;
    plate.width = 0.428;
    plate.height = 0.207;
    plate.thickness = millimetres * 1e-3;
    plate.elastic_modulus = 205e9;
    plate.poisson = 0.3;
    plate.bolt_force = 600.0;
    plate.bolt_radius = 0.006;
    for (const double x : {0.030, 0.224})
        plate.beds.push_back({x, 0.0, 0.174, 0.207, 1.4e8});
    for (const double x : {0.015, 0.214, 0.413})
        for (const double y : {0.020, 0.1035, 0.187})
            plate.bolts.push_back({x, y});
    return plate;
}

void pressure_under_a_plate(benchmark::State& state) {
    const solve::Plate plate = plate_over_two_rows(static_cast<double>(state.range(0)));
    for (auto _ : state)
        benchmark::DoNotOptimize(solve::press(plate));
}
BENCHMARK(pressure_under_a_plate)->Arg(2)->Arg(3)->Arg(6)->Arg(12)->Unit(benchmark::kMicrosecond);

void another_row_of_bolts(benchmark::State& state) {
    solve::Plate plate = plate_over_two_rows(4.0);
    plate.bolts.erase(plate.bolts.begin() + 3, plate.bolts.begin() + 6);
    for (auto _ : state)
        benchmark::DoNotOptimize(solve::best_row(plate));
}
BENCHMARK(another_row_of_bolts)->Unit(benchmark::kMicrosecond);

void holes_that_line_up(benchmark::State& state) {
    std::vector<solve::HolePair> holes;
    for (int i = 0; i < 12; ++i) {
        const double x = 0.1 * (i % 4);
        const double y = 0.1 * (i / 4);
        solve::HolePair hole;
        hole.x = units::Interval::point(x);
        hole.y = units::Interval::point(y);
        hole.other_x = {x - 1e-4, x + 2e-4};
        hole.other_y = {y - 1e-4, y + 1e-4};
        hole.play = units::Interval::point(3e-4);
        holes.push_back(hole);
    }
    for (auto _ : state)
        benchmark::DoNotOptimize(solve::fit(holes));
}
BENCHMARK(holes_that_line_up)->Unit(benchmark::kMicrosecond);

void bundle_of_wires(benchmark::State& state) {
    std::vector<double> wires(static_cast<std::size_t>(state.range(0)), 2e-3);
    for (std::size_t i = 0; i < wires.size(); i += 4)
        wires[i] = 3e-3;
    for (auto _ : state)
        benchmark::DoNotOptimize(solve::bundle_diameter(wires));
}
BENCHMARK(bundle_of_wires)->Arg(8)->Arg(17)->Arg(25)->Unit(benchmark::kMicrosecond);

/// Two hundred steps with about six hundred demands, twenty barriers that each change so many times, and ten
/// pairs five places apart that have been exchanged.
solve::Sequence steps_out_of_order(std::size_t changes_a_barrier) {
    constexpr std::size_t steps = 200;
    std::mt19937 engine(1);
    solve::Sequence sequence;
    sequence.steps.resize(steps);
    sequence.barriers = 20;
    for (std::size_t barrier = 0; barrier < sequence.barriers; ++barrier) {
        std::set<std::size_t> changes;
        while (changes.size() < changes_a_barrier)
            changes.insert(engine() % steps);
        bool on = false;
        for (std::size_t n = 0; n < steps; ++n) {
            solve::Step& step = sequence.steps[n];
            if (changes.count(n) != 0) {
                (on ? step.removes : step.fits).push_back(barrier);
                on = !on;
            } else if (!on && engine() % 10 == 0) {
                step.reaches_behind.push_back(barrier);
            }
        }
    }
    std::vector<std::size_t> place(steps);
    for (std::size_t n = 0; n < steps; ++n)
        place[n] = n;
    for (int n = 0; n < 10; ++n) {
        const std::size_t step = engine() % (steps - 5);
        std::swap(place[step], place[step + 5]);
    }
    solve::Sequence moved = sequence;
    for (std::size_t n = 0; n < steps; ++n)
        moved.steps[place[n]] = sequence.steps[n];
    for (int n = 0; n < 400; ++n) {
        const std::size_t one = engine() % steps;
        const std::size_t other = engine() % steps;
        if (one != other)
            moved.steps[place[std::max(one, other)]].after.push_back(place[std::min(one, other)]);
    }
    return moved;
}

void order_of_steps(benchmark::State& state) {
    const solve::Sequence sequence = steps_out_of_order(static_cast<std::size_t>(state.range(0)));
    for (auto _ : state)
        benchmark::DoNotOptimize(solve::order_steps(sequence));
}
BENCHMARK(order_of_steps)->Arg(1)->Arg(2)->Arg(3)->Unit(benchmark::kMicrosecond);

}  // namespace
