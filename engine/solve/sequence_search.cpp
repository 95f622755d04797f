#include "engine/solve/sequence_search.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <queue>
#include <set>
#include <utility>

namespace packproof::solve {

namespace {

/// A way to mend a broken demand, and whether it agrees with the precedences.
struct Choice {
    std::size_t demand = 0;
    std::vector<std::vector<Link>> ways;
    std::vector<bool> open;
};

bool agrees(const Precedence& precedence, const std::vector<Link>& way) {
    return std::none_of(way.begin(), way.end(),
                        [&](const Link& link) { return precedence.before(link.after, link.before); });
}

/// Of the broken demands the one that leaves the fewest ways open, of those the first.
Choice narrowest(const Demands& demands, const Precedence& precedence, const std::vector<Broken>& broken) {
    Choice narrowest;
    std::ptrdiff_t fewest = std::numeric_limits<std::ptrdiff_t>::max();
    for (const Broken& one : broken) {
        Choice choice{one.demand, demands.ways(one), {}};
        for (const std::vector<Link>& way : choice.ways)
            choice.open.push_back(agrees(precedence, way));
        const std::ptrdiff_t left = std::count(choice.open.begin(), choice.open.end(), true);
        if (left >= fewest) continue;
        fewest = left;
        narrowest = std::move(choice);
        if (fewest == 0) break;
    }
    return narrowest;
}

void unite(std::vector<bool>& all, const std::vector<bool>& more) {
    if (all.size() < more.size()) all.resize(more.size(), false);
    for (std::size_t n = 0; n < more.size(); ++n)
        if (more[n]) all[n] = true;
}

/// Depth first. Each refusal names the demands and the choices above that it rests on, so that a choice on
/// which it does not rest is left at once.
class DepthFirst {
  public:
    DepthFirst(const Demands& demands, const std::vector<bool>& in_force, std::size_t& limit)
        : demands_(demands), in_force_(in_force), limit_(limit) {}

    Found run() {
        Precedence precedence(demands_.steps());
        Found found;
        std::optional<Refusal> refusal = begin(precedence);
        if (!refusal) refusal = go(precedence, 0);
        if (refusal) {
            found.possible = Possible::no;
            found.core = std::move(refusal->demands);
        } else if (done_) {
            found.possible = Possible::yes;
            found.plan = std::move(plan_);
            for (const Taken& taken : taken_)
                found.links.push_back(taken.link);
        }
        return found;
    }

  private:
    static constexpr std::size_t no_level = std::numeric_limits<std::size_t>::max();
    struct Taken {
        Link link;
        std::size_t demand = 0;
        std::size_t level = no_level;  ///< the choice that it was taken in, if any
    };
    struct Refusal {
        std::vector<bool> demands;
        std::vector<bool> levels;
    };

    Refusal refusal_of(std::size_t demand) const {
        Refusal refusal;
        refusal.demands.resize(demands_.list().size(), false);
        refusal.demands[demand] = true;
        return refusal;
    }
    /// What keeps a link from being taken: the links that lead from its end to its beginning.
    void blame_circle(Refusal& refusal, const Link& link) const {
        std::vector<std::vector<std::size_t>> out(demands_.steps());
        for (std::size_t n = 0; n < taken_.size(); ++n)
            out[taken_[n].link.before].push_back(n);
        std::vector<std::size_t> by(demands_.steps(), no_level);
        std::vector<std::size_t> met = {link.after};
        for (std::size_t n = 0; n < met.size() && by[link.before] == no_level; ++n) {
            for (const std::size_t way : out[met[n]]) {
                const std::size_t step = taken_[way].link.after;
                if (step == link.after || by[step] != no_level) continue;
                by[step] = way;
                met.push_back(step);
            }
        }
        for (std::size_t step = link.before; step != link.after; step = taken_[by[step]].link.before) {
            const Taken& taken = taken_[by[step]];
            refusal.demands[taken.demand] = true;
            if (taken.level == no_level) continue;
            if (refusal.levels.size() <= taken.level) refusal.levels.resize(taken.level + 1, false);
            refusal.levels[taken.level] = true;
        }
    }
    /// Takes what every order must follow.
    std::optional<Refusal> begin(Precedence& precedence) {
        for (std::size_t demand = 0; demand < in_force_.size(); ++demand) {
            if (!in_force_[demand]) continue;
            if (demands_.meaning(demand).hopeless) return refusal_of(demand);
            for (const Link& link : demands_.meaning(demand).links) {
                if (!precedence.add(link.before, link.after)) {
                    Refusal refusal = refusal_of(demand);
                    blame_circle(refusal, link);
                    return refusal;
                }
                taken_.push_back({link, demand, no_level});
            }
        }
        return std::nullopt;
    }
    /// Nothing if an order was found or the limit met.
    std::optional<Refusal> go(const Precedence& precedence, std::size_t level) {
        if (limit_ == 0) return std::nullopt;
        --limit_;
        Plan plan = nearest_plan(precedence);
        const std::vector<Broken> broken = demands_.broken(plan.order, in_force_);
        if (broken.empty()) {
            plan_ = std::move(plan);
            done_ = true;
            return std::nullopt;
        }
        const Choice choice = narrowest(demands_, precedence, broken);
        Refusal all = refusal_of(choice.demand);
        for (std::size_t n = 0; n < choice.ways.size(); ++n) {
            if (choice.open[n]) continue;
            for (const Link& link : choice.ways[n]) {
                if (!precedence.before(link.after, link.before)) continue;
                blame_circle(all, link);
                break;
            }
        }
        for (std::size_t n = 0; n < choice.ways.size(); ++n) {
            if (!choice.open[n]) continue;
            const std::size_t before = taken_.size();
            Precedence further = precedence;
            for (const Link& link : choice.ways[n]) {
                // both links of a way agree if each does: the order that it mends has their ends the other
                // way
                static_cast<void>(further.add(link.before, link.after));
                taken_.push_back({link, choice.demand, level});
            }
            std::optional<Refusal> refusal = go(further, level + 1);
            if (!refusal) return std::nullopt;
            taken_.resize(before);
            if (refusal->levels.size() <= level || !refusal->levels[level]) return refusal;
            refusal->levels[level] = false;
            unite(all.demands, refusal->demands);
            unite(all.levels, refusal->levels);
        }
        return all;
    }

    const Demands& demands_;
    const std::vector<bool>& in_force_;
    std::size_t& limit_;
    std::vector<Taken> taken_;
    Plan plan_;
    bool done_ = false;
};

struct Node {
    Precedence precedence;
    std::vector<Link> chosen;
    Plan plan;
    std::size_t number = 0;  ///< among all made
};

/// The fewest moves first, then the most chosen, then the first made.
struct Later {
    bool operator()(const Node& a, const Node& b) const {
        if (a.plan.moved != b.plan.moved) return a.plan.moved > b.plan.moved;
        if (a.chosen.size() != b.chosen.size()) return a.chosen.size() < b.chosen.size();
        return a.number > b.number;
    }
};

}  // namespace

Found any_order(const Demands& demands, const std::vector<bool>& in_force, std::size_t& limit) {
    return DepthFirst(demands, in_force, limit).run();
}

Found nearest_order(const Demands& demands, std::size_t limit) {
    Found found;
    const std::vector<bool> all(demands.list().size(), true);
    Precedence forced(demands.steps());
    for (std::size_t demand = 0; demand < all.size(); ++demand) {
        bool possible = !demands.meaning(demand).hopeless;
        for (const Link& link : demands.meaning(demand).links)
            possible = possible && forced.add(link.before, link.after);
        if (!possible) return {Possible::no, {}, {}, {}};
    }
    std::priority_queue<Node, std::vector<Node>, Later> open;
    std::set<std::vector<std::uint64_t>> known = {forced.bits()};
    std::size_t made = 0;
    Plan first = nearest_plan(forced);
    open.push({std::move(forced), {}, std::move(first), made++});
    while (!open.empty()) {
        Node node = open.top();
        open.pop();
        const std::vector<Broken> broken = demands.broken(node.plan.order, all);
        if (broken.empty()) {
            found.possible = Possible::yes;
            for (std::size_t demand = 0; demand < all.size(); ++demand) {
                const std::vector<Link>& links = demands.meaning(demand).links;
                found.links.insert(found.links.end(), links.begin(), links.end());
            }
            found.links.insert(found.links.end(), node.chosen.begin(), node.chosen.end());
            found.plan = std::move(node.plan);
            return found;
        }
        const Choice choice = narrowest(demands, node.precedence, broken);
        for (std::size_t n = 0; n < choice.ways.size(); ++n) {
            if (!choice.open[n]) continue;
            if (made >= limit) return found;
            Node next{node.precedence, node.chosen, {}, made};
            for (const Link& link : choice.ways[n]) {
                static_cast<void>(next.precedence.add(link.before, link.after));
                next.chosen.push_back(link);
            }
            if (!known.insert(next.precedence.bits()).second) continue;
            next.plan = nearest_plan(next.precedence);
            ++made;
            open.push(std::move(next));
        }
    }
    found.possible = Possible::no;
    return found;
}

}  // namespace packproof::solve
