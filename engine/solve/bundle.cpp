#include "engine/solve/bundle.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>

#include "engine/solve/disc_packing.hpp"

namespace packproof::solve {

namespace {

constexpr double factor_of_practice = 1.2;  // bundle over root of the sum of squares, common practice

/// Radii, largest first.
std::vector<double> radii_of(std::span<const double> diameters) {
    std::vector<double> radii;
    for (const double diameter : diameters) {
        if (diameter > 0.0 && std::isfinite(diameter)) radii.push_back(0.5 * diameter);
    }
    std::sort(radii.begin(), radii.end(), std::greater<>());
    return radii;
}

/// Radius of the circle around three, largest first. The third adds nothing if it fits into the gap beside
/// the first two in line; else all four touch, and Descartes' theorem gives the outer one.
double around_three(double a, double b, double c) {
    const double of_a = 1.0 / a;
    const double of_b = 1.0 / b;
    const double of_c = 1.0 / c;
    if (of_c >= of_a + of_b - 1.0 / (a + b)) return a + b;
    return 1.0 / (2.0 * std::sqrt(of_a * of_b + of_b * of_c + of_c * of_a) - of_a - of_b - of_c);
}

/// The middle of a circle of radius `c` that leaves distances `from_a` and `from_b` to two points on the x
/// axis.
Disc beside(double a_x, double from_a, double b_x, double from_b, double c) {
    const double apart = b_x - a_x;
    const double along = (from_a * from_a - from_b * from_b + apart * apart) / (2.0 * apart);
    return {a_x + along, std::sqrt(std::max(0.0, from_a * from_a - along * along)), c};
}

std::vector<Disc> place_few(const std::vector<double>& radii) {
    if (radii.size() < 2)
        return radii.empty() ? std::vector<Disc>{} : std::vector<Disc>{{0.0, 0.0, radii[0]}};
    const double a = radii[0];
    const double b = radii[1];
    if (radii.size() == 2) return {{-b, 0.0, a}, {a, 0.0, b}};
    const double c = radii[2];
    const double outer = around_three(a, b, c);
    if (outer == a + b) {  // in the gap against the circle: it touches the first and the outer one
        const Disc third = beside(-b, a + c, 0.0, outer - c, c);
        return {{-b, 0.0, a}, {a, 0.0, b}, third};
    }
    // a and b touch on the x axis; c and the middle of the outer circle on either side of it
    const Disc third = beside(0.0, a + c, a + b, b + c, c);
    Disc middle = beside(0.0, outer - a, a + b, outer - b, 0.0);
    const double above = std::hypot(third.x - middle.x, third.y - middle.y);
    const double below = std::hypot(third.x - middle.x, third.y + middle.y);
    if (std::fabs(below - (outer - c)) < std::fabs(above - (outer - c))) middle.y = -middle.y;
    return {{-middle.x, -middle.y, a},
            {a + b - middle.x, -middle.y, b},
            {third.x - middle.x, third.y - middle.y, c}};
}

/// For many: what practice takes, but no less than the largest among them need.
double estimate(const std::vector<double>& radii) {
    double squares = 0.0;
    for (const double radius : radii)
        squares += radius * radius;
    const std::span<const double> largest = std::span(radii).first(most_searched);
    return 2.0 * std::max(factor_of_practice * std::sqrt(squares), pack_discs(largest, false).radius);
}

}  // namespace

std::vector<Disc> place_in_bundle(std::span<const double> diameters) {
    const std::vector<double> radii = radii_of(diameters);
    if (radii.size() <= 3) return place_few(radii);
    const Places places = pack_discs(radii, radii.size() <= most_searched);
    std::vector<Disc> discs;
    for (std::size_t n = 0; n < radii.size(); ++n)
        discs.push_back({places.x[n], places.y[n], radii[n]});
    return discs;
}

double bundle_diameter(std::span<const double> diameters) {
    if (!std::all_of(diameters.begin(), diameters.end(), [](double d) { return std::isfinite(d); }))
        return std::numeric_limits<double>::infinity();
    const std::vector<double> radii = radii_of(diameters);
    if (radii.empty()) return 0.0;
    if (radii.size() == 1) return 2.0 * radii[0];
    if (radii.size() == 2) return 2.0 * (radii[0] + radii[1]);
    if (radii.size() == 3) return 2.0 * around_three(radii[0], radii[1], radii[2]);
    if (radii.size() > most_placed) return estimate(radii);
    return 2.0 * pack_discs(radii, radii.size() <= most_searched).radius;
}

}  // namespace packproof::solve
