// Which mistake explains the readings of a ladder? Sources stand in one chain; a lead sits at each end and
// between every two of them, and each lead is read against lead 0. In the right order the readings rise from
// lead to lead by what one source may have. One mistake after the other is supposed, the simplest first, and
// kept if some sources within their limits would give the readings within their tolerance.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include "engine/units/interval.hpp"

namespace packproof::solve {

/// Leads count from 0; source k, from 1, stands between the places of leads k - 1 and k.
enum class Mistake : std::uint8_t {
    none,        ///< nothing contradicts the right order
    exchanged,   ///< two leads sit each at the other's place
    reversed,    ///< four or more neighbours sit in reverse order: `leads` is the first and the last of them
    signs,       ///< the meter's own leads are exchanged: every reading has the wrong sign
    open,        ///< one lead reads nothing, or nothing that fits, while the rest fits
    left_out,    ///< from this lead on each sits one place too far, and the last has none left
    doubled,     ///< from this lead on each sits one place too low: it shares that of the lead before it
    turned,      ///< one source stands the other way round
    number,      ///< the chain has one source less, or one more, than leads call for; see `count` and `leads`
    reordered,   ///< three leads or more in another order, which the readings tell if all were read
    outside,     ///< one source outside its limits, in the right order
    joint,       ///< steps that sag far more under load than the others
    unexplained  ///< no single one of these gives the readings
};

struct Explanation {
    Mistake mistake = Mistake::none;
    /// Ascending. Of `number` those before which a source may be missing or one too many.
    std::vector<std::size_t> leads;
    std::vector<std::size_t> sources;
    std::size_t count = 0;  ///< of `number`: how many sources there seem to be
    units::Interval value;  ///< of `outside`: what that source has, unit of the readings
    friend bool operator==(const Explanation&, const Explanation&) = default;
};

/// In one unit.
struct Ladder {
    /// Of each lead against lead 0, with their tolerance; none where nobody read. That of lead 0 is nothing
    /// by itself, read or not.
    std::vector<std::optional<units::Interval>> readings;
    units::Interval source;  ///< the lowest and the highest that one source may have; above 0
    /// The same leads again while a current flows; empty if nobody read.
    std::vector<std::optional<units::Interval>> loaded;
};

struct LadderFinding {
    Explanation explanation;
    /// Of each lead the place, by the number of the lead that belongs there, at whose potential it is; none
    /// without a reading, or if it is nearer than half a source to none. If nothing explains the readings
    /// they are laid beside the longest run of leads that are right among themselves. One more source makes
    /// one more place.
    std::vector<std::optional<std::size_t>> sits_at;
    /// What else explains the readings by one mistake, the likelier first.
    std::vector<Explanation> other;
};

/// Above so many leads there is no answer.
inline constexpr std::size_t most_leads = 400;

/// Nothing with fewer than two leads or more than `most_leads`, limits that are not finite or not above 0, a
/// reading that is not finite or has its ends the wrong way round, or `loaded` of another length.
///
/// Where readings are absent, or tolerances as wide as a source, a mistake may hide: `none` says that the
/// readings can be right, not that they must be. These give the same readings and cannot be told apart, so
/// that the first is the explanation and `other` names the rest:
/// - all leads reversed; the meter's leads exchanged (with one source also: the two leads exchanged, the
/// source
///   turned round);
/// - two leads on one place; one source less than leads, one lead beside another; a source without voltage;
/// if
///   it is the last lead also that lead open, with a reading by chance;
/// - one source more; a source with twice the voltage;
/// - the last lead open and near nothing; one source less and no place for that lead;
/// - the last source turned round, or outside its limits; the last lead open with a reading by chance.
/// - each lead one place high, and the last on the first place; the last lead open with a reading by chance.
/// A lead that reads near nothing (less than half a source) may also sit where lead 0 does.
///
/// A joint is looked for only if all leads are right, and then by `sagging_steps` (sagging.hpp).
[[nodiscard]] std::optional<LadderFinding> examine(const Ladder& ladder);

}  // namespace packproof::solve
