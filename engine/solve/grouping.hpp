// Items shared out into groups of equal size so that the groups' sums differ as little as possible; among
// sharings that are equally good, so that the sums of a second value do. Balanced multi-way number
// partitioning; exact by branch and bound as far as a limit of work allows.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace packproof::solve {

struct GroupingEffort {
    /// Items tried at a place in a group, for the first value and once more for the second; then the best
    /// found so far is given, not proven.
    std::uint64_t most_steps = 2'000'000;
    /// All first (second) values are whole multiples of this, such as the last digit of the instrument; 0 if
    /// nothing is known. Sums that cannot all be equal then differ by a step at least, which ends many
    /// searches.
    double first_step = 0.0;
    double second_step = 0.0;
};

/// Sums and spreads in the units of the values.
struct Grouping {
    /// Indices of items, ascending in each group; the groups in the order of their least index.
    std::vector<std::vector<std::size_t>> groups;
    double spread = 0.0;         ///< largest less smallest sum of the first values
    double second_spread = 0.0;  ///< the same of the second values; 0 without them
    double least_spread = 0.0;   ///< no sharing has a spread below this; the spread itself if that is proven
    bool proven = false;         ///< no sharing has a smaller spread
    bool second_proven = false;  ///< none of the same spread has a smaller second spread; true without them
    std::uint64_t steps = 0;     ///< what the search took
};

/// `second` is empty or as long as `first`. Nothing without items, with a size of nothing or one that does
/// not divide their number, with a value that is not finite or a step that is negative or not finite. The
/// same input gives the same groups on every run. Spreads closer than 1e-12 of the sum of all values count as
/// equal.
///
/// Pairs need no search for the first value: the largest with the smallest, the next largest with the next
/// smallest and so on has the least spread. (Let x be the largest, y the smallest, paired with z and w in
/// some best sharing. x + y lies between w + y and x + z, and so does w + z; so x with y and w with z is as
/// good, and what remains is the same question.) Others may be as good, and better in the second value.
///
/// What is not proven is still such that no exchange of two items between two groups lessens the spread, or
/// keeps it and lessens the second.
[[nodiscard]] std::optional<Grouping> share_out(std::span<const double> first, std::span<const double> second,
                                                std::size_t size, const GroupingEffort& effort = {});

}  // namespace packproof::solve
