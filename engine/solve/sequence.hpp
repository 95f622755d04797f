// Steps in a given order, some after others, some behind barriers that steps put on and take off: which
// demands does the order break, which order near it breaks none, and if there is none, which demands
// contradict?
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

namespace packproof::solve {

/// In one step what it removes comes off first, then it is done, then what it fits goes on.
struct Step {
    std::vector<std::size_t> after;           ///< steps that must come before it
    std::vector<std::size_t> reaches_behind;  ///< barriers that must be off while it is done
    std::vector<std::size_t> fits;            ///< barriers that it puts on: off before
    std::vector<std::size_t> removes;         ///< barriers that it takes off: on before
};

/// Steps are numbered in their given order. Twice the same entry counts once.
struct Sequence {
    std::vector<Step> steps;
    std::size_t barriers = 0;
    std::vector<std::size_t> on_at_start;  ///< barriers; the others are off
};

/// What one step demands of an order: that another comes before it, or one state of one barrier. A step has
/// at most one demand on a barrier: if it removes it, that it is on; else, if it works behind it, that it is
/// off; else, if it fits it, that it is off. Whatever is demanded, a step leaves on what it fits and off what
/// else it removes.
struct Demand {
    enum class Kind : std::uint8_t {
        after,              ///< `other` comes before `step`
        blocked,            ///< broken where `step` works behind a barrier that is on
        fitted_twice,       ///< broken where `step` fits a barrier that is on
        removed_while_off,  ///< broken where `step` removes a barrier that is off
    };
    Kind kind = Kind::after;
    std::size_t step = 0;
    /// In a fault: the step that left the barrier so; nothing if it was so from the start. In a conflict or a
    /// link: the step that it comes down to; nothing if there are several or none.
    std::optional<std::size_t> other;
    std::size_t barrier = 0;  ///< 0 for `after`
    friend bool operator==(const Demand&, const Demand&) = default;
};

/// `before` must come before `after`, for the sake of a demand of one of the two or of a third.
struct Link {
    std::size_t before = 0, after = 0;
    Demand demand;
};

struct Move {
    std::size_t step = 0;
    /// The fewest links that lead from it to a step that stays and was given earlier, or to it from one that
    /// stays and was given later, first to last.
    std::vector<Link> chain;
    Link reason;  ///< of these the first that runs against the given order
};

/// Whether some order breaks no demand; open: a search limit was met before either was found.
enum class Possible : std::uint8_t { yes, no, open };

struct Ordering {
    std::vector<Demand> faults;  ///< demands that the given order breaks, by step
    Possible possible = Possible::open;
    /// Where possible: an order that breaks no demand and moves the fewest steps; the others follow each
    /// other as given. Of the sets of that many, the least and the greatest are compared by the sum of |new
    /// place - given place| (a least sum over all orders is not searched for: NP-hard); the rest is the
    /// topological sort that takes the lowest number among those free.
    std::vector<std::size_t> order;
    std::vector<Move> moved;  ///< ascending
    /// Where not: the fewest demands that no order meets together. Around the circle where it is one.
    std::vector<Demand> conflict;
    bool proven = false;  ///< no search limit was met: none moves fewer, none is smaller
};

/// Every number of a step must be less than the number of steps, of a barrier less than `barriers`.
///
/// Topological sorting: A. B. Kahn, Comm. ACM 5 (1962). With demands that are precedences, the steps that
/// stay are a largest antichain of the pairs that must be turned round (which are a partial order): R. P.
/// Dilworth, Ann. Math. 51 (1950), by a matching after D. König. Where a barrier goes on and off, the ways to
/// mend one broken demand are branched on, best first. The smallest conflict is a shortest circle, else found
/// by implicit hitting sets.
[[nodiscard]] Ordering order_steps(const Sequence& sequence);

}  // namespace packproof::solve
