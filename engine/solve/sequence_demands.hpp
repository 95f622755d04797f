// The demands of a sequence of steps as one list, what each comes down to, and which of them an order breaks.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "engine/solve/precedence.hpp"
#include "engine/solve/sequence.hpp"

namespace packproof::solve {

/// A demand that an order breaks, or may break.
struct Broken {
    std::size_t demand = 0;            ///< index in the list
    std::optional<std::size_t> since;  ///< the step that left the barrier so; nothing: so from the start
};

class Demands {
  public:
    explicit Demands(const Sequence& sequence);

    [[nodiscard]] std::size_t steps() const { return acts_.size(); }
    [[nodiscard]] const std::vector<Demand>& list() const { return list_; }

    /// Those of the demands in force that the order breaks, in its order.
    [[nodiscard]] std::vector<Broken> broken(std::span<const std::size_t> order,
                                             const std::vector<bool>& in_force) const;

    /// What one demand comes down to by itself.
    struct Meaning {
        bool hopeless = false;    ///< no order meets it
        bool complete = false;    ///< the links say all that it demands
        std::vector<Link> links;  ///< hold in every order that meets it
    };
    [[nodiscard]] const Meaning& meaning(std::size_t demand) const { return meanings_[demand]; }

    /// What orders may break although they follow the links of all meanings; not all of it if there is much.
    [[nodiscard]] const std::vector<Broken>& breakable() const { return breakable_; }

    /// Ways to mend what an order breaks: every order that meets the demand has all links of one of them.
    [[nodiscard]] std::vector<std::vector<Link>> ways(const Broken& broken) const;

    /// How many of the ways the precedences leave, each link by itself; nothing where they hold one already.
    [[nodiscard]] std::optional<std::size_t> ways_left(const Broken& broken,
                                                       const Precedence& precedence) const;

  private:
    /// What a step does with a barrier.
    struct Act {
        std::size_t barrier = 0, demand = 0;
        bool wants_on = false;
        bool sets = false, sets_on = false;
    };
    struct Setter {
        std::size_t step = 0;
        bool on = false;
    };
    [[nodiscard]] bool wants_on(std::size_t demand) const {
        return list_[demand].kind == Demand::Kind::removed_while_off;
    }
    [[nodiscard]] Link link(std::size_t before, std::size_t after, std::size_t demand) const;
    [[nodiscard]] Meaning meaning_of(std::size_t demand) const;
    void list_breakable();

    std::vector<Demand> list_;
    std::vector<Meaning> meanings_;
    std::vector<Broken> breakable_;
    std::vector<std::vector<Act>> acts_;            // of each step
    std::vector<std::vector<Setter>> setters_;      // of each barrier, by step
    std::vector<std::vector<std::size_t>> afters_;  // of each step, those of its demands
    std::vector<bool> on_at_start_;
};

}  // namespace packproof::solve
