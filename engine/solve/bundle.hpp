// The diameter of a bundle: the smallest circle found that holds circles of given diameters side by side.
// Exact for up to three (R. Descartes' theorem on four circles that touch), a search with a fixed number of
// steps for more; the same circles in any order give the same answer on every run.
#pragma once

#include <span>
#include <vector>

namespace packproof::solve {

struct Disc {
    double x = 0.0, y = 0.0, radius = 0.0;  ///< m, from the middle of the bundle
};

/// Above so many the search makes a few attempts only.
inline constexpr std::size_t most_searched = 60;
/// Above so many there is no search.
inline constexpr std::size_t most_placed = 150;

/// Circles (at most `most_placed`) placed without overlap in a circle around the middle, the largest first.
/// Those whose diameter is not above nothing, or not finite, are left out.
[[nodiscard]] std::vector<Disc> place_in_bundle(std::span<const double> diameters);

/// m; 0 without circles, infinite if a diameter is not finite. What is found is a real packing, so that it is
/// never less than the least possible; for equal circles it is at most 0.5 % more up to 32 and 1 % up to 40.
/// Up to `most_searched` circles are packed by search, up to `most_placed` from a few regular starts only.
/// Beyond that it is no packing but an estimate: 1.2 times the root of the sum of squares (common practice
/// for wires of similar size), and no less than the largest of them need.
[[nodiscard]] double bundle_diameter(std::span<const double> diameters);

}  // namespace packproof::solve
