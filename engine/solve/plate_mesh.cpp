#include "engine/solve/plate_mesh.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace packproof::solve {

Mesh::Mesh(const Plate& plate, double fineness) : plate_(plate) {
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

/// Energy of bending (Timoshenko and Woinowsky-Krieger, equation 117):
/// D/2 ∫ wxx² + wyy² + 2ν wxx wyy + 2(1 - ν) wxy².
std::vector<Entry> Mesh::bending() const {
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
    std::vector<Entry> entries;
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
                entries.push_back(
                    {unknown(i, r / 4, j, r % 4), unknown(i, s / 4, j, s % 4), rigidity_ * value});
            }
    });
    for (const PlateRib& rib : plate_.ribs)
        add_rib(rib, entries);
    return entries;
}

/// A line of the mesh runs along it.
void Mesh::add_rib(const PlateRib& rib, std::vector<Entry>& entries) const {
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
                entries.push_back({row, column, rib.stiffness * b[4 * r + s]});
            }
    }
}

/// Each bolt's force, even over its disc: on two rings, one amid each half of its area; what lies beyond the
/// plate's edge presses at the edge.
std::vector<double> Mesh::load() const {
    std::vector<double> load(unknowns(), 0.0);
    const auto add = [&](double x, double y, double force) {
        const Sample at = sample(std::clamp(x, 0.0, plate_.width), std::clamp(y, 0.0, plate_.height));
        for (std::size_t i = 0; i < 16; ++i)
            load[static_cast<std::size_t>(at.unknowns[i])] += force * at.values[i];
    };
    constexpr int on_ring = 8;
    for (const PlateBolt& bolt : plate_.bolts) {
        if (plate_.bolt_radius <= 0.0) {
            add(bolt.x, bolt.y, plate_.bolt_force);
            continue;
        }
        for (const double share : {0.5, std::sqrt(0.75)})  // a quarter and three quarters of the area within
            for (int i = 0; i < on_ring; ++i) {
                const double angle = 2.0 * std::numbers::pi * (i + 0.5) / on_ring;
                add(bolt.x + share * plate_.bolt_radius * std::cos(angle),
                    bolt.y + share * plate_.bolt_radius * std::sin(angle), 0.5 * plate_.bolt_force / on_ring);
            }
    }
    return load;
}

}  // namespace packproof::solve
