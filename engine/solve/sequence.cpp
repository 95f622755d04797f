#include "engine/solve/sequence.hpp"

#include <algorithm>
#include <numeric>
#include <utility>

#include "engine/solve/precedence.hpp"
#include "engine/solve/sequence_conflict.hpp"
#include "engine/solve/sequence_demands.hpp"
#include "engine/solve/sequence_search.hpp"

namespace packproof::solve {

namespace {

constexpr std::size_t most_orders_tried = 2000;        // for any, and again for the nearest
constexpr std::size_t most_tried_for_conflict = 3000;  // for the smallest contradiction
constexpr std::size_t most_pairs_held = 100'000'000;   // bits of the precedences of all orders in hand

/// Fewer where there are so many steps that the search would need much memory.
std::size_t limit_for(std::size_t steps, std::size_t most) {
    const std::size_t pairs = std::max(steps * steps, std::size_t{1});
    return std::clamp(most_pairs_held / pairs, std::size_t{1}, most);
}

std::vector<Move> moves_of(const Plan& plan, const std::vector<Link>& links) {
    const std::size_t steps = plan.order.size();
    std::vector<Link> turned;
    for (const Link& link : links)
        turned.push_back({link.after, link.before, link.demand});
    std::vector<Move> moves;
    for (std::size_t step = 0; step < steps; ++step) {
        if (plan.kept[step]) continue;
        std::vector<bool> earlier = plan.kept;
        std::fill(earlier.begin() + static_cast<std::ptrdiff_t>(step), earlier.end(), false);
        std::vector<bool> later = plan.kept;
        std::fill(later.begin(), later.begin() + static_cast<std::ptrdiff_t>(step), false);
        Move move;
        move.step = step;
        move.chain = shortest_chain(steps, links, step, earlier);
        if (move.chain.empty()) {  // it is never both: else two kept ones would have to be turned round
            move.chain = shortest_chain(steps, turned, step, later);
            std::reverse(move.chain.begin(), move.chain.end());
            for (Link& link : move.chain)
                std::swap(link.before, link.after);
        }
        // one chain there is: the kept are a largest set without a pair that must be turned round
        move.reason = *std::find_if(move.chain.begin(), move.chain.end(),
                                    [](const Link& link) { return link.before > link.after; });
        moves.push_back(std::move(move));
    }
    return moves;
}

void take(Ordering& ordering, Found found) {
    ordering.possible = Possible::yes;
    ordering.moved = moves_of(found.plan, found.links);
    ordering.order = std::move(found.plan.order);
}

}  // namespace

Ordering order_steps(const Sequence& sequence) {
    const Demands demands(sequence);
    const std::vector<bool> all(demands.list().size(), true);
    std::vector<std::size_t> given(sequence.steps.size());
    std::iota(given.begin(), given.end(), std::size_t{0});

    Ordering ordering;
    for (const Broken& broken : demands.broken(given, all)) {
        ordering.faults.push_back(demands.list()[broken.demand]);
        ordering.faults.back().other = broken.since;
    }
    if (ordering.faults.empty()) {
        ordering.possible = Possible::yes;
        ordering.order = std::move(given);
        ordering.proven = true;
        return ordering;
    }
    const std::size_t most = limit_for(demands.steps(), most_orders_tried);
    std::size_t limit = most;
    Found any = any_order(demands, all, limit);
    if (any.possible != Possible::no) {
        Found nearest = nearest_order(demands, most);
        ordering.proven = nearest.possible == Possible::yes;
        if (nearest.possible == Possible::no) {
            any.possible = Possible::no;
            any.core = all;
        } else if (nearest.possible == Possible::yes || any.possible == Possible::yes) {
            take(ordering, nearest.possible == Possible::yes ? std::move(nearest) : std::move(any));
        }
    }
    if (any.possible == Possible::no) {
        Conflict conflict = smallest_conflict(demands, std::move(any.core),
                                              limit_for(demands.steps(), most_tried_for_conflict));
        ordering.possible = Possible::no;
        ordering.conflict = std::move(conflict.demands);
        ordering.proven = conflict.proven;
    }
    return ordering;
}

}  // namespace packproof::solve
