#include "engine/solve/precedence.hpp"

#include <algorithm>
#include <bit>
#include <functional>
#include <limits>
#include <queue>

namespace packproof::solve {

namespace {

constexpr std::size_t none = std::numeric_limits<std::size_t>::max();

/// Steps and those given earlier that must come after them: pairs that the given order has the wrong way
/// round. They are a partial order (that of the numbers cut with that of the precedences), so that the most
/// steps without such a pair are as many as the fewest chains: n less a largest matching of later to earlier.
class WrongPairs {
  public:
    explicit WrongPairs(const Precedence& precedence)
        : precedence_(precedence),
          earlier_of_(precedence.steps(), none),
          later_of_(precedence.steps(), none) {
        for (std::size_t later = 0; later < steps(); ++later) {
            std::vector<std::uint64_t> untried(words(steps()), ~std::uint64_t{0});
            match(later, untried);
        }
    }
    /// König: the copies that alternating ways reach from what is not matched, seen from the later side.
    [[nodiscard]] std::vector<bool> kept_from_later() const {
        std::vector<bool> on_later(steps(), false);
        std::vector<bool> on_earlier(steps(), false);
        std::vector<std::size_t> open;
        for (std::size_t step = 0; step < steps(); ++step)
            if (earlier_of_[step] == none) open.push_back(step);
        while (!open.empty()) {
            const std::size_t later = open.back();
            open.pop_back();
            on_later[later] = true;
            for (std::size_t earlier = 0; earlier < later; ++earlier) {
                if (on_earlier[earlier] || !precedence_.before(later, earlier)) continue;
                on_earlier[earlier] = true;
                open.push_back(later_of_[earlier]);  // matched, else the matching could grow
            }
        }
        return first_without_second(on_later, on_earlier);
    }
    [[nodiscard]] std::vector<bool> kept_from_earlier() const {
        std::vector<bool> on_later(steps(), false);
        std::vector<bool> on_earlier(steps(), false);
        std::vector<std::size_t> open;
        for (std::size_t step = 0; step < steps(); ++step)
            if (later_of_[step] == none) open.push_back(step);
        while (!open.empty()) {
            const std::size_t earlier = open.back();
            open.pop_back();
            on_earlier[earlier] = true;
            for (std::size_t later = earlier + 1; later < steps(); ++later) {
                if (on_later[later] || !precedence_.before(later, earlier)) continue;
                on_later[later] = true;
                open.push_back(earlier_of_[later]);
            }
        }
        return first_without_second(on_earlier, on_later);
    }

  private:
    [[nodiscard]] std::size_t steps() const { return precedence_.steps(); }
    static std::size_t words(std::size_t below) { return (below + 63) / 64; }
    static std::vector<bool> first_without_second(const std::vector<bool>& first,
                                                  const std::vector<bool>& second) {
        std::vector<bool> both(first.size());
        for (std::size_t n = 0; n < first.size(); ++n)
            both[n] = first[n] && !second[n];
        return both;
    }
    bool match(std::size_t later, std::vector<std::uint64_t>& untried) {
        const std::span<const std::uint64_t> row = precedence_.row(later);
        for (std::size_t word = 0; word < words(later); ++word) {
            const bool last = word == later / 64;
            const std::uint64_t below = last ? (std::uint64_t{1} << (later % 64)) - 1 : ~std::uint64_t{0};
            while (const std::uint64_t found = row[word] & untried[word] & below) {
                const std::size_t earlier = 64 * word + static_cast<std::size_t>(std::countr_zero(found));
                untried[word] &= ~(std::uint64_t{1} << (earlier % 64));
                if (later_of_[earlier] != none && !match(later_of_[earlier], untried)) continue;
                later_of_[earlier] = later;
                earlier_of_[later] = earlier;
                return true;
            }
        }
        return false;
    }

    const Precedence& precedence_;
    std::vector<std::size_t> earlier_of_, later_of_;
};

/// Kahn's sort, the lowest number first among those free; the kept ones in their given order.
std::vector<std::size_t> sorted(const Precedence& precedence, const std::vector<bool>& kept) {
    const std::size_t steps = precedence.steps();
    std::vector<std::size_t> waits_for(steps, 0);
    std::vector<std::size_t> next_kept(steps, none);
    const auto each_after = [&](std::size_t step, const auto& act) {
        const std::span<const std::uint64_t> row = precedence.row(step);
        for (std::size_t word = 0; word < row.size(); ++word)
            for (std::uint64_t left = row[word]; left != 0; left &= left - 1)
                act(64 * word + static_cast<std::size_t>(std::countr_zero(left)));
    };
    std::size_t last_kept = none;
    for (std::size_t step = 0; step < steps; ++step) {
        each_after(step, [&](std::size_t after) { ++waits_for[after]; });
        if (!kept[step]) continue;
        if (last_kept != none) {
            next_kept[last_kept] = step;
            ++waits_for[step];
        }
        last_kept = step;
    }
    std::priority_queue<std::size_t, std::vector<std::size_t>, std::greater<>> free;
    for (std::size_t step = 0; step < steps; ++step)
        if (waits_for[step] == 0) free.push(step);
    std::vector<std::size_t> order;
    const auto released = [&](std::size_t step) {
        if (--waits_for[step] == 0) free.push(step);
    };
    while (!free.empty()) {
        const std::size_t step = free.top();
        free.pop();
        order.push_back(step);
        each_after(step, released);
        if (next_kept[step] != none) released(next_kept[step]);
    }
    return order;
}

/// Sum of |new place - given place|.
std::size_t travel(const std::vector<std::size_t>& order) {
    std::size_t sum = 0;
    for (std::size_t place = 0; place < order.size(); ++place)
        sum += order[place] > place ? order[place] - place : place - order[place];
    return sum;
}

}  // namespace

bool Precedence::add(std::size_t before, std::size_t after) {
    if (before == after || this->before(after, before)) return false;
    if (this->before(before, after)) return true;
    for (std::size_t step = 0; step < steps_; ++step) {
        if (step != before && !this->before(step, before)) continue;
        for (std::size_t word = 0; word < words_; ++word)
            bits_[step * words_ + word] |= bits_[after * words_ + word];
        bits_[step * words_ + after / 64] |= std::uint64_t{1} << (after % 64);
    }
    return true;
}

Plan nearest_plan(const Precedence& precedence) {
    const WrongPairs wrong(precedence);
    Plan plan;
    plan.kept = wrong.kept_from_later();
    plan.order = sorted(precedence, plan.kept);
    plan.moved = static_cast<std::size_t>(std::count(plan.kept.begin(), plan.kept.end(), false));
    if (plan.moved == 0) return plan;
    std::vector<bool> other = wrong.kept_from_earlier();
    if (other == plan.kept) return plan;
    std::vector<std::size_t> order = sorted(precedence, other);
    if (travel(order) < travel(plan.order)) {
        plan.kept = std::move(other);
        plan.order = std::move(order);
    }
    return plan;
}

std::vector<Link> shortest_chain(std::size_t steps, std::span<const Link> links, std::size_t from,
                                 const std::vector<bool>& targets) {
    std::vector<std::vector<std::size_t>> out(steps);
    for (std::size_t n = 0; n < links.size(); ++n)
        out[links[n].before].push_back(n);
    std::vector<std::size_t> by(steps, none);  // the link that first led to the step
    std::vector<std::size_t> met = {from};
    for (std::size_t n = 0; n < met.size(); ++n) {
        for (const std::size_t link : out[met[n]]) {
            std::size_t step = links[link].after;
            if (by[step] != none || (step == from && !targets[from])) continue;
            by[step] = link;
            met.push_back(step);
            if (!targets[step]) continue;
            std::vector<Link> chain;
            do {
                chain.push_back(links[by[step]]);
                step = chain.back().before;
            } while (step != from);
            std::reverse(chain.begin(), chain.end());
            return chain;
        }
    }
    return {};
}

std::vector<Link> shortest_circle(std::size_t steps, std::span<const Link> links) {
    std::vector<Link> shortest;
    std::vector<bool> target(steps, false);
    for (std::size_t step = 0; step < steps; ++step) {
        target[step] = true;
        std::vector<Link> circle = shortest_chain(steps, links, step, target);
        target[step] = false;
        if (!circle.empty() && (shortest.empty() || circle.size() < shortest.size()))
            shortest = std::move(circle);
    }
    return shortest;
}

}  // namespace packproof::solve
