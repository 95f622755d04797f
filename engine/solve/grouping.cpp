#include "engine/solve/grouping.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <tuple>
#include <utility>

namespace packproof::solve {

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
// Fresh starts of the exchange search, each a few exchanges away from the best; fewer of many items.
constexpr std::size_t most_kicks = 60;
constexpr std::size_t kick_work = 100'000;

/// One value of all items, largest first by the first value.
struct Criterion {
    std::vector<double> value;
    double tiny = 0.0;   ///< spreads this close are equal
    double least = 0.0;  ///< no sharing has a smaller spread
};

struct Task {
    std::size_t size = 0;
    std::size_t groups = 0;
    std::vector<std::size_t> item;  ///< index given, by place in the order
    Criterion first, second;
};

struct Spreads {
    double first = 0.0;
    double second = 0.0;
};

using Sharing = std::vector<std::size_t>;  // group of each place in the order

std::vector<double> sums_of(const Task& task, const Criterion& criterion, const Sharing& sharing) {
    std::vector<double> sums(task.groups, 0.0);
    for (std::size_t n = 0; n < sharing.size(); ++n)
        sums[sharing[n]] += criterion.value[n];
    return sums;
}

double spread_of(const std::vector<double>& sums) {
    const auto ends = std::minmax_element(sums.begin(), sums.end());
    return *ends.second - *ends.first;
}

bool better(const Task& task, const Spreads& a, const Spreads& b) {
    if (a.first < b.first - task.first.tiny) return true;
    return a.first <= b.first + task.first.tiny && a.second < b.second - task.second.tiny;
}

/// A bound that needs no search: the group that holds the largest item, or the smallest, is no nearer to the
/// rest than its best companions bring it; and whole steps that do not divide leave one over.
double least_spread(const Task& task, const Criterion& criterion, double step) {
    if (task.groups < 2) return 0.0;
    std::vector<double> sorted = criterion.value;
    std::sort(sorted.begin(), sorted.end());
    const double total = std::accumulate(sorted.begin(), sorted.end(), 0.0);
    const auto companions = static_cast<std::ptrdiff_t>(task.size - 1);
    const auto others = static_cast<double>(task.groups - 1);
    const double high = std::accumulate(sorted.begin(), sorted.begin() + companions, sorted.back());
    const double low = std::accumulate(sorted.end() - companions, sorted.end(), sorted.front());
    double least = std::max({0.0, high - (total - high) / others, (total - low) / others - low});
    if (least <= criterion.tiny) least = 0.0;
    if (step <= 0.0 || least >= step) return least;
    double steps = 0.0;
    for (const double value : sorted) {
        const double whole = std::round(value / step);
        if (std::fabs(whole * step - value) > 1e-9 * step || std::fabs(whole) > 1e9) return least;
        steps += whole;
    }
    return std::fmod(steps, static_cast<double>(task.groups)) != 0.0 ? step : least;
}

Criterion criterion_of(std::span<const double> values, const std::vector<std::size_t>& order) {
    Criterion criterion;
    double size = 0.0;
    for (const std::size_t item : order) {
        criterion.value.push_back(values.empty() ? 0.0 : values[item]);
        size += std::fabs(criterion.value.back());
    }
    criterion.tiny = 1e-12 * size;
    return criterion;
}

/// Pairs: largest with smallest. Else each item in turn to the group with the least sum that has room.
Sharing first_sharing(const Task& task) {
    const std::size_t count = task.item.size();
    Sharing sharing(count);
    if (task.size == 2) {
        for (std::size_t n = 0; n < count; ++n)
            sharing[n] = std::min(n, count - 1 - n);
        return sharing;
    }
    std::vector<double> sums(task.groups, 0.0);
    std::vector<std::size_t> room(task.groups, task.size);
    for (std::size_t n = 0; n < count; ++n) {
        std::size_t best = task.groups;
        for (std::size_t group = 0; group < task.groups; ++group)
            if (room[group] > 0 && (best == task.groups || sums[group] < sums[best])) best = group;
        sharing[n] = best;
        sums[best] += task.first.value[n];
        --room[best];
    }
    return sharing;
}

Spreads spreads_of(const Task& task, const Sharing& sharing) {
    return {spread_of(sums_of(task, task.first, sharing)), spread_of(sums_of(task, task.second, sharing))};
}

/// Marks the groups of the least and the largest sum: an exchange beside them changes no spread for the
/// better.
void mark_ends(const std::vector<double>& sums, std::vector<bool>& ends) {
    const auto found = std::minmax_element(sums.begin(), sums.end());
    ends[static_cast<std::size_t>(found.first - sums.begin())] = true;
    ends[static_cast<std::size_t>(found.second - sums.begin())] = true;
}

/// The first exchange of two items that makes it better, done; false if there is none.
bool exchange_once(const Task& task, Sharing& sharing) {
    const Spreads now = spreads_of(task, sharing);
    std::vector<double> first = sums_of(task, task.first, sharing);
    std::vector<double> second = sums_of(task, task.second, sharing);
    std::vector<bool> ends(task.groups, false);
    mark_ends(first, ends);
    mark_ends(second, ends);
    for (std::size_t a = 0; a < sharing.size(); ++a) {
        for (std::size_t b = a + 1; b < sharing.size(); ++b) {
            const std::size_t of_a = sharing[a];
            const std::size_t of_b = sharing[b];
            if (of_a == of_b || !(ends[of_a] || ends[of_b])) continue;
            const double by_first = task.first.value[b] - task.first.value[a];
            const double by_second = task.second.value[b] - task.second.value[a];
            const auto kept =
                std::pair(std::pair(first[of_a], first[of_b]), std::pair(second[of_a], second[of_b]));
            first[of_a] += by_first;
            first[of_b] -= by_first;
            second[of_a] += by_second;
            second[of_b] -= by_second;
            if (better(task, {spread_of(first), spread_of(second)}, now)) {
                std::swap(sharing[a], sharing[b]);
                return true;
            }
            std::tie(first[of_a], first[of_b]) = kept.first;
            std::tie(second[of_a], second[of_b]) = kept.second;
        }
    }
    return false;
}

void exchange(const Task& task, Sharing& sharing) {
    while (exchange_once(task, sharing)) {}
}

/// Exchanges from fresh starts near the best; the same on every run.
void exchange_from_kicks(const Task& task, Sharing& best) {
    std::uint64_t state = 1;
    const auto any = [&](std::size_t below) {
        state = state * 6364136223846793005U + 1442695040888963407U;
        return static_cast<std::size_t>((state >> 33U) % below);
    };
    exchange(task, best);
    const std::size_t kicks = std::min(most_kicks, kick_work / (best.size() * best.size()));
    for (std::size_t kick = 0; kick < kicks; ++kick) {
        if (spreads_of(task, best).first <= task.first.least + task.first.tiny) return;
        Sharing tried = best;
        for (int n = 0; n < 3; ++n)
            std::swap(tried[any(tried.size())], tried[any(tried.size())]);
        exchange(task, tried);
        if (better(task, spreads_of(task, tried), spreads_of(task, best))) best = tried;
    }
}

/// Fills one group after the other, each from the largest item that is left, and leaves what cannot come to
/// better than the limits.
class Search {
  public:
    Search(const Task& task, std::uint64_t most_steps)
        : task_(task), left_(most_steps), sharing_(task.item.size(), task.groups) {
        total_first_ = std::accumulate(task.first.value.begin(), task.first.value.end(), 0.0);
        total_second_ = std::accumulate(task.second.value.begin(), task.second.value.end(), 0.0);
    }

    /// Looks for sharings with a first spread of at most `first` and a second one of at most `second`, and
    /// with each that it finds lowers the second limit if `for_second`, else the first. True if all was seen.
    bool run(Spreads most, bool for_second, Sharing& best) {
        most_ = most;
        for_second_ = for_second;
        best_ = &best;
        fill({infinite, -infinite, infinite, -infinite, total_first_, total_second_}, 0);
        return !stopped_;
    }

    [[nodiscard]] std::uint64_t left() const { return left_; }

  private:
    /// Of the groups that are full: least and largest sums; of the items left: their sums.
    struct State {
        double low_first, high_first, low_second, high_second, rest_first, rest_second;
    };

    /// The spread to which full groups and the mean of the rest come at least.
    [[nodiscard]] double bound(double low, double high, double rest, std::size_t full) const {
        if (full == task_.groups) return high - low;
        const double mean = rest / static_cast<double>(task_.groups - full);
        return std::max(high, mean) - std::min(low, mean);
    }

    void fill(const State& state, std::size_t group) {
        if (group == task_.groups) return found(state);
        std::size_t leader = 0;
        while (sharing_[leader] != task_.groups)
            ++leader;
        sharing_[leader] = group;
        choose(state, group, leader, task_.size - 1, {task_.first.value[leader], task_.second.value[leader]});
        sharing_[leader] = task_.groups;
    }

    void found(const State& state) {
        *best_ = sharing_;
        const double first = state.high_first - state.low_first;
        const double second = state.high_second - state.low_second;
        if (for_second_) most_.second = second - 2.0 * task_.second.tiny;
        if (!for_second_) most_.first = first - 2.0 * task_.first.tiny;
        const bool least = for_second_ ? second <= task_.second.least + task_.second.tiny
                                       : first <= task_.first.least + task_.first.tiny;
        if (least) done_ = true;
    }

    void close(State state, std::size_t group, Spreads sum) {
        state.low_first = std::min(state.low_first, sum.first);
        state.high_first = std::max(state.high_first, sum.first);
        state.low_second = std::min(state.low_second, sum.second);
        state.high_second = std::max(state.high_second, sum.second);
        state.rest_first -= sum.first;
        state.rest_second -= sum.second;
        if (bound(state.low_first, state.high_first, state.rest_first, group + 1) > most_.first) return;
        if (bound(state.low_second, state.high_second, state.rest_second, group + 1) > most_.second) return;
        fill(state, group + 1);
    }

    /// The sum of so many of the largest items left after a place, or of the smallest.
    [[nodiscard]] double largest_after(std::size_t place, std::size_t count) const {
        double sum = 0.0;
        for (std::size_t n = place + 1; count > 0 && n < sharing_.size(); ++n) {
            if (sharing_[n] != task_.groups) continue;
            sum += task_.first.value[n];
            --count;
        }
        return count > 0 ? -infinite : sum;
    }
    [[nodiscard]] double smallest(std::size_t count) const {
        double sum = 0.0;
        for (std::size_t n = sharing_.size(); count > 0 && n-- > 0;) {
            if (sharing_[n] != task_.groups) continue;
            sum += task_.first.value[n];
            --count;
        }
        return sum;
    }

    void choose(const State& state, std::size_t group, std::size_t after, std::size_t wanted, Spreads sum) {
        if (wanted == 0) return close(state, group, sum);
        const auto groups = static_cast<double>(task_.groups);
        const double least_rest = smallest(wanted - 1);
        std::size_t before = sharing_.size();
        for (std::size_t n = after + 1; n < sharing_.size(); ++n) {
            if (sharing_[n] != task_.groups) continue;
            if (done_ || stopped_) return;
            if (left_ == 0) {
                stopped_ = true;
                return;
            }
            --left_;
            const double value = task_.first.value[n];
            const double other = task_.second.value[n];
            if (before < sharing_.size() && task_.first.value[before] == value &&
                task_.second.value[before] == other)
                continue;  // what was tried with its twin
            before = n;
            // no sum of a group is further from another's, nor from the mean of all, than the limit lets it
            // be
            const double mean = total_first_ / groups;
            const double off = most_.first * (groups - 1.0) / groups + task_.first.tiny;
            const double low = std::max(mean - off, state.high_first - most_.first - task_.first.tiny);
            const double high = std::min(mean + off, state.low_first + most_.first + task_.first.tiny);
            if (sum.first + value + largest_after(n, wanted - 1) < low) return;
            if (sum.first + value + least_rest > high) continue;
            sharing_[n] = group;
            choose(state, group, n, wanted - 1, {sum.first + value, sum.second + other});
            sharing_[n] = task_.groups;
        }
    }

    const Task& task_;
    std::uint64_t left_;
    Sharing sharing_;  // `groups` for an item that is left
    double total_first_ = 0.0, total_second_ = 0.0;
    Spreads most_;
    bool for_second_ = false, done_ = false, stopped_ = false;
    Sharing* best_ = nullptr;
};

bool usable(std::span<const double> values, double step) {
    return std::isfinite(step) && step >= 0.0 &&
           std::all_of(values.begin(), values.end(), [](double value) { return std::isfinite(value); });
}

Task task_of(std::span<const double> first, std::span<const double> second, std::size_t size,
             const GroupingEffort& effort) {
    Task task;
    task.size = size;
    task.groups = first.size() / size;
    task.item.resize(first.size());
    std::iota(task.item.begin(), task.item.end(), std::size_t{0});
    std::sort(task.item.begin(), task.item.end(), [&](std::size_t a, std::size_t b) {
        if (first[a] != first[b]) return first[a] > first[b];
        if (!second.empty() && second[a] != second[b]) return second[a] > second[b];
        return a < b;
    });
    task.first = criterion_of(first, task.item);
    task.second = criterion_of(second, task.item);
    task.first.least = least_spread(task, task.first, effort.first_step);
    task.second.least = least_spread(task, task.second, effort.second_step);
    return task;
}

/// Groups of indices as given, in the order of their least.
void list_groups(const Task& task, const Sharing& sharing, Grouping& result) {
    std::vector<std::vector<std::size_t>> groups(task.groups);
    for (std::size_t n = 0; n < sharing.size(); ++n)
        groups[sharing[n]].push_back(task.item[n]);
    for (auto& group : groups)
        std::sort(group.begin(), group.end());
    std::sort(groups.begin(), groups.end());
    result.groups = std::move(groups);
}

}  // namespace

std::optional<Grouping> share_out(std::span<const double> first, std::span<const double> second,
                                  std::size_t size, const GroupingEffort& effort) {
    if (first.empty() || size == 0 || first.size() % size != 0) return std::nullopt;
    if (!second.empty() && second.size() != first.size()) return std::nullopt;
    if (!usable(first, effort.first_step) || !usable(second, effort.second_step)) return std::nullopt;
    const Task task = task_of(first, second, size, effort);
    if (!std::isfinite(task.first.tiny) || !std::isfinite(task.second.tiny)) return std::nullopt;

    Grouping result;
    Sharing best = first_sharing(task);
    exchange_from_kicks(task, best);
    Spreads reached = spreads_of(task, best);
    result.proven = size <= 2 || task.groups == 1 || reached.first <= task.first.least + task.first.tiny;
    if (!result.proven) {
        Search search(task, effort.most_steps);
        result.proven = search.run({reached.first - 2.0 * task.first.tiny, infinite}, false, best);
        result.steps += effort.most_steps - search.left();
        exchange(task, best);
        reached = spreads_of(task, best);
    }
    result.second_proven = result.proven && reached.second <= task.second.least + task.second.tiny;
    if (result.proven && !result.second_proven) {
        Search search(task, effort.most_steps);
        const Spreads most = {reached.first + task.first.tiny, reached.second - 2.0 * task.second.tiny};
        result.second_proven = search.run(most, true, best);
        result.steps += effort.most_steps - search.left();
        exchange(task, best);
        reached = spreads_of(task, best);
    }
    list_groups(task, best, result);
    result.spread = reached.first;
    result.second_spread = reached.second;
    result.least_spread = result.proven ? reached.first : task.first.least;
    return result;
}

}  // namespace packproof::solve
