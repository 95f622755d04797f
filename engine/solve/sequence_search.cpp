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

constexpr std::size_t none = std::numeric_limits<std::size_t>::max();

/// Whether the precedences leave each link of a way by itself. If its ends are not turned round by them, as
/// they are not where an order breaks the demand, they leave both links together then.
bool agrees(const Precedence& precedence, const std::vector<Link>& way) {
    return std::none_of(way.begin(), way.end(),
                        [&](const Link& link) { return precedence.before(link.after, link.before); });
}

Precedence with(Precedence precedence, const std::vector<Link>& way) {
    for (const Link& link : way)
        static_cast<void>(precedence.add(link.before, link.after));
    return precedence;
}

/// Of what is broken that which leaves the fewest ways open, of those the first.
Broken narrowest(const Demands& demands, const Precedence& precedence, const std::vector<Broken>& broken) {
    const Broken* narrowest = nullptr;
    std::size_t fewest = 0;
    for (const Broken& one : broken) {
        const std::size_t left = demands.ways_left(one, precedence).value_or(0);
        if (narrowest != nullptr && left >= fewest) continue;
        fewest = left;
        narrowest = &one;
    }
    return *narrowest;
}

/// Takes ways that are the only ones left, until there are none; gives what is left without a way, if
/// anything. `taking` is told of each before its links are added.
template <class Taking>
std::optional<Broken> take_only_ways(const Demands& demands, const std::vector<bool>& in_force,
                                     Precedence& precedence, const Taking& taking) {
    for (bool changed = true; changed;) {
        changed = false;
        for (const Broken& one : demands.breakable()) {
            if (!in_force[one.demand]) continue;
            const std::optional<std::size_t> left = demands.ways_left(one, precedence);
            if (!left || *left > 1) continue;
            if (*left == 0) return one;
            for (const std::vector<Link>& way : demands.ways(one)) {
                if (!agrees(precedence, way)) continue;
                taking(one, way);
                for (const Link& link : way)
                    static_cast<void>(precedence.add(link.before, link.after));
                break;
            }
            changed = true;
        }
    }
    return std::nullopt;
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
        if (!refusal) refusal = go(std::move(precedence), 0);
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
    struct Taken {
        Link link;
        std::size_t demand = 0;
        std::size_t level = none;  ///< the choice that it was taken in, if any
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
    /// What keeps a link from being taken: the links that lead from its end to its beginning, of the first
    /// so many taken. False if none do.
    bool blame_circle(Refusal& refusal, const Link& link, std::size_t count) const {
        std::vector<std::vector<std::size_t>> out(demands_.steps());
        for (std::size_t n = 0; n < count; ++n)
            out[taken_[n].link.before].push_back(n);
        std::vector<std::size_t> by(demands_.steps(), none);
        std::vector<std::size_t> met = {link.after};
        for (std::size_t n = 0; n < met.size() && by[link.before] == none; ++n) {
            for (const std::size_t way : out[met[n]]) {
                const std::size_t step = taken_[way].link.after;
                if (step == link.after || by[step] != none) continue;
                by[step] = way;
                met.push_back(step);
            }
        }
        if (by[link.before] == none) return false;
        for (std::size_t step = link.before; step != link.after; step = taken_[by[step]].link.before) {
            const Taken& taken = taken_[by[step]];
            refusal.demands[taken.demand] = true;
            if (taken.level == none) continue;
            if (refusal.levels.size() <= taken.level) refusal.levels.resize(taken.level + 1, false);
            refusal.levels[taken.level] = true;
        }
        return true;
    }
    /// Why no other way is open than those that are, after the first so many links taken.
    Refusal why_closed(const Broken& broken, std::size_t count) const {
        Refusal refusal = refusal_of(broken.demand);
        for (const std::vector<Link>& way : demands_.ways(broken))
            static_cast<void>(std::any_of(way.begin(), way.end(), [&](const Link& link) {
                return blame_circle(refusal, link, count);
            }));
        return refusal;
    }
    /// Takes what every order must follow.
    std::optional<Refusal> begin(Precedence& precedence) {
        for (std::size_t demand = 0; demand < in_force_.size(); ++demand) {
            if (!in_force_[demand]) continue;
            if (demands_.meaning(demand).hopeless) return refusal_of(demand);
            for (const Link& link : demands_.meaning(demand).links) {
                if (!precedence.add(link.before, link.after)) {
                    Refusal refusal = refusal_of(demand);
                    blame_circle(refusal, link, taken_.size());
                    return refusal;
                }
                taken_.push_back({link, demand, none});
            }
        }
        return std::nullopt;
    }
    /// Whether a refusal rests on the choice at a level; if so, no longer.
    static bool lift(Refusal& refusal, std::size_t level) {
        if (refusal.levels.size() <= level || !refusal.levels[level]) return false;
        refusal.levels[level] = false;
        return true;
    }
    /// Nothing if an order was found or the limit met.
    std::optional<Refusal> go(Precedence precedence, std::size_t level) {
        if (limit_ == 0) return std::nullopt;
        --limit_;
        struct Only {
            Broken broken;
            std::size_t before;  // links taken before it
        };
        std::vector<Only> only;  // at levels from this one up
        const std::optional<Broken> hopeless =
            take_only_ways(demands_, in_force_, precedence, [&](const Broken& one, const auto& way) {
                for (const Link& link : way)
                    taken_.push_back({link, one.demand, level + only.size()});
                only.push_back({one, taken_.size() - way.size()});
            });
        std::optional<Refusal> refusal;
        if (hopeless) {
            refusal = why_closed(*hopeless, taken_.size());
        } else {
            refusal = branch(precedence, level + only.size());
            if (!refusal) return std::nullopt;
        }
        for (std::size_t n = only.size(); n-- > 0;) {
            if (!lift(*refusal, level + n)) continue;
            const Refusal why = why_closed(only[n].broken, only[n].before);
            unite(refusal->demands, why.demands);
            unite(refusal->levels, why.levels);
        }
        return refusal;
    }
    std::optional<Refusal> branch(const Precedence& precedence, std::size_t level) {
        Plan plan = nearest_plan(precedence);
        const std::vector<Broken> broken = demands_.broken(plan.order, in_force_);
        if (broken.empty()) {
            plan_ = std::move(plan);
            done_ = true;
            return std::nullopt;
        }
        const Broken chosen = narrowest(demands_, precedence, broken);
        const std::size_t before = taken_.size();
        Refusal all = why_closed(chosen, before);
        struct Branch {
            std::size_t moved;
            std::vector<Link> way;
        };
        std::vector<Branch> branches;
        for (std::vector<Link>& way : demands_.ways(chosen)) {
            if (!agrees(precedence, way)) continue;
            const std::size_t moved = nearest_plan(with(precedence, way)).moved;
            branches.push_back({moved, std::move(way)});
        }
        std::stable_sort(branches.begin(), branches.end(),
                         [](const Branch& a, const Branch& b) { return a.moved < b.moved; });
        for (const Branch& next : branches) {
            for (const Link& link : next.way)
                taken_.push_back({link, chosen.demand, level});
            std::optional<Refusal> refusal = go(with(precedence, next.way), level + 1);
            if (!refusal) return std::nullopt;
            taken_.resize(before);
            if (!lift(*refusal, level)) return refusal;
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
    std::set<std::vector<std::uint64_t>> known;
    std::size_t made = 0;
    const auto push = [&](Precedence precedence, std::vector<Link> chosen, const std::vector<Link>& added) {
        const auto take = [&](const Broken&, const std::vector<Link>& way) {
            chosen.insert(chosen.end(), way.begin(), way.end());
        };
        take({}, added);
        if (take_only_ways(demands, all, precedence, take)) return;
        if (!known.insert(precedence.bits()).second) return;
        Plan plan = nearest_plan(precedence);
        open.push({std::move(precedence), std::move(chosen), std::move(plan), made++});
    };
    push(std::move(forced), {}, {});
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
        const Broken chosen = narrowest(demands, node.precedence, broken);
        for (const std::vector<Link>& way : demands.ways(chosen)) {
            if (!agrees(node.precedence, way)) continue;
            if (made >= limit) return found;
            push(with(node.precedence, way), node.chosen, way);
        }
    }
    found.possible = Possible::no;
    return found;
}

}  // namespace packproof::solve
