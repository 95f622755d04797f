// Cubic Hermite polynomials on a line of nodes: two unknowns a node, value and slope; and the integrals of
// products of them and their derivatives that plates are put together from.
#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <vector>

namespace packproof::solve {

/// The four polynomials of one element, in the order value and slope at its left end, value and slope at its
/// right end.
using Cubics = std::array<double, 4>;

/// Values of the derivative of an order (0 to 2) at a share (0 to 1) of an element of a length (m).
[[nodiscard]] Cubics hermite(double share, double length, int order);

/// Over each element the integral of (derivative of order p) · (derivative of order q), 4 × 4, row by row.
using ElementMatrix = std::array<double, 16>;
[[nodiscard]] ElementMatrix integral(double length, int p, int q);

/// Lines between two ends, through every place that is asked for (two closer than a fiftieth of `step` count
/// as one), no further apart than `step`.
[[nodiscard]] std::vector<double> lines(double from, double to, std::span<const double> through, double step);

/// The element that holds a place (the last one that begins at or before it), and the share of it.
struct InElement {
    std::size_t element = 0;
    double share = 0.0;
};
[[nodiscard]] InElement locate(const std::vector<double>& nodes, double place);

}  // namespace packproof::solve
