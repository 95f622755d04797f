// Which steps must come before which, closed under "before before"; what it leaves of a given order.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "engine/solve/sequence.hpp"

namespace packproof::solve {

/// A partial order of steps 0 to n - 1, as one row of bits a step.
class Precedence {
  public:
    explicit Precedence(std::size_t steps) : steps_(steps), words_((steps + 63) / 64) {
        bits_.resize(steps_ * words_);
    }
    [[nodiscard]] std::size_t steps() const { return steps_; }
    [[nodiscard]] bool before(std::size_t a, std::size_t b) const {
        return (bits_[a * words_ + b / 64] >> (b % 64) & 1U) != 0;
    }
    /// False, and nothing changes, if that would close a circle.
    [[nodiscard]] bool add(std::size_t before, std::size_t after);
    /// Those that come after a step, 64 a word.
    [[nodiscard]] std::span<const std::uint64_t> row(std::size_t step) const {
        return std::span(bits_).subspan(step * words_, words_);
    }
    [[nodiscard]] const std::vector<std::uint64_t>& bits() const { return bits_; }

  private:
    std::size_t steps_, words_;
    std::vector<std::uint64_t> bits_;
};

struct Plan {
    std::vector<std::size_t> order;
    std::vector<bool> kept;  ///< of each step: it follows the other kept ones as given
    std::size_t moved = 0;   ///< those not kept
};

/// An order that meets the precedences and keeps most steps; choice between several as in `Ordering::order`.
[[nodiscard]] Plan nearest_plan(const Precedence& precedence);

/// The fewest links that lead from a step to any of the targets (one at least); empty if none do. A step that
/// is its own target gives a shortest circle through it.
[[nodiscard]] std::vector<Link> shortest_chain(std::size_t steps, std::span<const Link> links,
                                               std::size_t from, const std::vector<bool>& targets);

/// The fewest links that close a circle; empty if none do.
[[nodiscard]] std::vector<Link> shortest_circle(std::size_t steps, std::span<const Link> links);

}  // namespace packproof::solve
