#include "engine/solve/plate.hpp"

#include <Eigen/Sparse>
#include <algorithm>
#include <array>
#include <cmath>

#include "engine/solve/plate_mesh.hpp"

namespace packproof::solve {

namespace {

using Vector = Eigen::VectorXd;
using Sparse = Eigen::SparseMatrix<double>;
using Triplets = std::vector<Eigen::Triplet<double>>;

constexpr std::size_t most_bolts = 200;

bool positive(double value) {
    return std::isfinite(value) && value > 0.0;
}

bool inside(double place, double size) {
    return std::isfinite(place) && place >= -1e-9 && place <= size + 1e-9;
}

/// By more than a micrometre both ways: two rows do not stand in one place.
bool overlap(const PlateArea& a, const PlateArea& b) {
    const double across = std::min(a.x + a.width, b.x + b.width) - std::max(a.x, b.x);
    const double up = std::min(a.y + a.height, b.y + b.height) - std::max(a.y, b.y);
    return across > 1e-6 && up > 1e-6;
}

bool makes_sense(const Plate& p) {
    for (const double value : {p.width, p.height, p.thickness, p.elastic_modulus, p.bolt_force})
        if (!positive(value)) return false;
    if (!(p.poisson >= 0.0 && p.poisson < 0.5) || !(p.bolt_radius >= 0.0) || !std::isfinite(p.bolt_radius))
        return false;
    if (p.bolts.empty() || p.beds.empty() || p.bolts.size() > most_bolts) return false;
    for (const PlateBolt& bolt : p.bolts)
        if (!inside(bolt.x, p.width) || !inside(bolt.y, p.height)) return false;
    for (const PlateArea& bed : p.beds) {
        if (!positive(bed.width) || !positive(bed.height) || !positive(bed.stiffness)) return false;
        if (!inside(bed.x, p.width) || !inside(bed.x + bed.width, p.width)) return false;
        if (!inside(bed.y, p.height) || !inside(bed.y + bed.height, p.height)) return false;
    }
    for (std::size_t a = 0; a < p.beds.size(); ++a)
        for (std::size_t b = 0; b < a; ++b)
            if (overlap(p.beds[a], p.beds[b])) return false;
    for (const PlateRib& rib : p.ribs) {
        if (!positive(rib.stiffness)) return false;
        for (const double x : {rib.from_x, rib.to_x})
            if (!inside(x, p.width)) return false;
        for (const double y : {rib.from_y, rib.to_y})
            if (!inside(y, p.height)) return false;
        const double along_x = std::abs(rib.to_x - rib.from_x);
        const double along_y = std::abs(rib.to_y - rib.from_y);
        if (std::min(along_x, along_y) > 1e-9 || std::max(along_x, along_y) <= 1e-9) return false;
    }
    return true;
}

Sparse bending_of(const Mesh& mesh) {
    Triplets triplets;
    for (const Entry& entry : mesh.bending())
        triplets.emplace_back(entry.row, entry.column, entry.value);
    const auto size = static_cast<Eigen::Index>(mesh.unknowns());
    Sparse matrix(size, size);
    matrix.setFromTriplets(triplets.begin(), triplets.end());
    return matrix;
}

double at(const Sample& sample, const Vector& w) {
    double sum = 0.0;
    for (std::size_t i = 0; i < 16; ++i)
        sum += sample.values[i] * w(sample.unknowns[i]);
    return sum;
}

/// 3 × 3 Gauss points on each element of a bed.
std::vector<Sample> bed_points(const Mesh& mesh) {
    constexpr std::array places{0.5 - 0.3872983346207417, 0.5, 0.5 + 0.3872983346207417};
    constexpr std::array weights{5.0 / 18.0, 8.0 / 18.0, 5.0 / 18.0};
    std::vector<Sample> points;
    mesh.on_beds([&](std::size_t i, std::size_t j, const PlateArea& bed) {
        for (std::size_t a = 0; a < 3; ++a)
            for (std::size_t b = 0; b < 3; ++b) {
                Sample point = mesh.sample({i, places[a]}, {j, places[b]}, 0, 0);
                point.bed = bed.stiffness;
                point.weight = mesh.area(i, j) * weights[a] * weights[b];
                points.push_back(point);
            }
    });
    return points;
}

std::vector<bool> touching(const std::vector<Sample>& points, const Vector& w) {
    std::vector<bool> touches;
    touches.reserve(points.size());
    for (const Sample& point : points)
        touches.push_back(at(point, w) > 0.0);
    return touches;
}

/// The plate on those places of the bed that it touches.
Sparse on_bed(const Sparse& bending, const std::vector<Sample>& points, const std::vector<bool>& touches) {
    Triplets entries;
    entries.reserve(points.size() * 256);
    for (std::size_t k = 0; k < points.size(); ++k) {
        if (!touches[k]) continue;
        const Sample& point = points[k];
        for (std::size_t r = 0; r < 16; ++r)
            for (std::size_t s = 0; s < 16; ++s)
                entries.emplace_back(point.unknowns[r], point.unknowns[s],
                                     point.bed * point.weight * point.values[r] * point.values[s]);
    }
    Sparse matrix(bending.rows(), bending.cols());
    matrix.setFromTriplets(entries.begin(), entries.end());
    matrix += bending;
    return matrix;
}

struct Stride {
    double share = 1.0;  ///< of the step
    double fall = 0.0;   ///< J, how steeply the energy falls at its beginning
};

/// How far to go along a step: to where the energy stops falling, at most to its end. The slope of the energy
/// is sought, not its least value: near that, differences of energies are no more than rounding.
Stride stride(const Sparse& bending, const std::vector<Sample>& points, const Vector& load, const Vector& w,
              const Vector& step) {
    constexpr double level = 1e-9;  // of the slope at the beginning
    const Vector bent = bending * step;
    const double begin = bent.dot(w) - load.dot(step);
    const double rise = bent.dot(step);
    struct Place {
        double stiffness, down, change;
    };
    std::vector<Place> places;
    places.reserve(points.size());
    for (const Sample& point : points)
        places.push_back({point.bed * point.weight, at(point, w), at(point, step)});
    const auto slope = [&](double share) {
        double sum = begin + share * rise;
        for (const Place& place : places)
            sum += place.stiffness * std::max(0.0, place.down + share * place.change) * place.change;
        return sum;
    };
    const double fall = -slope(0.0);
    if (slope(1.0) <= level * fall) return {1.0, fall};
    double falls = 0.0;
    double rises = 1.0;
    for (int halved = 0; halved < 40; ++halved) {
        const double middle = 0.5 * (falls + rises);
        (slope(middle) <= 0.0 ? falls : rises) = middle;
    }
    return {falls, fall};
}

/// Deflection of least energy, which is convex: Newton's method, each step as far as the energy falls.
/// Nothing if it does not come to rest, as where the bolts would tip the plate off its beds.
std::optional<Vector> deflection(const Sparse& bending, const std::vector<Sample>& points,
                                 const Vector& load) {
    constexpr int most_rounds = 60;
    // Of the work of the bolts: within a millionth of the deflection. Where a stiff plate just grazes the
    // bed, rounding goes on changing which places touch.
    constexpr double at_rest = 1e-12;
    std::vector<bool> touches(points.size(), true);
    Eigen::SimplicialLDLT<Sparse> solver;
    Vector w = Vector::Zero(load.size());
    for (int round = 0; round < most_rounds; ++round) {
        const Sparse matrix = on_bed(bending, points, touches);
        if (round == 0) solver.analyzePattern(matrix);
        solver.factorize(matrix);
        if (solver.info() != Eigen::Success) return std::nullopt;
        const Vector next = solver.solve(load);
        if (!next.allFinite()) return std::nullopt;
        Stride taken;
        if (round == 0) {
            w = next;
        } else {
            const Vector step = next - w;
            taken = stride(bending, points, load, w, step);
            w += taken.share * step;
            if (taken.fall <= at_rest * std::abs(load.dot(w))) return w;
        }
        std::vector<bool> now = touching(points, w);
        if (taken.share == 1.0 && now == touches) return w;
        touches = std::move(now);
    }
    return std::nullopt;
}

void read_pressure(const Plate& plate, const Mesh& mesh, const Vector& w, PlateState& state) {
    double deepest = -1e300;
    double highest = 1e300;
    state.lowest = 1e300;
    mesh.on_beds([&](std::size_t i, std::size_t j, const PlateArea& bed) {
        for (const double a : {0.0, 0.5, 1.0})
            for (const double b : {0.0, 0.5, 1.0}) {
                const Sample place = mesh.sample({i, a}, {j, b}, 0, 0);
                const double down = at(place, w);
                const double pressure = bed.stiffness * std::max(0.0, down);
                state.highest = std::max(state.highest, pressure);
                // Of places that have lifted off, the one that has lifted most.
                if (pressure < state.lowest || (pressure <= state.lowest && down < highest)) {
                    state.lowest_x = place.x;
                    state.lowest_y = place.y;
                }
                state.lowest = std::min(state.lowest, pressure);
                deepest = std::max(deepest, down);
                highest = std::min(highest, down);
            }
    });
    state.bow = deepest - highest;
    state.in_middle = 1e300;
    for (const PlateArea& bed : plate.beds) {
        const double down = at(mesh.sample(bed.x + 0.5 * bed.width, bed.y + 0.5 * bed.height), w);
        state.in_middle = std::min(state.in_middle, bed.stiffness * std::max(0.0, down));
    }
}

/// Moments and stress at the surface: Timoshenko and Woinowsky-Krieger, equations 101 and 102, σ = 6 M / t².
void read_stress(const Plate& plate, const Mesh& mesh, const Vector& w, PlateState& state) {
    const double per_moment = 6.0 / (plate.thickness * plate.thickness);
    const double around = plate.bolt_radius + plate.thickness;
    mesh.everywhere([&](std::size_t i, std::size_t j) {
        for (const double a : {0.0, 0.5, 1.0})
            for (const double b : {0.0, 0.5, 1.0}) {
                const Sample place = mesh.sample({i, a}, {j, b}, 2, 0);
                const bool under_bolt =
                    std::any_of(plate.bolts.begin(), plate.bolts.end(), [&](const PlateBolt& bolt) {
                        return std::hypot(bolt.x - place.x, bolt.y - place.y) < around;
                    });
                if (under_bolt) continue;
                const double wxx = at(place, w);
                const double wyy = at(mesh.sample({i, a}, {j, b}, 0, 2), w);
                const double wxy = at(mesh.sample({i, a}, {j, b}, 1, 1), w);
                const double d = mesh.rigidity() * per_moment;
                const double sx = d * (wxx + plate.poisson * wyy);
                const double sy = d * (wyy + plate.poisson * wxx);
                const double sxy = d * (1.0 - plate.poisson) * wxy;
                const double equivalent = std::sqrt(sx * sx - sx * sy + sy * sy + 3.0 * sxy * sxy);
                if (equivalent <= state.stress) continue;
                state.stress = equivalent;
                state.stress_x = place.x;
                state.stress_y = place.y;
            }
    });
}

}  // namespace

std::optional<PlateState> press(const Plate& plate, double fineness) {
    if (!makes_sense(plate) || !positive(fineness)) return std::nullopt;
    const Mesh mesh(plate, fineness);
    const std::vector<Sample> points = bed_points(mesh);
    const std::vector<double> load = mesh.load();
    const auto w = deflection(bending_of(mesh), points,
                              Eigen::Map<const Vector>(load.data(), static_cast<Eigen::Index>(load.size())));
    if (!w) return std::nullopt;
    PlateState state;
    double force = 0.0;
    double area = 0.0;
    for (const Sample& point : points) {
        force += point.bed * point.weight * std::max(0.0, at(point, *w));
        area += point.weight;
    }
    const double pulled = plate.bolt_force * static_cast<double>(plate.bolts.size());
    if (!(std::abs(force - pulled) <= 1e-6 * pulled)) return std::nullopt;
    state.mean = force / area;
    read_pressure(plate, mesh, *w, state);
    read_stress(plate, mesh, *w, state);
    return state;
}

}  // namespace packproof::solve
