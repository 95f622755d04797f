#include "engine/solve/sequence_conflict.hpp"

#include <algorithm>
#include <optional>
#include <utility>

#include "engine/solve/precedence.hpp"
#include "engine/solve/sequence_search.hpp"

namespace packproof::solve {

namespace {

using Set = std::vector<std::size_t>;  // of demands, ascending

constexpr std::size_t most_hits_tried = 200000;

/// The smallest set that meets each of the parts in at least one.
class HittingSet {
  public:
    explicit HittingSet(const std::vector<Set>& parts, std::size_t demands)
        : parts_(parts), in_(demands, false), barred_(demands, false) {}
    /// One of so many; nothing if there is none, or the limit is met.
    std::optional<Set> of_size(std::size_t size) {
        if (!go(size)) return std::nullopt;
        Set set;
        for (std::size_t demand = 0; demand < in_.size(); ++demand)
            if (in_[demand]) set.push_back(demand);
        return set;
    }
    [[nodiscard]] bool met_limit() const { return tried_ >= most_hits_tried; }

  private:
    bool go(std::size_t left) {
        if (++tried_ >= most_hits_tried) return false;
        const Set* narrowest = nullptr;
        std::size_t fewest = 0;
        for (const Set& part : parts_) {
            if (std::any_of(part.begin(), part.end(), [&](std::size_t n) { return in_[n]; })) continue;
            const auto free = static_cast<std::size_t>(
                std::count_if(part.begin(), part.end(), [&](std::size_t n) { return !barred_[n]; }));
            if (narrowest != nullptr && free >= fewest) continue;
            narrowest = &part;
            fewest = free;
        }
        if (narrowest == nullptr) return true;
        if (left == 0) return false;
        Set barred_here;
        bool found = false;
        for (const std::size_t demand : *narrowest) {
            if (barred_[demand]) continue;
            in_[demand] = true;
            found = go(left - 1);
            if (found) break;
            in_[demand] = false;
            barred_[demand] = true;  // sets with it have been tried
            barred_here.push_back(demand);
        }
        for (const std::size_t demand : barred_here)
            barred_[demand] = false;
        return found;
    }

    const std::vector<Set>& parts_;
    std::vector<bool> in_, barred_;
    std::size_t tried_ = 0;
};

std::size_t size_of(const std::vector<bool>& set) {
    return static_cast<std::size_t>(std::count(set.begin(), set.end(), true));
}

class Search {
  public:
    Search(const Demands& demands, std::vector<bool> core, std::size_t limit)
        : demands_(demands), best_(std::move(core)), limit_(limit) {}

    Conflict run() {
        const std::size_t count = demands_.list().size();
        bool complete = true;
        std::vector<Link> links;
        for (std::size_t demand = 0; demand < count; ++demand) {
            const Demands::Meaning& meaning = demands_.meaning(demand);
            if (meaning.hopeless) return {{demands_.list()[demand]}, true};
            complete = complete && meaning.complete;
            links.insert(links.end(), meaning.links.begin(), meaning.links.end());
        }
        const std::vector<Link> circle = shortest_circle(demands_.steps(), links);
        if (complete && !circle.empty()) return {demands_of(circle), true};
        shrink();
        const bool proven = search(circle.empty() ? size_of(best_) : std::min(size_of(best_), circle.size()));
        if (!circle.empty() && circle.size() <= size_of(best_)) return {demands_of(circle), proven};
        Conflict conflict{{}, proven};
        for (std::size_t demand = 0; demand < count; ++demand)
            if (best_[demand]) conflict.demands.push_back(demands_.list()[demand]);
        return conflict;
    }

  private:
    static std::vector<Demand> demands_of(const std::vector<Link>& circle) {
        std::vector<Demand> demands;
        for (const Link& link : circle)
            demands.push_back(link.demand);
        return demands;
    }
    /// Leaves out what is not needed for the contradiction.
    void shrink() {
        for (std::size_t demand = 0; demand < best_.size(); ++demand) {
            if (!best_[demand]) continue;
            std::vector<bool> fewer = best_;
            fewer[demand] = false;
            Found found = any_order(demands_, fewer, limit_);
            if (found.possible == Possible::no) best_ = std::move(found.core);
        }
    }
    /// Whether none smaller than `best_` and `size` remains; a smaller one replaces `best_`.
    bool search(std::size_t size) {
        std::vector<Set> parts;
        std::size_t least = 2;  // some order meets any one that is not hopeless
        while (least < size) {
            HittingSet hitting(parts, best_.size());
            const std::optional<Set> set = hitting.of_size(least);
            if (hitting.met_limit()) return false;
            if (!set) {
                ++least;
                continue;
            }
            std::vector<bool> tried(best_.size(), false);
            for (const std::size_t demand : *set)
                tried[demand] = true;
            const Found found = any_order(demands_, tried, limit_);
            if (found.possible == Possible::open) return false;
            if (found.possible == Possible::no) {
                best_ = std::move(tried);
                return true;
            }
            parts.push_back(left_out(found.plan.order));
        }
        return true;
    }
    /// Demands that an order breaks, less those of them that another order meets beside all the first one
    /// does.
    Set left_out(const std::vector<std::size_t>& order) {
        const std::vector<bool> all(best_.size(), true);
        std::vector<bool> met = all;
        for (const Broken& broken : demands_.broken(order, all))
            met[broken.demand] = false;
        Set left;
        for (std::size_t demand = 0; demand < met.size(); ++demand) {
            if (met[demand]) continue;
            std::vector<bool> more = met;
            more[demand] = true;
            const Found found = any_order(demands_, more, limit_);
            if (found.possible != Possible::yes) {
                left.push_back(demand);
                continue;
            }
            met = all;
            for (const Broken& broken : demands_.broken(found.plan.order, all))
                met[broken.demand] = false;
        }
        return left;
    }

    const Demands& demands_;
    std::vector<bool> best_;
    std::size_t limit_;
};

}  // namespace

Conflict smallest_conflict(const Demands& demands, std::vector<bool> core, std::size_t limit) {
    return Search(demands, std::move(core), limit).run();
}

}  // namespace packproof::solve
