#include "engine/solve/disc_packing.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <numeric>

#include "engine/solve/descent.hpp"

namespace packproof::solve {

namespace {

/// A fixed stream of numbers (S. Vigna's SplitMix64), the same with every library.
class Numbers {
  public:
    std::uint64_t next() {
        std::uint64_t bits = (state_ += 0x9e3779b97f4a7c15ULL);
        bits = (bits ^ (bits >> 30U)) * 0xbf58476d1ce4e5b9ULL;
        bits = (bits ^ (bits >> 27U)) * 0x94d049bb133111ebULL;
        return bits ^ (bits >> 31U);
    }
    double unit() { return static_cast<double>(next() >> 11U) * 0x1p-53; }
    std::size_t below(std::size_t count) { return static_cast<std::size_t>(next() % count); }

  private:
    std::uint64_t state_ = 20;
};

/// What the costs weigh: of the circle's radius against squares of overlaps, and, towards the end, how much
/// each contact bears (method of multipliers; D. Bertsekas, Constrained Optimization, 2.2).
struct Weights {
    double radius = 1.0;
    double overlap = 1.0;
    std::vector<double> bears;  ///< of each pair, then of each disc against the circle; may be empty
};

/// A point of the search: all x, all y, the radius of the circle.
using Point = std::vector<double>;

struct Cost {
    std::span<const double> radii;
    const Weights& weights;

    /// The cost, and its slope.
    double operator()(const Point& at, Point& slope) const;
};

/// What one contact costs: half its weight times the square of overlap and bias. Returns the force.
double contact(const Weights& weights, std::size_t index, double overlap, double& cost) {
    const double bias = weights.bears.empty() ? 0.0 : weights.bears[index] / weights.overlap;
    const double depth = std::max(0.0, overlap + bias);
    cost += 0.5 * weights.overlap * depth * depth;
    return weights.overlap * depth;
}

double Cost::operator()(const Point& at, Point& slope) const {
    const std::size_t count = radii.size();
    const double* x = at.data();
    const double* y = x + count;
    double* slope_x = slope.data();
    double* slope_y = slope_x + count;
    std::fill(slope.begin(), slope.end(), 0.0);
    const double radius = at[2 * count];
    double cost = weights.radius * radius;
    double& slope_radius = slope[2 * count];
    slope_radius = weights.radius;
    const bool biased = !weights.bears.empty();
    std::size_t index = 0;
    for (std::size_t i = 0; i < count; ++i) {
        for (std::size_t j = i + 1; j < count; ++j, ++index) {
            const double over_x = x[i] - x[j];
            const double over_y = y[i] - y[j];
            const double square = over_x * over_x + over_y * over_y;
            const double reach = radii[i] + radii[j];
            const double far = biased ? reach + weights.bears[index] / weights.overlap : reach;
            if (square >= far * far) continue;
            const double distance = std::sqrt(square);
            const double force = contact(weights, index, reach - distance, cost);
            const double share = distance > 1e-12 ? force / distance : 0.0;
            slope_x[i] -= share * over_x;
            slope_y[i] -= share * over_y;
            slope_x[j] += share * over_x;
            slope_y[j] += share * over_y;
        }
    }
    for (std::size_t i = 0; i < count; ++i, ++index) {
        const double distance = std::sqrt(x[i] * x[i] + y[i] * y[i]);
        const double force = contact(weights, index, distance + radii[i] - radius, cost);
        if (force == 0.0) continue;
        const double share = distance > 1e-12 ? force / distance : 0.0;
        slope_x[i] += share * x[i];
        slope_y[i] += share * y[i];
        slope_radius -= force;
    }
    return cost;
}

/// Spreads the middles until nothing overlaps, and draws the circle around all.
Places repaired(std::span<const double> radii, const Point& at) {
    const std::size_t count = radii.size();
    double spread = 0.0;
    for (std::size_t i = 0; i < count; ++i) {
        for (std::size_t j = i + 1; j < count; ++j) {
            const double distance = std::hypot(at[i] - at[j], at[count + i] - at[count + j]);
            spread = std::max(spread, (radii[i] + radii[j]) / distance);
        }
    }
    Places places;
    // Closer than touching is no use; much farther apart would only be so because nothing presses.
    spread = std::max(spread, 0.5) * (1.0 + 1e-14);
    if (!std::isfinite(spread)) places.radius = spread;  // two in one place
    for (std::size_t i = 0; i < count; ++i) {
        places.x.push_back(spread * at[i]);
        places.y.push_back(spread * at[count + i]);
        places.radius = std::max(places.radius, std::hypot(places.x[i], places.y[i]) + radii[i]);
    }
    return places;
}

class Search {
  public:
    explicit Search(std::span<const double> radii)
        : radii_(radii), count_(radii.size()), descent_(2 * radii.size() + 1) {}

    Places run(bool thorough);

  private:
    /// Costs of one evaluation, in pairs.
    [[nodiscard]] double price() const {
        return 0.5 * static_cast<double>(count_ * count_) + 20.0 * static_cast<double>(count_);
    }
    double settle(Point& at);
    void polish(Point& at);
    void consider(const Point& at);
    [[nodiscard]] Point lattice(double off_x, double off_y, bool largest_inside) const;
    Point anywhere();
    void move_some(Point& at);

    std::span<const double> radii_;
    std::size_t count_;
    Descent descent_;
    Numbers numbers_;
    Places best_;
    double spent_ = 0.0;
};

/// Presses softly, then harder; gives the radius that the repaired places need.
double Search::settle(Point& at) {
    for (const double softness : {0.05, 2e-3}) {
        const Weights weights{softness, 1.0, {}};
        spent_ += price() * descent_.run(Cost{radii_, weights}, at, 80, 0.02 * softness);
    }
    return repaired(radii_, at).radius;
}

void Search::consider(const Point& at) {
    Places places = repaired(radii_, at);
    if (best_.x.empty() || places.radius < best_.radius) best_ = std::move(places);
}

/// To contacts without overlap: what each bears is worked out by turns with the places.
void Search::polish(Point& at) {
    Weights weights{1.0, 200.0, std::vector<double>(count_ * (count_ - 1) / 2 + count_, 0.0)};
    for (int round = 0; round < 12; ++round) {
        descent_.run(Cost{radii_, weights}, at, 200, 1e-9);
        std::size_t index = 0;
        double most = 0.0;
        auto bear = [&](double overlap) {
            double& bears = weights.bears[index++];
            const double now = std::max(0.0, bears + weights.overlap * overlap);
            if (now > 0.0) most = std::max(most, std::fabs(overlap));
            bears = now;
        };
        for (std::size_t i = 0; i < count_; ++i) {
            for (std::size_t j = i + 1; j < count_; ++j)
                bear(radii_[i] + radii_[j] - std::hypot(at[i] - at[j], at[count_ + i] - at[count_ + j]));
        }
        for (std::size_t i = 0; i < count_; ++i)
            bear(std::hypot(at[i], at[count_ + i]) + radii_[i] - at[2 * count_]);
        consider(at);
        if (most < 1e-8) break;
    }
}

/// On the sites of a triangular lattice that are nearest to a point of its cell.
Point Search::lattice(double off_x, double off_y, bool largest_inside) const {
    const double pitch =
        2.0 * std::accumulate(radii_.begin(), radii_.end(), 0.0) / static_cast<double>(count_);
    struct Site {
        double x, y, square;
    };
    std::vector<Site> sites;
    const int reach = static_cast<int>(std::sqrt(static_cast<double>(count_))) + 2;
    for (int row = -reach; row <= reach; ++row) {
        for (int column = -2 * reach; column <= 2 * reach; ++column) {
            const double x = pitch * (column + 0.5 * row - off_x);
            const double y = pitch * (std::sqrt(0.75) * row - off_y);
            sites.push_back({x, y, x * x + y * y});
        }
    }
    std::stable_sort(sites.begin(), sites.end(), [pitch](const Site& a, const Site& b) {
        return a.square < b.square - 1e-9 * pitch * pitch;
    });
    Point at(2 * count_ + 1);
    for (std::size_t i = 0; i < count_; ++i) {
        const std::size_t disc = largest_inside ? i : count_ - 1 - i;
        at[disc] = sites[i].x;
        at[count_ + disc] = sites[i].y;
    }
    at[2 * count_] = 1.1;
    return at;
}

Point Search::anywhere() {
    Point at(2 * count_ + 1);
    for (std::size_t i = 0; i < count_; ++i) {
        const double out = 1.1 * std::sqrt(numbers_.unit());
        const double angle = 2.0 * std::numbers::pi * numbers_.unit();
        at[i] = out * std::cos(angle);
        at[count_ + i] = out * std::sin(angle);
    }
    at[2 * count_] = 1.1;
    return at;
}

/// Two discs of different size change places, or one or two go elsewhere.
void Search::move_some(Point& at) {
    const double radius = at[2 * count_];
    const bool sizes = radii_.front() > 1.02 * radii_.back();
    if (sizes && numbers_.below(2) == 0) {
        const std::size_t a = numbers_.below(count_);
        std::size_t b = numbers_.below(count_);
        for (int attempt = 0; attempt < 8 && std::fabs(radii_[a] - radii_[b]) < 0.02 * radii_[a]; ++attempt)
            b = numbers_.below(count_);
        std::swap(at[a], at[b]);
        std::swap(at[count_ + a], at[count_ + b]);
        return;
    }
    for (std::size_t moved = 1 + numbers_.below(2); moved > 0; --moved) {
        const std::size_t disc = numbers_.below(count_);
        const double out = radius * std::sqrt(numbers_.unit());
        const double angle = 2.0 * std::numbers::pi * numbers_.unit();
        at[disc] = out * std::cos(angle);
        at[count_ + disc] = out * std::sin(angle);
    }
}

Places Search::run(bool thorough) {
    constexpr std::size_t patience = 40;  // moves without gain before it begins elsewhere
    const double most_pairs = std::min(3e6, 1.2e5 * static_cast<double>(count_));  // what it may cost
    const std::size_t most_kept = !thorough || count_ > 40 ? 1 : 3;
    struct Found {
        double radius = 0.0;
        Point at;
    };
    std::vector<Found> found;
    auto keep = [&](double radius, const Point& at) {
        found.push_back({radius, at});
        std::stable_sort(found.begin(), found.end(),
                         [](const Found& a, const Found& b) { return a.radius < b.radius; });
        if (found.size() > most_kept) found.pop_back();
    };
    // A site, the middle of an edge, that of a triangle, and one besides.
    for (const auto& [x, y] : {std::pair{0.0, 0.0}, {0.5, 0.0}, {0.5, std::sqrt(1.0 / 12.0)}, {0.25, 0.1}}) {
        for (const bool largest_inside : {true, false}) {
            if (!thorough && !largest_inside) continue;
            Point at = lattice(x, y, largest_inside);
            const double radius = settle(at);
            keep(radius, at);
        }
    }
    while (thorough && spent_ < most_pairs) {
        Point at = anywhere();
        double radius = settle(at);
        for (std::size_t idle = 0; idle < patience && spent_ < most_pairs; ++idle) {
            Point moved = at;
            move_some(moved);
            const double there = settle(moved);
            if (there >= radius * (1.0 - 1e-6)) continue;
            radius = there;
            at = std::move(moved);
            idle = 0;
        }
        keep(radius, at);
    }
    for (Found& one : found) {
        consider(one.at);
        polish(one.at);
    }
    return best_;
}

}  // namespace

Places pack_discs(std::span<const double> radii, bool thorough) {
    double squares = 0.0;
    for (const double radius : radii)
        squares += (radius / radii.front()) * (radius / radii.front());
    const double scale = radii.front() * std::sqrt(squares);  // the radius if no gap were left
    std::vector<double> scaled;
    for (const double radius : radii)
        scaled.push_back(radius / scale);
    Places places = Search(scaled).run(thorough);
    for (std::vector<double>* along : {&places.x, &places.y}) {
        for (double& value : *along)
            value *= scale;
    }
    places.radius = 0.0;
    for (std::size_t i = 0; i < radii.size(); ++i)
        places.radius = std::max(places.radius, std::hypot(places.x[i], places.y[i]) + radii[i]);
    return places;
}

}  // namespace packproof::solve
