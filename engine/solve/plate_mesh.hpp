// The finite elements of a plate: a grid of lines with bicubic Hermite polynomials on each of its rectangles,
// their stiffness, and the forces of bolts on them. Used by plate.cpp only.
#pragma once

#include <array>
#include <vector>

#include "engine/solve/hermite.hpp"
#include "engine/solve/plate.hpp"

namespace packproof::solve {

/// One number of a matrix; those of one place add up.
struct Entry {
    int row = 0;
    int column = 0;
    double value = 0.0;
};

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
    /// `plate` must outlive it.
    Mesh(const Plate& plate, double fineness);

    [[nodiscard]] std::size_t unknowns() const { return 4 * x_.size() * y_.size(); }
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

    [[nodiscard]] std::vector<Entry> bending() const;  ///< the matrix of the plate and its ribs
    [[nodiscard]] std::vector<double> load() const;    ///< by unknown, N or N·m
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
    void add_rib(const PlateRib& rib, std::vector<Entry>& entries) const;

    const Plate& plate_;
    double rigidity_ = 0.0;  ///< N·m
    std::vector<double> x_, y_;
};

}  // namespace packproof::solve
