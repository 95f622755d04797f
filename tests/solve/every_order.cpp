#include "tests/solve/every_order.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <limits>
#include <numeric>

namespace packproof::solve {

using Kind = Demand::Kind;

namespace {

bool holds(const Order& list, std::size_t number) {
    return std::find(list.begin(), list.end(), number) != list.end();
}

Name name_of(const Demand& demand) {
    return {demand.kind, demand.step, demand.kind == Kind::after ? *demand.other : demand.barrier};
}

/// What a person with the barriers in hand meets: each demand of each step, and whether it was met.
std::vector<std::pair<Name, bool>> walk(const Sequence& sequence, const Order& order) {
    std::vector<std::pair<Name, bool>> met;
    std::vector<bool> done(sequence.steps.size(), false);
    std::vector<bool> on(sequence.barriers, false);
    for (const std::size_t barrier : sequence.on_at_start)
        on[barrier] = true;
    for (const std::size_t number : order) {
        const Step& step = sequence.steps[number];
        for (std::size_t other = 0; other < sequence.steps.size(); ++other)
            if (holds(step.after, other)) met.push_back({{Kind::after, number, other}, done[other]});
        for (std::size_t barrier = 0; barrier < sequence.barriers; ++barrier) {
            const bool removes = holds(step.removes, barrier);
            const bool works = holds(step.reaches_behind, barrier);
            const bool fits = holds(step.fits, barrier);
            if (removes) met.push_back({{Kind::removed_while_off, number, barrier}, on[barrier]});
            if (removes) on[barrier] = false;
            if (works && !removes) met.push_back({{Kind::blocked, number, barrier}, !on[barrier]});
            if (fits && !removes && !works)
                met.push_back({{Kind::fitted_twice, number, barrier}, !on[barrier]});
            if (fits) on[barrier] = true;
        }
        done[number] = true;
    }
    return met;
}

std::set<Name> broken_in(const Sequence& sequence, const Order& order) {
    std::set<Name> broken;
    for (const auto& pair : walk(sequence, order))
        if (!pair.second) broken.insert(pair.first);
    return broken;
}

struct Tried {
    bool possible = false;
    std::size_t fewest_moved = std::numeric_limits<std::size_t>::max();
    std::set<std::set<Name>> met;  ///< what each order meets
};

Tried try_all(const Sequence& sequence) {
    Tried tried;
    Order order = given(sequence.steps.size());
    do {
        std::set<Name> met;
        bool all = true;
        for (const auto& pair : walk(sequence, order)) {
            if (pair.second) met.insert(pair.first);
            all = all && pair.second;
        }
        tried.met.insert(std::move(met));
        if (!all) continue;
        tried.possible = true;
        tried.fewest_moved = std::min(tried.fewest_moved, moved_in(order));
    } while (std::next_permutation(order.begin(), order.end()));
    return tried;
}

bool some_order_meets(const Tried& tried, const std::set<Name>& demands) {
    return std::any_of(tried.met.begin(), tried.met.end(), [&](const std::set<Name>& met) {
        return std::includes(met.begin(), met.end(), demands.begin(), demands.end());
    });
}

/// Whether every set of so many demands is met by some order.
bool all_of_size_met(const Tried& tried, const std::vector<Name>& all, std::size_t size,
                     std::set<Name> chosen = {}, std::size_t from = 0) {
    if (chosen.size() == size) return some_order_meets(tried, chosen);
    for (std::size_t n = from; n < all.size(); ++n) {
        std::set<Name> more = chosen;
        more.insert(all[n]);
        if (!all_of_size_met(tried, all, size, more, n + 1)) return false;
    }
    return true;
}

}  // namespace

std::set<Name> names_of(const std::vector<Demand>& demands) {
    std::set<Name> names;
    for (const Demand& demand : demands)
        names.insert(name_of(demand));
    return names;
}

Order given(std::size_t steps) {
    Order order(steps);
    std::iota(order.begin(), order.end(), std::size_t{0});
    return order;
}

std::size_t moved_in(const Order& order) {
    std::vector<std::size_t> length(order.size(), 1);
    std::size_t longest = 0;
    for (std::size_t i = 0; i < order.size(); ++i) {
        for (std::size_t j = 0; j < i; ++j)
            if (order[j] < order[i]) length[i] = std::max(length[i], length[j] + 1);
        longest = std::max(longest, length[i]);
    }
    return order.size() - longest;
}

void check_answer(const Sequence& sequence, const Ordering& answer) {
    CHECK(names_of(answer.faults) == broken_in(sequence, given(sequence.steps.size())));
    CHECK(names_of(answer.faults).size() == answer.faults.size());
    if (answer.possible != Possible::yes) {
        CHECK(answer.order.empty());
        CHECK(answer.moved.empty());
        return;
    }
    CHECK(answer.conflict.empty());
    Order sorted = answer.order;
    std::sort(sorted.begin(), sorted.end());
    CHECK(sorted == given(sequence.steps.size()));
    CHECK(broken_in(sequence, answer.order).empty());
    CHECK(answer.moved.size() == moved_in(answer.order));
    std::vector<bool> kept(sequence.steps.size(), true);
    for (const Move& move : answer.moved)
        kept[move.step] = false;
    Order stay;
    for (const std::size_t step : answer.order)
        if (kept[step]) stay.push_back(step);
    CHECK(std::is_sorted(stay.begin(), stay.end()));
    std::set<Name> all;
    for (const auto& pair : walk(sequence, answer.order))
        all.insert(pair.first);
    const auto place = [&](std::size_t step) {
        return std::find(answer.order.begin(), answer.order.end(), step) - answer.order.begin();
    };
    for (const Move& move : answer.moved) {
        REQUIRE(!move.chain.empty());
        const std::size_t first = move.chain.front().before;
        const std::size_t last = move.chain.back().after;
        CHECK(first > last);  // from a later step to an earlier one
        CHECK((first == move.step ? kept[last] : last == move.step && kept[first]));
        CHECK(move.reason.before > move.reason.after);
        bool in_chain = false;
        for (std::size_t n = 0; n < move.chain.size(); ++n) {
            const Link& link = move.chain[n];
            if (n > 0) CHECK(link.before == move.chain[n - 1].after);
            CHECK(place(link.before) < place(link.after));
            CHECK(all.count(name_of(link.demand)) == 1);
            in_chain = in_chain || (link.before == move.reason.before && link.after == move.reason.after);
        }
        CHECK(in_chain);
    }
}

void check_against_all_orders(const Sequence& sequence) {
    const Ordering answer = order_steps(sequence);
    const Tried tried = try_all(sequence);
    CHECK(answer.proven);
    CHECK(answer.possible == (tried.possible ? Possible::yes : Possible::no));
    check_answer(sequence, answer);
    if (tried.possible) {
        CHECK(answer.moved.size() == tried.fewest_moved);
        return;
    }
    const std::set<Name> conflict = names_of(answer.conflict);
    CHECK(conflict.size() == answer.conflict.size());
    CHECK(!conflict.empty());
    std::vector<Name> all;
    for (const auto& pair : walk(sequence, given(sequence.steps.size())))
        all.push_back(pair.first);
    for (const Name& name : conflict)
        CHECK(std::count(all.begin(), all.end(), name) == 1);
    CHECK_FALSE(some_order_meets(tried, conflict));
    CHECK(all_of_size_met(tried, all, conflict.size() - 1));
}

Sequence with_afters(std::size_t steps, const std::vector<std::pair<std::size_t, std::size_t>>& pairs) {
    Sequence sequence;
    sequence.steps.resize(steps);
    for (const auto& pair : pairs)
        sequence.steps[pair.second].after.push_back(pair.first);
    return sequence;
}

bool chance(std::mt19937& engine, unsigned percent) {
    return engine() % 100 < percent;
}

}  // namespace packproof::solve
