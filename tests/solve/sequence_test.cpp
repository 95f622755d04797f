// Orders of steps: examples by hand. Against every order tried: sequence_search_test.cpp.
#include "engine/solve/sequence.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <optional>
#include <random>
#include <set>
#include <utility>
#include <vector>

#include "tests/solve/every_order.hpp"

using namespace packproof::solve;
using Kind = Demand::Kind;

TEST_CASE("six precedences, most of them against the given order") {
    // by hand: 5 and 4 before 0, 4 and 3 before 1, 5 before 2, 2 before 3. 0, 2 and 3 may stay; of any four
    // steps two are the wrong way round
    const Sequence sequence = with_afters(6, {{5, 0}, {4, 0}, {4, 1}, {3, 1}, {5, 2}, {2, 3}});
    check_against_all_orders(sequence);
    CHECK(order_steps(sequence).moved.size() == 3);
}

TEST_CASE("one step too late, one too early") {
    // by hand: 5 before 2 and 3 moves 5 alone, to the place before 2; 0 after 3 and 4 moves 0 alone
    const Ordering late = order_steps(with_afters(6, {{5, 2}, {5, 3}}));
    CHECK(late.order == Order{0, 1, 5, 2, 3, 4});
    REQUIRE(late.moved.size() == 1);
    CHECK(late.moved[0].step == 5);
    CHECK(late.moved[0].reason.demand == Demand{Kind::after, 2, 5, 0});
    CHECK(late.moved[0].chain.size() == 1);
    const Ordering early = order_steps(with_afters(6, {{3, 0}, {4, 0}}));
    CHECK(early.order == Order{1, 2, 3, 4, 0, 5});
    REQUIRE(early.moved.size() == 1);
    CHECK(early.moved[0].step == 0);
    CHECK(early.moved[0].reason.demand == Demand{Kind::after, 0, 3, 0});
}

TEST_CASE("a step that works behind what an earlier one put on") {
    Sequence sequence;
    sequence.steps.resize(4);
    sequence.barriers = 1;
    sequence.steps[1].fits = {0};
    sequence.steps[2].reaches_behind = {0};
    sequence.steps[3].reaches_behind = {0};
    const Ordering answer = order_steps(sequence);
    CHECK(answer.faults == std::vector<Demand>{{Kind::blocked, 2, 1, 0}, {Kind::blocked, 3, 1, 0}});
    CHECK(answer.order == Order{0, 2, 3, 1});
    REQUIRE(answer.moved.size() == 1);
    CHECK(answer.moved[0].step == 1);
    CHECK(answer.moved[0].reason.demand == Demand{Kind::blocked, 2, 1, 0});
    // what it works behind is needed to be on first: a contradiction of two
    sequence.steps[2].after = {1};
    const Ordering none = order_steps(sequence);
    CHECK(none.possible == Possible::no);
    CHECK(none.proven);
    CHECK(names_of(none.conflict) == std::set<Name>{{Kind::after, 2, 1}, {Kind::blocked, 2, 0}});
    // unless somebody takes it off in between
    sequence.steps[0].removes = {0};
    check_against_all_orders(sequence);
    CHECK(order_steps(sequence).possible == Possible::yes);
}

TEST_CASE("a barrier off, work, on again: within one step nothing, over several in their order") {
    Sequence sequence;
    sequence.steps.resize(3);
    sequence.barriers = 1;
    sequence.on_at_start = {0};
    sequence.steps[0].removes = {0};
    sequence.steps[0].reaches_behind = {0};
    sequence.steps[0].fits = {0};
    CHECK(order_steps(sequence).faults.empty());
    sequence.steps[1].reaches_behind = {0};  // nobody leaves it off
    const Ordering left_on = order_steps(sequence);
    CHECK(left_on.faults == std::vector<Demand>{{Kind::blocked, 1, 0, 0}});
    CHECK(left_on.possible == Possible::no);
    CHECK(names_of(left_on.conflict) == std::set<Name>{{Kind::blocked, 1, 0}});
    sequence.steps[2].removes = {0};
    const Ordering moved = order_steps(sequence);
    CHECK(moved.order == Order{0, 2, 1});
    CHECK(moved.moved.size() == 1);
    CHECK(moved.proven);
}

TEST_CASE("no steps, a step after itself, entries twice, barriers that nobody touches") {
    const Ordering empty = order_steps({});
    CHECK(empty.possible == Possible::yes);
    CHECK(empty.proven);
    CHECK(empty.order.empty());

    const Ordering itself = order_steps(with_afters(2, {{1, 1}}));
    CHECK(itself.faults == std::vector<Demand>{{Kind::after, 1, 1, 0}});
    CHECK(itself.possible == Possible::no);
    CHECK(itself.conflict == itself.faults);
    CHECK(itself.proven);

    Sequence twice = with_afters(3, {{2, 0}, {2, 0}, {2, 0}});
    twice.barriers = 2;
    twice.on_at_start = {1, 1};
    twice.steps[1].fits = {0, 0};
    twice.steps[2].reaches_behind = {0, 0};
    CHECK(order_steps(twice).faults.size() == 2);
    check_against_all_orders(twice);

    Sequence untouched;
    untouched.steps.resize(2);
    untouched.barriers = 3;
    untouched.on_at_start = {2};
    untouched.steps[0].reaches_behind = {0, 1};
    CHECK(order_steps(untouched).faults.empty());
    CHECK(order_steps(untouched).order == Order{0, 1});
    untouched.steps[1].reaches_behind = {2};  // on from the start, and nobody takes it off
    const Ordering stuck = order_steps(untouched);
    CHECK(stuck.faults == std::vector<Demand>{{Kind::blocked, 1, std::nullopt, 2}});
    CHECK(stuck.possible == Possible::no);
    CHECK(stuck.conflict == stuck.faults);
}

TEST_CASE("two that fit one barrier, one that removes what nobody fits") {
    Sequence sequence;
    sequence.steps.resize(2);
    sequence.barriers = 1;
    sequence.steps[0].fits = {0};
    sequence.steps[1].fits = {0};
    const Ordering two = order_steps(sequence);
    CHECK(two.faults == std::vector<Demand>{{Kind::fitted_twice, 1, 0, 0}});
    CHECK(two.possible == Possible::no);
    CHECK(names_of(two.conflict) == std::set<Name>{{Kind::fitted_twice, 0, 0}, {Kind::fitted_twice, 1, 0}});
    sequence.steps[1] = {};
    sequence.steps[1].removes = {0};
    CHECK(order_steps(sequence).faults.empty());
    sequence.steps[0] = {};
    const Ordering off = order_steps(sequence);
    CHECK(off.faults == std::vector<Demand>{{Kind::removed_while_off, 1, std::nullopt, 0}});
    CHECK(off.conflict == off.faults);
    sequence.on_at_start = {0};
    CHECK(order_steps(sequence).faults.empty());
    sequence.steps[0].removes = {0};
    CHECK(order_steps(sequence).faults == std::vector<Demand>{{Kind::removed_while_off, 1, 0, 0}});
    check_against_all_orders(sequence);
}

TEST_CASE("a circle is found by its shortest way round") {
    // by hand: 0 to 5 in a ring, and 1-2-3 closed by a chord
    const std::vector<std::pair<std::size_t, std::size_t>> ring = {{0, 1}, {1, 2}, {2, 3},
                                                                   {3, 4}, {4, 5}, {5, 0}};
    CHECK(order_steps(with_afters(6, ring)).conflict.size() == 6);
    std::vector<std::pair<std::size_t, std::size_t>> chord = ring;
    chord.push_back({3, 1});
    const Ordering answer = order_steps(with_afters(6, chord));
    CHECK(answer.proven);
    CHECK(names_of(answer.conflict) ==
          std::set<Name>{{Kind::after, 2, 1}, {Kind::after, 3, 2}, {Kind::after, 1, 3}});
}

TEST_CASE("a contradiction over a barrier that is smaller than any circle") {
    // by hand: 0 fits, 1 works behind it after that, 2 removes, but after 1: three demands against the four
    // of the ring 3 - 4 - 5 - 6
    Sequence sequence = with_afters(7, {{0, 1}, {1, 2}, {3, 4}, {4, 5}, {5, 6}, {6, 3}});
    sequence.barriers = 1;
    sequence.steps[0].fits = {0};
    sequence.steps[1].reaches_behind = {0};
    sequence.steps[2].removes = {0};
    const Ordering answer = order_steps(sequence);
    CHECK(answer.proven);
    CHECK(names_of(answer.conflict) ==
          std::set<Name>{{Kind::after, 1, 0}, {Kind::after, 2, 1}, {Kind::blocked, 1, 0}});
}

TEST_CASE("of the sets of steps that may move, one that the others need not give way to much") {
    // the least sum of |new place - given place| by all permutations that move as few
    const Sequence sequence = with_afters(6, {{5, 0}, {2, 1}});
    const auto travel = [](const Order& order) {
        std::size_t sum = 0;
        for (std::size_t place = 0; place < order.size(); ++place)
            sum += std::max(order[place], place) - std::min(order[place], place);
        return sum;
    };
    const auto place = [](const Order& order, std::size_t step) {
        return std::find(order.begin(), order.end(), step) - order.begin();
    };
    std::size_t least = 1000;
    Order order = given(6);
    do {
        if (place(order, 5) < place(order, 0) && place(order, 2) < place(order, 1) && moved_in(order) == 2)
            least = std::min(least, travel(order));
    } while (std::next_permutation(order.begin(), order.end()));
    CHECK(travel(order_steps(sequence).order) == least);
}

TEST_CASE("the chain that moves a step is the shortest between it and one that stays") {
    // distances by the three loops of R. W. Floyd 1962 (recalled)
    std::mt19937 engine(11);
    std::size_t longer = 0;
    for (int round = 0; round < 200; ++round) {
        const std::size_t steps = 9;
        Order hidden = given(steps);
        std::shuffle(hidden.begin(), hidden.end(), engine);
        std::vector<std::pair<std::size_t, std::size_t>> pairs;
        std::vector<std::vector<std::size_t>> apart(steps, std::vector<std::size_t>(steps, 1000));
        for (std::size_t i = 0; i < steps; ++i)
            for (std::size_t j = i + 1; j < steps; ++j)
                if (chance(engine, 22)) {
                    pairs.push_back({hidden[i], hidden[j]});
                    apart[hidden[i]][hidden[j]] = 1;
                }
        for (std::size_t k = 0; k < steps; ++k)
            for (std::size_t i = 0; i < steps; ++i)
                for (std::size_t j = 0; j < steps; ++j)
                    apart[i][j] = std::min(apart[i][j], apart[i][k] + apart[k][j]);
        const Ordering answer = order_steps(with_afters(steps, pairs));
        std::vector<bool> stays(steps, true);
        for (const Move& move : answer.moved)
            stays[move.step] = false;
        for (const Move& move : answer.moved) {
            std::size_t shortest = 1000;
            for (std::size_t other = 0; other < steps; ++other) {
                if (!stays[other]) continue;
                shortest = std::min(shortest, other < move.step ? apart[move.step][other]  //
                                                                : apart[other][move.step]);
            }
            CHECK(move.chain.size() == shortest);
            if (shortest > 1) ++longer;
        }
    }
    CHECK(longer >= 10);
}
