// Steps of a ladder that give way under load far more than the others: a poor joint lies in them.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "engine/units/interval.hpp"

namespace packproof::solve {

/// Readings of leads 0, 1, 2 ... against lead 0 with their tolerance, at rest and while a current flows, in
/// one unit and of one length; none where nobody read, lead 0 counts as nothing. Step k lies between leads k
/// - 1 and k. Given, ascending, are steps whose change is more than three times the median of the others'
/// (common practice) in the direction of that median, and beyond it by more than the tolerance of the four
/// readings. Of fewer than two steps whose ends were read twice, none.
[[nodiscard]] std::vector<std::size_t> sagging_steps(
    const std::vector<std::optional<units::Interval>>& at_rest,
    const std::vector<std::optional<units::Interval>>& loaded);

}  // namespace packproof::solve
