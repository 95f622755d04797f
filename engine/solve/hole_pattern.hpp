// Do the holes of two parts line up, so that every fastener goes in? The second part may shift and turn as it
// is put on; what counts is the worst fastener at the best such pose. Geometry of rigid plane parts; with
// equal play and round position zones it comes down to the formulas of ASME Y14.5, appendix B.
#pragma once

#include <cstddef>
#include <optional>
#include <span>

#include "engine/units/interval.hpp"

namespace packproof::solve {

/// One fastener: a hole in the first part and its partner in the second. All in m.
struct HolePair {
    units::Interval x, y;              ///< of the hole in the first part
    units::Interval other_x, other_y;  ///< of that in the second part, in its own coordinates
    /// Radial: how far the two centres may be apart and the fastener still goes in: (H1 + H2)/2 - F with
    /// clearance in both, (H - F)/2 with threads or studs in one. May be negative.
    units::Interval play;
    /// Radius of the position zones of both holes together, beyond the tolerances of x and y.
    double zone = 0.0;
    /// Half the length that a slot in the first part adds along x or y.
    double slot_x = 0.0, slot_y = 0.0;
};

struct PatternFit {
    /// m, by how much the worst fastener misses at the best shift and turn (negative: play is left): the low
    /// end if every tolerance falls well, the high end if they all fall as badly as they can.
    units::Interval miss;
    double nominal = 0.0;  ///< m, at the middles of positions and play
    /// At the middles. Of several that miss by as much, the one without which the rest line up best, then
    /// the first.
    std::size_t worst = 0;
    double shift_x = 0.0, shift_y = 0.0, turn = 0.0;  ///< m, rad: of the second part, best at the middles
    double offset_x = 0.0, offset_y = 0.0;  ///< m, of the worst hole's centres there: second less first
};

/// How well the holes line up; nothing without holes or with a number that is not finite or a tolerance, zone
/// or slot below nothing. Accurate to 1e-9 m; a miss smaller than that is given as 0.
///
/// The second part turns by at most 0.2 rad: patterns that would line up after a quarter turn do not. Its
/// tolerance boxes turn with it; they are taken as their hulls along the first part's axes, at the turn that
/// is best at the middles (what tolerances turn it further changes them by the second order only).
///
/// The worst of tolerances is the greatest of least misses, each error met by its own shift and turn: one
/// hole never misses by its position, and a pitch error is shared between two holes. It is found by branching
/// on the corners of the boxes; if that takes too long, the miss is given too high, never too low.
[[nodiscard]] std::optional<PatternFit> fit(std::span<const HolePair> holes);

/// m, by how much the diameter of all clearance holes of one part must grow so that no tolerance makes a
/// miss.
[[nodiscard]] double wider_holes(const PatternFit& fit);

/// Changes of one hole of the first part, each by itself, m; infinite if that way does not help.
struct Mend {
    double diameter = 0.0;  ///< growth of its diameter
    double slot_x = 0.0;    ///< full length added along x
    double slot_y = 0.0;    ///< full length added along y
};

/// What clears the miss at the worst of tolerances if only the worst hole is changed; nothing if the others
/// do not line up without it either, or if there is no fit.
[[nodiscard]] std::optional<Mend> mend_worst(std::span<const HolePair> holes);

}  // namespace packproof::solve
