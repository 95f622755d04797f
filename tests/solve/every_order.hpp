// Sequences tried in every order: walked step by step with the barriers in hand, all subsets of their
// demands.
#pragma once

#include <cstddef>
#include <random>
#include <set>
#include <tuple>
#include <utility>
#include <vector>

#include "engine/solve/sequence.hpp"

namespace packproof::solve {

using Order = std::vector<std::size_t>;

/// Kind, step, and the other step or the barrier.
using Name = std::tuple<Demand::Kind, std::size_t, std::size_t>;

[[nodiscard]] std::set<Name> names_of(const std::vector<Demand>& demands);

/// 0 to `steps` - 1.
[[nodiscard]] Order given(std::size_t steps);

/// Steps less the longest run that rises, by trying each as the last (quadratic).
[[nodiscard]] std::size_t moved_in(const Order& order);

/// Everything that is promised of an answer, but for what only all orders tell.
void check_answer(const Sequence& sequence, const Ordering& answer);

/// Against all permutations: possible or not, the fewest moved, the smallest conflict.
void check_against_all_orders(const Sequence& sequence);

/// Steps of which each pair's second comes after its first.
[[nodiscard]] Sequence with_afters(std::size_t steps,
                                   const std::vector<std::pair<std::size_t, std::size_t>>& pairs);

[[nodiscard]] bool chance(std::mt19937& engine, unsigned percent);

}  // namespace packproof::solve
