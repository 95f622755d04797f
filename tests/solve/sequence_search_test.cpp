// The nearest order and the smallest conflict against every order tried, and two hundred steps against how
// they were made.
#include <doctest/doctest.h>

#include <algorithm>
#include <bit>
#include <cstdint>
#include <random>
#include <set>
#include <utility>
#include <vector>

#include "engine/solve/precedence.hpp"
#include "engine/solve/sequence.hpp"
#include "tests/solve/every_order.hpp"

using namespace packproof::solve;

namespace {

struct Likelihood {
    unsigned after = 0, reach = 0, fit = 0, remove = 0, start = 0;  ///< percent
};

Sequence random_sequence(std::mt19937& engine, std::size_t steps, std::size_t barriers,
                         const Likelihood& of) {
    Sequence sequence;
    sequence.steps.resize(steps);
    sequence.barriers = barriers;
    for (std::size_t barrier = 0; barrier < barriers; ++barrier)
        if (chance(engine, of.start)) sequence.on_at_start.push_back(barrier);
    for (std::size_t n = 0; n < steps; ++n) {
        Step& step = sequence.steps[n];
        for (std::size_t other = 0; other < steps; ++other)
            if (other != n && chance(engine, of.after)) step.after.push_back(other);
        for (std::size_t barrier = 0; barrier < barriers; ++barrier) {
            if (chance(engine, of.reach)) step.reaches_behind.push_back(barrier);
            if (chance(engine, of.fit)) step.fits.push_back(barrier);
            if (chance(engine, of.remove)) step.removes.push_back(barrier);
        }
    }
    return sequence;
}

/// Two hundred steps that can be done, barriers that go on and off in turn, then some steps moved at random.
Sequence disturbed(std::mt19937& engine, std::size_t changes_a_barrier, std::size_t moves) {
    const std::size_t steps = 200;
    Sequence sequence;
    sequence.steps.resize(steps);
    sequence.barriers = 20;
    for (int n = 0; n < 300; ++n) {
        const auto [low, high] = std::minmax({engine() % steps, engine() % steps});
        if (low != high) sequence.steps[high].after.push_back(low);
    }
    for (std::size_t barrier = 0; barrier < sequence.barriers; ++barrier) {
        std::set<std::size_t> changes;
        while (changes.size() < changes_a_barrier)
            changes.insert(engine() % steps);
        bool on = false;
        for (std::size_t n = 0; n < steps; ++n) {
            Step& step = sequence.steps[n];
            if (changes.count(n) != 0) {
                (on ? step.removes : step.fits).push_back(barrier);
                on = !on;
            } else if (!on && chance(engine, 15)) {
                step.reaches_behind.push_back(barrier);
            }
        }
    }
    REQUIRE(order_steps(sequence).faults.empty());
    Order order = given(steps);
    for (std::size_t n = 0; n < moves; ++n) {
        const std::size_t step = order[engine() % steps];
        order.erase(std::find(order.begin(), order.end(), step));
        order.insert(order.begin() + static_cast<std::ptrdiff_t>(engine() % steps), step);
    }
    Order place(steps);
    for (std::size_t n = 0; n < steps; ++n)
        place[order[n]] = n;
    Sequence moved = sequence;
    for (std::size_t n = 0; n < steps; ++n) {
        moved.steps[place[n]] = sequence.steps[n];
        for (std::size_t& other : moved.steps[place[n]].after)
            other = place[other];
    }
    return moved;
}

}  // namespace

TEST_CASE("every set of precedences of up to four steps") {
    for (std::size_t steps = 0; steps <= 4; ++steps) {
        std::vector<std::pair<std::size_t, std::size_t>> pairs;
        for (std::size_t i = 0; i < steps; ++i)
            for (std::size_t j = 0; j < steps; ++j)
                if (i != j) pairs.push_back({i, j});
        for (std::uint32_t set = 0; set < (1U << pairs.size()); ++set) {
            std::vector<std::pair<std::size_t, std::size_t>> chosen;
            for (std::size_t n = 0; n < pairs.size(); ++n)
                if ((set >> n & 1U) != 0) chosen.push_back(pairs[n]);
            CAPTURE(steps);
            CAPTURE(set);
            check_against_all_orders(with_afters(steps, chosen));
        }
    }
}

TEST_CASE("what three steps can do with one barrier, all of it") {
    // each step: nothing, reach, fit, remove and their mixtures; off or on at the start
    for (std::uint32_t acts = 0; acts < 512; ++acts) {
        for (const bool on : {false, true}) {
            Sequence sequence;
            sequence.steps.resize(3);
            sequence.barriers = 1;
            if (on) sequence.on_at_start = {0};
            for (std::size_t n = 0; n < 3; ++n) {
                const std::uint32_t act = acts >> (3 * n) & 7U;
                if ((act & 1U) != 0) sequence.steps[n].reaches_behind = {0};
                if ((act & 2U) != 0) sequence.steps[n].fits = {0};
                if ((act & 4U) != 0) sequence.steps[n].removes = {0};
            }
            CAPTURE(acts);
            CAPTURE(on);
            check_against_all_orders(sequence);
        }
    }
}

TEST_CASE("random precedences and barriers of up to six steps, sparse and dense") {
    std::mt19937 engine(1);
    const std::vector<Likelihood> kinds = {
        {25, 0, 0, 0, 0},     // precedences only
        {8, 30, 12, 0, 0},    // barriers that stay
        {5, 25, 25, 20, 30},  // on and off
        {0, 40, 35, 35, 50}, {12, 10, 30, 30, 50},
    };
    std::size_t possible = 0;
    std::size_t moved = 0;
    std::size_t large_conflicts = 0;
    for (int round = 0; round < 600; ++round) {
        const Likelihood& kind = kinds[static_cast<std::size_t>(round) % kinds.size()];
        const std::size_t steps = 4 + engine() % 3;
        const std::size_t barriers = kind.reach == 0 ? 0 : 1 + engine() % 3;
        const Sequence sequence = random_sequence(engine, steps, barriers, kind);
        CAPTURE(round);
        check_against_all_orders(sequence);
        const Ordering answer = order_steps(sequence);
        if (answer.possible == Possible::yes) ++possible;
        if (!answer.moved.empty()) ++moved;
        if (answer.conflict.size() >= 3) ++large_conflicts;
    }
    // so that the comparison says something on each side
    CHECK(possible >= 100);
    CHECK(moved >= 60);
    CHECK(possible <= 500);
    CHECK(large_conflicts >= 20);
}

TEST_CASE("pairs the wrong way round are a partial order, and those that stay are its largest antichain") {
    // R. P. Dilworth 1950 and D. Koenig 1931 (recalled): the largest antichain by all subsets
    std::mt19937 engine(3);
    for (int round = 0; round < 60; ++round) {
        const std::size_t steps = 8 + engine() % 6;
        Order hidden = given(steps);
        std::shuffle(hidden.begin(), hidden.end(), engine);
        Precedence precedence(steps);
        std::vector<std::vector<bool>> before(steps, std::vector<bool>(steps, false));
        for (std::size_t i = 0; i < steps; ++i)
            for (std::size_t j = i + 1; j < steps; ++j)
                if (chance(engine, 5 + static_cast<unsigned>(round) / 2)) {
                    REQUIRE(precedence.add(hidden[i], hidden[j]));
                    before[hidden[i]][hidden[j]] = true;
                }
        for (std::size_t k = 0; k < steps; ++k)  // closed by S. Warshall's three loops
            for (std::size_t i = 0; i < steps; ++i)
                for (std::size_t j = 0; j < steps; ++j)
                    if (before[i][k] && before[k][j]) before[i][j] = true;
        const auto wrong = [&](std::size_t i, std::size_t j) { return i < j && before[j][i]; };
        std::vector<std::uint32_t> turned(steps, 0);
        for (std::size_t i = 0; i < steps; ++i)
            for (std::size_t j = 0; j < steps; ++j) {
                CHECK(precedence.before(i, j) == before[i][j]);
                if (wrong(i, j)) turned[j] |= 1U << i;
                for (std::size_t k = 0; k < steps; ++k)
                    if (wrong(i, j) && wrong(j, k)) CHECK(wrong(i, k));
            }
        std::size_t largest = 0;
        for (std::uint32_t set = 0; set < (1U << steps); ++set) {
            bool antichain = true;
            for (std::size_t j = 0; j < steps; ++j)
                if ((set >> j & 1U) != 0 && (turned[j] & set) != 0) antichain = false;
            if (antichain) largest = std::max(largest, static_cast<std::size_t>(std::popcount(set)));
        }
        const Plan plan = nearest_plan(precedence);
        CHECK(steps - plan.moved == largest);
        CHECK(moved_in(plan.order) == plan.moved);
        for (std::size_t i = 0; i < steps; ++i)
            for (std::size_t j = i + 1; j < steps; ++j)
                CHECK_FALSE(before[plan.order[j]][plan.order[i]]);
    }
}

TEST_CASE("two hundred steps: what was moved is at most what has to be moved back") {
    std::mt19937 engine(8);
    for (const std::size_t changes : {std::size_t{1}, std::size_t{3}}) {
        for (int round = 0; round < 3; ++round) {
            const std::size_t moves = 6;
            const Sequence sequence = disturbed(engine, changes, moves);
            const Ordering answer = order_steps(sequence);
            CHECK(answer.proven);
            REQUIRE(answer.possible == Possible::yes);
            CHECK(answer.moved.size() <= moves);
            check_answer(sequence, answer);
        }
    }
}

TEST_CASE("where the search is given up, the answer says so and holds nevertheless") {
    std::mt19937 engine(5);
    std::size_t given_up = 0;
    for (int round = 0; round < 2; ++round) {
        const Sequence sequence = disturbed(engine, 5, 60);
        const Ordering answer = order_steps(sequence);
        if (!answer.proven) ++given_up;
        CHECK(answer.possible != Possible::no);  // it can be done: it was made from an order
        check_answer(sequence, answer);
    }
    CHECK(given_up >= 1);
}
