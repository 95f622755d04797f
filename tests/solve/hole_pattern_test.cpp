// Hole patterns against the formulas of ASME Y14.5, appendix B, and against hand solutions.
#include "engine/solve/hole_pattern.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <numbers>
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

/// Holes that agree, all in mm.
HolePair pair_at(double x, double y, double play, double zone = 0.0) {
    return {at(x), at(y), at(x), at(y), at(play), zone * mm, 0.0, 0.0};
}
std::vector<HolePair> two(double play, double zone = 0.0) {
    return {pair_at(0, 0, play, zone), pair_at(150, 0, play, zone)};
}
std::vector<HolePair> four(double play, double zone = 0.0) {
    return {pair_at(0, 0, play, zone), pair_at(150, 0, play, zone), pair_at(150, 50, play, zone),
            pair_at(0, 50, play, zone)};
}
std::vector<HolePair> six_around(double play) {
    std::vector<HolePair> holes;
    for (int n = 0; n < 6; ++n)
        holes.push_back(pair_at(80 * std::cos(n * pi / 3), 80 * std::sin(n * pi / 3), play));
    return holes;
}

PatternFit fitted(const std::vector<HolePair>& holes) {
    const auto found = fit(holes);
    REQUIRE(found);
    return *found;
}
void near(double value, double expected_mm, double tolerance_mm = 1e-6) {
    CHECK(std::fabs(value / mm - expected_mm) <= tolerance_mm);
}

}  // namespace

TEST_CASE("floating fasteners: holes of 6.6 for M6 allow zones of H - F = 0.6 in each part, and no more") {
    // ASME Y14.5 appendix B: T = H - F. Play H - F; two zones of diameter T have the radius T together.
    CHECK(fitted(two(0.6, 0.6)).miss.high == 0.0);
    CHECK(fitted(four(0.6, 0.6)).miss.high == 0.0);
    near(fitted(two(0.6, 0.606)).miss.high, 0.006);
    near(fitted(four(0.6, 0.606)).miss.high, 0.006);
    near(fitted(two(0.6, 0.594)).miss.high, -0.006);
    near(fitted(four(0.6, 0.594)).miss.high, -0.006);
}

TEST_CASE("fixed fasteners: holes of 6.6 for M6 allow zones of (H - F)/2 = 0.3 in each part, and no more") {
    // ASME Y14.5 appendix B: 2T = H - F
    CHECK(fitted(two(0.3, 0.3)).miss.high == 0.0);
    CHECK(fitted(four(0.3, 0.3)).miss.high == 0.0);
    CHECK(fitted(four(0.3, 0.303)).miss.high > 0.0);
    CHECK(fitted(four(0.3, 0.297)).miss.high < 0.0);
    near(fitted(four(0.3, 0.3)).miss.low, -0.3);
}

TEST_CASE("a zone of 0.3 holds plus or minus 0.106 along both axes") {
    // 2·sqrt(2)·e = T: e = 0.10607; both parts at opposite corners are 0.3 apart
    std::vector<HolePair> holes = four(0.3);
    const double e = 0.3 / (2.0 * std::sqrt(2.0));
    for (HolePair& hole : holes) {
        for (Interval* range : {&hole.x, &hole.y, &hole.other_x, &hole.other_y})
            *range = {range->low - e * mm, range->high + e * mm};
    }
    CHECK(fitted(holes).miss.high == 0.0);
}

TEST_CASE("a pitch of 150 plus or minus 0.5 in both parts: 1.0 in all, half of it at each hole") {
    // Allowed |ΔP| = (H1 - F) + (H2 - F) floating, H - F fixed: 1.2 for 6.6 floating, 0.6 for 6.6 and 1.0 for
    // 7.0 with threads in one part.
    auto with_play = [](double play) {
        std::vector<HolePair> holes = two(play);
        holes[1].x = holes[1].other_x = about(150, 0.5);
        return fitted(holes).miss;
    };
    near(with_play(0.6).high, 0.5 - 0.6);
    near(with_play(0.3).high, 0.5 - 0.3);
    CHECK(with_play(0.5).high == 0.0);
    near(with_play(0.3).low, -0.3);
}

TEST_CASE("two holes share a pitch error") {
    std::vector<HolePair> holes = two(0.3);
    holes[1].other_x = at(151);
    const PatternFit found = fitted(holes);
    near(found.nominal, 0.5 - 0.3);
    near(found.shift_x, -0.5);
    CHECK(found.worst == 0);
    near(found.offset_x, -0.5);
    near(wider_holes(found), 0.4);
}

TEST_CASE("three holes in line with the middle one off by 0.8: each misses by 0.4") {
    // ends and middle on opposite sides of the best line: 0.4, -0.4, 0.4 (Chebyshev's alternation)
    std::vector<HolePair> holes = {pair_at(0, 0, 0.3), pair_at(40, 0, 0.3), pair_at(80, 0, 0.3)};
    holes[1].other_y = at(0.8);
    const PatternFit found = fitted(holes);
    near(found.nominal, 0.1);
    CHECK(found.worst == 1);
    near(found.offset_y, 0.4);
    near(found.shift_y, -0.4, 1e-3);
}

TEST_CASE("one of six holes on a circle set 1 mm outward: half of it stays, and that hole is the worst") {
    // It and the one opposite are 1 mm too far apart, so none does better than 0.5; a shift by 0.5 reaches
    // it.
    for (std::size_t n = 0; n < 6; ++n) {
        std::vector<HolePair> holes = six_around(0.3);
        const double angle = static_cast<double>(n) * pi / 3;
        holes[n].other_x = at(81 * std::cos(angle));
        holes[n].other_y = at(81 * std::sin(angle));
        const PatternFit found = fitted(holes);
        near(found.nominal, 0.2);
        CHECK(found.worst == n);
        near(found.offset_x, 0.5 * std::cos(angle), 1e-3);
        near(found.offset_y, 0.5 * std::sin(angle), 1e-3);
    }
}

TEST_CASE("a pattern that is shifted and turned lines up, and both are found") {
    for (const double turn : {-0.18, -0.02, 0.0, 0.001, 0.15}) {
        std::vector<HolePair> holes = six_around(0.3);
        const double shift_x = 0.4;
        const double shift_y = -0.07;
        for (HolePair& hole : holes) {
            const double x = hole.x.low - shift_x;
            const double y = hole.y.low - shift_y;
            hole.other_x = Interval::point(std::cos(turn) * x + std::sin(turn) * y);
            hole.other_y = Interval::point(-std::sin(turn) * x + std::cos(turn) * y);
        }
        const PatternFit found = fitted(holes);
        near(found.nominal, -0.3);
        near(found.miss.high, -0.3);
        CHECK(found.turn == doctest::Approx(turn).epsilon(1e-7));
        CHECK(found.shift_x == doctest::Approx(shift_x).epsilon(1e-7));
        CHECK(found.shift_y == doctest::Approx(shift_y).epsilon(1e-7));
    }
}

TEST_CASE("a pattern that needs a quarter turn does not line up") {
    std::vector<HolePair> holes = four(0.3);
    for (HolePair& hole : holes)
        std::swap(hole.other_x, hole.other_y);
    CHECK(fitted(holes).nominal > 10 * mm);
}

TEST_CASE("one hole never misses by its position, only by its play") {
    const HolePair hole{about(10, 3), about(5, 3), about(0, 2), at(0), {0.2 * mm, 0.4 * mm}, 1 * mm, 0, 0};
    const PatternFit found = fitted({hole});
    near(found.miss.low, -0.4);
    near(found.nominal, -0.3);
    near(found.miss.high, -0.2);
    near(found.shift_x, 10);
    near(fitted({pair_at(1, 2, -0.1)}).miss.high, 0.1);
}

TEST_CASE("a close hole that locates and wide ones around it go together whatever the zones") {
    // the shift follows the close one; the others then miss by up to two zones, 0.5, and have 1.0
    std::vector<HolePair> holes = four(1.0, 0.25);
    holes[0].play = at(0.05);
    near(fitted(holes).miss.high, -0.05);
}

TEST_CASE("play that varies: the least of it counts at worst, the most at best") {
    std::vector<HolePair> holes = two(0.0);
    holes[1].other_x = at(151);
    for (HolePair& hole : holes)
        hole.play = {0.2 * mm, 0.6 * mm};
    const PatternFit found = fitted(holes);
    near(found.miss.low, -0.1);
    near(found.nominal, 0.1);
    near(found.miss.high, 0.3);
}

TEST_CASE("at best, tolerances and zones take up a pitch error") {
    // 1.0 off, 0.5 at each hole; boxes of ±0.1 in both parts leave 0.3, zones of 0.2 leave 0.1
    std::vector<HolePair> holes = two(0.05, 0.2);
    holes[1].other_x = at(151);
    for (HolePair& hole : holes) {
        hole.x = {hole.x.low - 0.1 * mm, hole.x.high + 0.1 * mm};
        hole.other_x = {hole.other_x.low - 0.1 * mm, hole.other_x.high + 0.1 * mm};
    }
    const PatternFit found = fitted(holes);
    near(found.miss.low, 0.1 - 0.05);
    near(found.nominal, 0.5 - 0.05);
    near(found.miss.high, 0.9 - 0.05);
}

TEST_CASE("a slot along x frees a pitch error along x and none along y") {
    std::vector<HolePair> holes = four(0.3);
    for (const std::size_t n : {1U, 2U})
        holes[n].other_x = at(152);
    near(fitted(holes).nominal, 1.0 - 0.3);
    for (const std::size_t n : {1U, 2U})
        holes[n].slot_x = 2 * mm;
    near(fitted(holes).nominal, -0.3);
    for (const std::size_t n : {2U, 3U})
        holes[n].other_y = at(52);
    near(fitted(holes).nominal, 1.0 - 0.3);
    holes[2].slot_y = holes[3].slot_y = 1 * mm;  // takes half of it
    near(fitted(holes).nominal, 0.5 - 0.3);
}

TEST_CASE("nothing for no holes, for numbers that are none, and for tolerances below nothing") {
    CHECK_FALSE(fit({}));
    CHECK_FALSE(mend_worst({}));
    for (const double bad : {std::numeric_limits<double>::infinity(), std::nan("")}) {
        std::vector<HolePair> holes = two(0.3);
        holes[1].x.high = bad;
        CHECK_FALSE(fit(holes));
        CHECK_FALSE(mend_worst(holes));
        holes = two(0.3);
        holes[0].zone = bad;
        CHECK_FALSE(fit(holes));
    }
    std::vector<HolePair> holes = two(0.3);
    holes[0].slot_x = -1 * mm;
    CHECK_FALSE(fit(holes));
}

TEST_CASE("holes at one place, and holes without any play, are no trouble") {
    near(fitted({pair_at(5, 5, 0.3), pair_at(5, 5, 0.2)}).miss.high, -0.2);
    CHECK(fitted(four(0.0)).miss.high == 0.0);
    near(fitted(four(-0.1)).miss.high, 0.1);
}

TEST_CASE("one of four holes 1.2 beyond: the rest gives way by its play, then 0.6 of radius is missing") {
    // the part shifts by 0.3, the others' play; 1.2 - 0.3 = 0.9 is left, of which the hole's play takes 0.3
    std::vector<HolePair> holes = four(0.3);
    holes[2].x = at(151.2);
    const PatternFit found = fitted(holes);
    near(found.nominal, 0.6 - 0.3);
    CHECK(found.worst == 2);
    near(wider_holes(found), 0.6);
    const auto mend = mend_worst(holes);
    REQUIRE(mend);
    near(mend->diameter, 1.2, 1e-5);
    near(mend->slot_x, 1.2, 1e-5);
    CHECK(std::isinf(mend->slot_y));
}

TEST_CASE("no change of one hole is offered where the others do not line up without it") {
    std::vector<HolePair> holes = six_around(0.1);
    holes[0].other_x = at(82);
    holes[2].other_y = at(80 * std::sin(2 * pi / 3) + 2);
    CHECK(fitted(holes).nominal > 0.0);
    CHECK_FALSE(mend_worst(holes));
}

TEST_CASE("where all lines up nothing is to be changed") {
    const auto mend = mend_worst(four(0.3, 0.2));
    REQUIRE(mend);
    CHECK(mend->diameter == 0.0);
    CHECK(mend->slot_x == 0.0);
    CHECK(mend->slot_y == 0.0);
}
