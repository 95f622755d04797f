#include "engine/solve/plate.hpp"

#include <Eigen/Sparse>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "engine/solve/hermite.hpp"

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

/// A place with the polynomials that do not vanish there: 16 unknowns with their values.
struct Sample {
    std::array<int, 16> unknowns{};
    std::array<double, 16> values{};
    double x = 0.0, y = 0.0;
    double bed = 0.0;     ///< N/m³ there
    double weight = 0.0;  ///< m², of a Gauss point
};

class Mesh {
  public:
    Mesh(const Plate& plate, double fineness) : plate_(plate) {
        const double moment = plate.elastic_modulus * std::pow(plate.thickness, 3) / 12.0;
        rigidity_ = moment / (1.0 - plate.poisson * plate.poisson);
        double hardest = 0.0;
        for (const PlateArea& bed : plate.beds)
            hardest = std::max(hardest, bed.stiffness);
        // What a plate on a bed does decays over this length (Timoshenko and Woinowsky-Krieger, article 57).
        const double reach = std::pow(rigidity_ / hardest, 0.25);
        const double size = std::max(plate.width, plate.height);
        const double step = std::clamp(0.7 * reach, size / 18.0, size / 7.0) / fineness;
        std::vector<double> across;
        std::vector<double> up;
        for (const PlateArea& bed : plate.beds) {
            across.insert(across.end(), {bed.x, bed.x + bed.width});
            up.insert(up.end(), {bed.y, bed.y + bed.height});
        }
        for (const PlateRib& rib : plate.ribs) {
            across.insert(across.end(), {rib.from_x, rib.to_x});
            up.insert(up.end(), {rib.from_y, rib.to_y});
        }
        x_ = lines(0.0, plate.width, across, step);
        y_ = lines(0.0, plate.height, up, step);
    }

    [[nodiscard]] Eigen::Index unknowns() const {
        return static_cast<Eigen::Index>(4 * x_.size() * y_.size());
    }
    [[nodiscard]] double rigidity() const { return rigidity_; }

    /// Of a derivative of order p across and q up.
    [[nodiscard]] Sample sample(InElement at_x, InElement at_y, int p, int q) const {
        const double width = x_[at_x.element + 1] - x_[at_x.element];
        const double height = y_[at_y.element + 1] - y_[at_y.element];
        const Cubics a = hermite(at_x.share, width, p);
        const Cubics b = hermite(at_y.share, height, q);
        Sample sample;
        sample.x = x_[at_x.element] + at_x.share * width;
        sample.y = y_[at_y.element] + at_y.share * height;
        for (std::size_t i = 0; i < 4; ++i)
            for (std::size_t j = 0; j < 4; ++j) {
                sample.unknowns[4 * i + j] = unknown(at_x.element, i, at_y.element, j);
                sample.values[4 * i + j] = a[i] * b[j];
            }
        return sample;
    }
    [[nodiscard]] Sample sample(double x, double y) const {
        return sample(locate(x_, x), locate(y_, y), 0, 0);
    }

    [[nodiscard]] Sparse bending() const;
    [[nodiscard]] Vector load() const;
    /// Calls with each element that lies on a bed, and that bed.
    template <typename Use>
    void on_beds(Use use) const {
        for (const PlateArea& bed : plate_.beds)
            for (std::size_t i = 0; i + 1 < x_.size(); ++i)
                for (std::size_t j = 0; j + 1 < y_.size(); ++j) {
                    const double x = 0.5 * (x_[i] + x_[i + 1]);
                    const double y = 0.5 * (y_[j] + y_[j + 1]);
                    if (x > bed.x && x < bed.x + bed.width && y > bed.y && y < bed.y + bed.height)
                        use(i, j, bed);
                }
    }
    /// Calls with each element.
    template <typename Use>
    void everywhere(Use use) const {
        for (std::size_t i = 0; i + 1 < x_.size(); ++i)
            for (std::size_t j = 0; j + 1 < y_.size(); ++j)
                use(i, j);
    }
    [[nodiscard]] double area(std::size_t i, std::size_t j) const {
        return (x_[i + 1] - x_[i]) * (y_[j + 1] - y_[j]);
    }

  private:
    /// Of polynomial a (0 to 3) of element i across and b of element j up.
    [[nodiscard]] int unknown(std::size_t i, std::size_t a, std::size_t j, std::size_t b) const {
        return static_cast<int>((2 * i + a) * 2 * y_.size() + 2 * j + b);
    }
    void add_rib(const PlateRib& rib, Triplets& entries) const;

    const Plate& plate_;
    double rigidity_ = 0.0;  ///< N·m
    std::vector<double> x_, y_;
};

/// Energy of bending (Timoshenko and Woinowsky-Krieger, equation 117):
/// D/2 ∫ wxx² + wyy² + 2ν wxx wyy + 2(1 - ν) wxy².
Sparse Mesh::bending() const {
    struct Integrals {
        ElementMatrix m, a, b, c;
    };
    const auto along = [](const std::vector<double>& nodes) {
        std::vector<Integrals> all;
        for (std::size_t i = 0; i + 1 < nodes.size(); ++i) {
            const double length = nodes[i + 1] - nodes[i];
            all.push_back({integral(length, 0, 0), integral(length, 1, 1), integral(length, 2, 2),
                           integral(length, 2, 0)});
        }
        return all;
    };
    const std::vector<Integrals> across = along(x_);
    const std::vector<Integrals> up = along(y_);
    const double nu = plate_.poisson;
    Triplets entries;
    entries.reserve((x_.size() - 1) * (y_.size() - 1) * 256);
    everywhere([&](std::size_t i, std::size_t j) {
        const Integrals& p = across[i];
        const Integrals& q = up[j];
        for (std::size_t r = 0; r < 16; ++r)
            for (std::size_t s = 0; s < 16; ++s) {
                const std::size_t x = 4 * (r / 4) + s / 4;
                const std::size_t y = 4 * (r % 4) + s % 4;
                const std::size_t x_turned = 4 * (s / 4) + r / 4;
                const std::size_t y_turned = 4 * (s % 4) + r % 4;
                const double value = p.b[x] * q.m[y] + p.m[x] * q.b[y] +
                                     nu * (p.c[x] * q.c[y_turned] + p.c[x_turned] * q.c[y]) +
                                     2.0 * (1.0 - nu) * p.a[x] * q.a[y];
                entries.emplace_back(unknown(i, r / 4, j, r % 4), unknown(i, s / 4, j, s % 4),
                                     rigidity_ * value);
            }
    });
    for (const PlateRib& rib : plate_.ribs)
        add_rib(rib, entries);
    Sparse matrix(unknowns(), unknowns());
    matrix.setFromTriplets(entries.begin(), entries.end());
    return matrix;
}

/// A line of the mesh runs along it.
void Mesh::add_rib(const PlateRib& rib, Triplets& entries) const {
    const bool upright = std::abs(rib.to_y - rib.from_y) > std::abs(rib.to_x - rib.from_x);
    const std::vector<double>& nodes = upright ? y_ : x_;
    const double from = upright ? std::min(rib.from_y, rib.to_y) : std::min(rib.from_x, rib.to_x);
    const double to = upright ? std::max(rib.from_y, rib.to_y) : std::max(rib.from_x, rib.to_x);
    const InElement beside = upright ? locate(x_, rib.from_x) : locate(y_, rib.from_y);
    const std::size_t end = beside.share > 0.5 ? 2 : 0;  // the value at the node that it runs through
    for (std::size_t k = 0; k + 1 < nodes.size(); ++k) {
        const double middle = 0.5 * (nodes[k] + nodes[k + 1]);
        if (middle < from || middle > to) continue;
        const ElementMatrix b = integral(nodes[k + 1] - nodes[k], 2, 2);
        for (std::size_t r = 0; r < 4; ++r)
            for (std::size_t s = 0; s < 4; ++s) {
                const int row =
                    upright ? unknown(beside.element, end, k, r) : unknown(k, r, beside.element, end);
                const int column =
                    upright ? unknown(beside.element, end, k, s) : unknown(k, s, beside.element, end);
                entries.emplace_back(row, column, rib.stiffness * b[4 * r + s]);
            }
    }
}

/// Each bolt's force, even over its disc: at its middle and on two rings of equal areas; what lies beyond the
/// plate's edge presses at the edge.
Vector Mesh::load() const {
    Vector load = Vector::Zero(unknowns());
    const auto add = [&](double x, double y, double force) {
        const Sample at = sample(std::clamp(x, 0.0, plate_.width), std::clamp(y, 0.0, plate_.height));
        for (std::size_t i = 0; i < 16; ++i)
            load(at.unknowns[i]) += force * at.values[i];
    };
    constexpr int on_ring = 8;
    for (const PlateBolt& bolt : plate_.bolts) {
        if (plate_.bolt_radius <= 0.0) {
            add(bolt.x, bolt.y, plate_.bolt_force);
            continue;
        }
        for (const double share : {0.5, std::sqrt(0.75)})  // rings that halve the areas within and without
            for (int i = 0; i < on_ring; ++i) {
                const double angle = 2.0 * std::numbers::pi * (i + 0.5) / on_ring;
                add(bolt.x + share * plate_.bolt_radius * std::cos(angle),
                    bolt.y + share * plate_.bolt_radius * std::sin(angle), 0.5 * plate_.bolt_force / on_ring);
            }
    }
    return load;
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

double energy(const Sparse& bending, const std::vector<Sample>& points, const Vector& load, const Vector& w) {
    double sum = 0.5 * w.dot(bending * w) - load.dot(w);
    for (const Sample& point : points) {
        const double down = std::max(0.0, at(point, w));
        sum += 0.5 * point.bed * point.weight * down * down;
    }
    return sum;
}

/// Deflection of least energy, which is convex: Newton's method, the step halved while the energy does not
/// fall. Nothing if it does not come to rest.
std::optional<Vector> deflection(const Sparse& bending, const std::vector<Sample>& points,
                                 const Vector& load) {
    constexpr int most_rounds = 60;
    std::vector<bool> touches(points.size(), true);
    Eigen::SimplicialLDLT<Sparse> solver;
    std::optional<Vector> w;
    for (int round = 0; round < most_rounds; ++round) {
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
        if (round == 0) solver.analyzePattern(matrix);
        solver.factorize(matrix);
        if (solver.info() != Eigen::Success) return std::nullopt;
        Vector next = solver.solve(load);
        if (!next.allFinite()) return std::nullopt;
        if (w) {
            const double before = energy(bending, points, load, *w);
            for (int halved = 0; halved < 40 && energy(bending, points, load, next) > before; ++halved)
                next = 0.5 * (next + *w);
        }
        w = std::move(next);
        std::vector<bool> now = touching(points, *w);
        if (now == touches) return w;
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
    const auto w = deflection(mesh.bending(), points, mesh.load());
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
