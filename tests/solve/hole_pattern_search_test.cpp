// Hole patterns against searches: over a grid of poses, over all corners of tolerances, over errors at
// random, and over changes a little smaller than those offered.
#include "engine/solve/hole_pattern.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>
#include <vector>

using namespace packproof::solve;
using packproof::units::Interval;

namespace {

constexpr double mm = 1e-3;
constexpr double pi = std::numbers::pi;

Interval at(double x) {
    return Interval::point(x * mm);
}
Interval about(double x, double tolerance) {
    return {(x - tolerance) * mm, (x + tolerance) * mm};
}

PatternFit fitted(const std::vector<HolePair>& holes) {
    const auto found = fit(holes);
    REQUIRE(found);
    return *found;
}

class Numbers {
  public:
    explicit Numbers(unsigned seed) : engine_(seed) {}
    double between(double low, double high) {
        return low + (high - low) * (static_cast<double>(engine_()) / 4294967296.0);
    }

  private:
    std::mt19937 engine_;
};

std::vector<HolePair> random_pattern(Numbers& numbers, std::size_t count, double tolerance) {
    std::vector<HolePair> holes;
    for (std::size_t n = 0; n < count; ++n) {
        HolePair hole;
        hole.x = at(numbers.between(0, 200));
        hole.y = at(numbers.between(0, 100));
        hole.play = at(numbers.between(0.1, 0.5));
        hole.other_x = at(hole.x.low / mm + numbers.between(-1, 1));
        hole.other_y = at(hole.y.low / mm + numbers.between(-1, 1));
        hole.x = about(hole.x.low / mm, numbers.between(0, tolerance));
        hole.y = about(hole.y.low / mm, numbers.between(0, tolerance));
        if (n == 0) hole.slot_x = numbers.between(0, 1) * mm;
        holes.push_back(hole);
    }
    return holes;
}

double miss_in(const std::vector<HolePair>& holes, double shift_x, double shift_y, double turn) {
    double miss = -1.0;
    for (const HolePair& hole : holes) {
        const double x = std::cos(turn) * hole.other_x.low - std::sin(turn) * hole.other_y.low + shift_x;
        const double y = std::sin(turn) * hole.other_x.low + std::cos(turn) * hole.other_y.low + shift_y;
        const double off_x = std::max(0.0, std::fabs(x - hole.x.low) - hole.slot_x);
        const double off_y = std::max(0.0, std::fabs(y - hole.y.low) - hole.slot_y);
        miss = std::max(miss, std::hypot(off_x, off_y) - hole.play.low);
    }
    return miss;
}

/// The best of all poses of a grid around one, `steps` to each side.
double least_on_grid(const std::vector<HolePair>& holes, const PatternFit& around, double step,
                     double step_turn, int steps) {
    double least = 1.0;
    for (int t = -steps; t <= steps; ++t) {
        for (int i = -steps; i <= steps; ++i) {
            for (int k = -steps; k <= steps; ++k) {
                least = std::min(least, miss_in(holes, around.shift_x + i * step, around.shift_y + k * step,
                                                around.turn + t * step_turn));
            }
        }
    }
    return least;
}

}  // namespace

TEST_CASE("no pose of a grid is better than the one found, coarse and wide or fine and close") {
    Numbers numbers(3);
    for (int round = 0; round < 12; ++round) {
        const auto holes = random_pattern(numbers, 2 + static_cast<std::size_t>(round) % 6, 0.0);
        const PatternFit found = fitted(holes);
        const double there = miss_in(holes, found.shift_x, found.shift_y, found.turn);
        CHECK(std::fabs(there - found.nominal) <= 1e-9);
        CHECK(least_on_grid(holes, found, 0.2 * mm, 0.012, 15) >= found.nominal - 1e-9);
        CHECK(least_on_grid(holes, found, 0.02 * mm, 0.0003, 15) >= found.nominal - 1e-9);
        CHECK(least_on_grid(holes, found, 0.1e-3 * mm, 1e-6, 15) >= found.nominal - 1e-9);
    }
}

TEST_CASE("the worst of tolerances is that of all corners tried one by one") {
    // For each error the least miss is convex in it, so that the greatest lies at corners.
    Numbers numbers(5);
    for (int round = 0; round < 20; ++round) {
        const std::size_t count = 2 + static_cast<std::size_t>(round) % 3;
        const auto holes = random_pattern(numbers, count, 0.4);
        const PatternFit found = fitted(holes);
        double worst = -1.0;
        double best = 1.0;
        for (unsigned corner = 0; corner < 1U << (2 * count); ++corner) {
            std::vector<HolePair> single = holes;
            for (std::size_t n = 0; n < count; ++n) {
                const unsigned bits = corner >> (2 * n);
                single[n].x = Interval::point((bits & 1U) != 0 ? holes[n].x.high : holes[n].x.low);
                single[n].y = Interval::point((bits & 2U) != 0 ? holes[n].y.high : holes[n].y.low);
            }
            worst = std::max(worst, fitted(single).nominal);
            best = std::min(best, fitted(single).nominal);
        }
        CHECK(std::fabs(found.miss.high - worst) <= 2e-9);
        CHECK(found.miss.low <= best + 1e-9);
        CHECK(found.miss.low <= found.nominal);
        CHECK(found.nominal <= found.miss.high);
    }
}

TEST_CASE("errors tried at random never miss by more than the worst nor by less than the best") {
    Numbers numbers(8);
    for (int round = 0; round < 10; ++round) {
        auto holes = random_pattern(numbers, 3 + static_cast<std::size_t>(round) % 6, 0.3);
        for (HolePair& hole : holes)
            hole.zone = numbers.between(0, 0.2) * mm;
        const PatternFit found = fitted(holes);
        for (int attempt = 0; attempt < 50; ++attempt) {
            std::vector<HolePair> single = holes;
            for (HolePair& hole : single) {
                const double angle = numbers.between(0, 2 * pi);
                const double x = numbers.between(hole.x.low, hole.x.high) + hole.zone * std::cos(angle);
                const double y = numbers.between(hole.y.low, hole.y.high) + hole.zone * std::sin(angle);
                hole.x = Interval::point(x);
                hole.y = Interval::point(y);
                hole.zone = 0.0;
            }
            const double miss = fitted(single).nominal;
            CHECK(miss <= found.miss.high + 1e-9);
            CHECK(miss >= found.miss.low - 1e-9);
        }
    }
}

TEST_CASE("what mends a hole clears it, and a little less does not") {
    Numbers numbers(11);
    int mended = 0;
    for (int round = 0; round < 20; ++round) {
        std::vector<HolePair> holes;
        for (const double x : {0.0, 150.0}) {
            for (const double y : {0.0, 50.0})
                holes.push_back({about(x, 0.1), at(y), at(x), at(y), at(0.5), 0.0, 0.0, 0.0});
        }
        const auto n = static_cast<std::size_t>(round % 4);
        for (Interval* other : {&holes[n].other_x, &holes[n].other_y})
            *other = Interval::point(other->low + numbers.between(-1.5, 1.5) * mm);
        const auto mend = mend_worst(holes);
        if (!mend || mend->diameter == 0.0) continue;
        ++mended;
        auto high = [&](double HolePair::*slot, double length, double play) {
            std::vector<HolePair> changed = holes;
            HolePair& worst = changed[fitted(holes).worst];
            worst.*slot += 0.5 * length;
            worst.play = {worst.play.low + 0.5 * play, worst.play.high + 0.5 * play};
            return fitted(changed).miss.high;
        };
        // the turn at the middles changes a little with the hole, and the boxes' hulls with it
        CHECK(high(&HolePair::slot_x, 0.0, mend->diameter + 1e-6) <= 0.0);
        CHECK(high(&HolePair::slot_x, 0.0, 0.99 * mend->diameter) > 0.0);
        if (!std::isinf(mend->slot_x)) {
            CHECK(high(&HolePair::slot_x, mend->slot_x + 1e-6, 0.0) <= 0.0);
            CHECK(high(&HolePair::slot_x, 0.99 * mend->slot_x, 0.0) > 0.0);
        }
        if (!std::isinf(mend->slot_y)) {
            CHECK(high(&HolePair::slot_y, mend->slot_y + 1e-6, 0.0) <= 0.0);
            CHECK(high(&HolePair::slot_y, 0.99 * mend->slot_y, 0.0) > 0.0);
        }
    }
    CHECK(mended >= 5);
}
