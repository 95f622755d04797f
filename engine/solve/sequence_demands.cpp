#include "engine/solve/sequence_demands.hpp"

#include <algorithm>
#include <utility>

namespace packproof::solve {

namespace {

constexpr std::size_t most_looked_at = 20000;  // ways to mend what may break

std::vector<std::size_t> without_twins(std::vector<std::size_t> numbers) {
    std::sort(numbers.begin(), numbers.end());
    numbers.erase(std::unique(numbers.begin(), numbers.end()), numbers.end());
    return numbers;
}

bool holds(const std::vector<std::size_t>& numbers, std::size_t number) {
    return std::find(numbers.begin(), numbers.end(), number) != numbers.end();
}

}  // namespace

Demands::Demands(const Sequence& sequence)
    : acts_(sequence.steps.size()),
      setters_(sequence.barriers),
      afters_(sequence.steps.size()),
      on_at_start_(sequence.barriers, false) {
    for (const std::size_t barrier : sequence.on_at_start)
        on_at_start_[barrier] = true;
    for (std::size_t n = 0; n < sequence.steps.size(); ++n) {
        const Step& step = sequence.steps[n];
        for (const std::size_t other : without_twins(step.after)) {
            afters_[n].push_back(list_.size());
            list_.push_back({Demand::Kind::after, n, other, 0});
        }
        std::vector<std::size_t> barriers = step.reaches_behind;
        barriers.insert(barriers.end(), step.fits.begin(), step.fits.end());
        barriers.insert(barriers.end(), step.removes.begin(), step.removes.end());
        for (const std::size_t barrier : without_twins(std::move(barriers))) {
            const bool fits = holds(step.fits, barrier);
            const bool removes = holds(step.removes, barrier);
            const Demand::Kind kind = removes                               ? Demand::Kind::removed_while_off
                                      : holds(step.reaches_behind, barrier) ? Demand::Kind::blocked
                                                                            : Demand::Kind::fitted_twice;
            acts_[n].push_back({barrier, list_.size(), removes, fits || removes, fits});
            if (fits || removes) setters_[barrier].push_back({n, fits});
            list_.push_back({kind, n, std::nullopt, barrier});
        }
    }
    for (std::size_t demand = 0; demand < list_.size(); ++demand) {
        meanings_.push_back(meaning_of(demand));
        const Demand& known = list_[demand];
        if (known.kind == Demand::Kind::after) continue;
        // the step that it comes down to: the only other one that brings the state it does not want
        std::vector<std::size_t> against;
        for (const Setter& setter : setters_[known.barrier])
            if (setter.step != known.step && setter.on != wants_on(demand)) against.push_back(setter.step);
        if (against.size() == 1) list_[demand].other = against[0];
    }
    list_breakable();
}

void Demands::list_breakable() {
    std::size_t ways = 0;
    for (std::size_t demand = 0; demand < list_.size(); ++demand) {
        if (meanings_[demand].hopeless || meanings_[demand].complete) continue;
        const std::vector<Setter>& setters = setters_[list_[demand].barrier];
        if (on_at_start_[list_[demand].barrier] != wants_on(demand)) {
            breakable_.push_back({demand, std::nullopt});
            ways += setters.size();
        }
        for (const Setter& setter : setters) {
            if (setter.step == list_[demand].step || setter.on == wants_on(demand)) continue;
            if (ways > most_looked_at) return;
            breakable_.push_back({demand, setter.step});
            ways += setters.size();
        }
    }
}

Link Demands::link(std::size_t before, std::size_t after, std::size_t demand) const {
    Link made{before, after, list_[demand]};
    if (made.demand.kind != Demand::Kind::after)
        made.demand.other = before == made.demand.step ? after : before;
    return made;
}

Demands::Meaning Demands::meaning_of(std::size_t demand) const {
    const Demand& of = list_[demand];
    if (of.kind == Demand::Kind::after) return {of.step == *of.other, true, {Link{*of.other, of.step, of}}};
    std::vector<std::size_t> with;     // other steps that bring the state it wants
    std::vector<std::size_t> against;  // and the state that it does not want
    for (const Setter& setter : setters_[of.barrier])
        if (setter.step != of.step) (setter.on == wants_on(demand) ? with : against).push_back(setter.step);
    const bool from_start = on_at_start_[of.barrier] == wants_on(demand);
    Meaning meaning;
    if (from_start) {
        meaning.complete = with.empty() || against.empty();
        if (with.empty())
            for (const std::size_t other : against)
                meaning.links.push_back(link(of.step, other, demand));
        return meaning;
    }
    meaning.hopeless = with.empty();
    meaning.complete = with.empty() || (with.size() == 1 && against.empty());
    if (with.size() == 1) meaning.links.push_back(link(with[0], of.step, demand));
    return meaning;
}

std::vector<Broken> Demands::broken(std::span<const std::size_t> order,
                                    const std::vector<bool>& in_force) const {
    std::vector<Broken> found;
    std::vector<bool> done(steps(), false);
    std::vector<bool> on = on_at_start_;
    std::vector<std::optional<std::size_t>> since(setters_.size());
    for (const std::size_t step : order) {
        for (const std::size_t demand : afters_[step])
            if (in_force[demand] && !done[*list_[demand].other])
                found.push_back({demand, list_[demand].other});
        for (const Act& act : acts_[step]) {
            if (in_force[act.demand] && on[act.barrier] != act.wants_on)
                found.push_back({act.demand, since[act.barrier]});
            if (!act.sets) continue;
            on[act.barrier] = act.sets_on;
            since[act.barrier] = step;
        }
        done[step] = true;
    }
    return found;
}

std::vector<std::vector<Link>> Demands::ways(const Broken& broken) const {
    const Demand& of = list_[broken.demand];
    std::vector<std::vector<Link>> ways;
    // before the step that left the barrier so, or after one between that sets it right
    if (broken.since) ways.push_back({link(of.step, *broken.since, broken.demand)});
    for (const Setter& setter : setters_[of.barrier]) {
        if (setter.step == of.step || setter.on != wants_on(broken.demand)) continue;
        ways.push_back({link(setter.step, of.step, broken.demand)});
        if (broken.since) ways.back().push_back(link(*broken.since, setter.step, broken.demand));
    }
    return ways;
}

std::optional<std::size_t> Demands::ways_left(const Broken& broken, const Precedence& precedence) const {
    const Demand& of = list_[broken.demand];
    std::size_t left = 0;
    if (broken.since) {
        if (precedence.before(of.step, *broken.since)) return std::nullopt;
        if (!precedence.before(*broken.since, of.step)) ++left;
    }
    for (const Setter& setter : setters_[of.barrier]) {
        if (setter.step == of.step || setter.on != wants_on(broken.demand)) continue;
        const bool from = !broken.since || precedence.before(*broken.since, setter.step);
        if (from && precedence.before(setter.step, of.step)) return std::nullopt;
        if (precedence.before(of.step, setter.step)) continue;
        if (!broken.since || !precedence.before(setter.step, *broken.since)) ++left;
    }
    return left;
}

}  // namespace packproof::solve
