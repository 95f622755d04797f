// The shift and turn of one plane pattern of points against another at which the greatest miss is least: a
// minimax of distances in three unknowns. It is convex but for the curvature of the turn, so that a barrier
// method (S. Boyd and L. Vandenberghe, Convex Optimization, 11.3) goes straight to it and also tells which
// points press, and which way.
#pragma once

#include <span>
#include <vector>

namespace packproof::solve {

/// The pattern turns by no more than this, rad: patterns that would line up only after a quarter turn do not.
inline constexpr double most_turn = 0.2;

/// A point that one of the second pattern is to meet.
struct Target {
    double x = 0.0, y = 0.0;                ///< m
    double second_x = 0.0, second_y = 0.0;  ///< m, the point of the second pattern in its own coordinates
    double slot_x = 0.0, slot_y = 0.0;      ///< m, not negative: distances along x and y that cost nothing
    double play = 0.0;                      ///< m, that the distance may have before it is a miss
};

struct Pose {
    double shift_x = 0.0, shift_y = 0.0, turn = 0.0;  ///< of the second pattern: turned, then shifted
};

struct Offset {
    double x = 0.0, y = 0.0;
};

/// How hard a target presses: by how much the miss would grow if the target went by one along x or y, or if
/// its play shrank by one. All weights together are 1.
struct Press {
    double x = 0.0, y = 0.0, weight = 0.0;
};

struct Alignment {
    Pose pose;
    double miss = 0.0;         ///< m, the greatest distance less play, exact for this pose
    std::vector<Press> press;  ///< of each target
};

/// From a target to its point of the second pattern.
[[nodiscard]] Offset offset_at(const Target& target, const Pose& pose);
/// The length of an offset beyond the slot, less the play.
[[nodiscard]] double miss_at(const Target& target, const Pose& pose);

/// The best pose for targets (at least one, all finite), to 1e-10 m or 1e-10 of the distances, whichever is
/// more. The miss is not taken below `least`.
[[nodiscard]] Alignment align(std::span<const Target> targets, double least);

}  // namespace packproof::solve
