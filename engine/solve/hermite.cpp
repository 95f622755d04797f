#include "engine/solve/hermite.hpp"

#include <algorithm>
#include <cmath>

namespace packproof::solve {

Cubics hermite(double s, double h, int order) {
    if (order == 0)
        return {1.0 - 3.0 * s * s + 2.0 * s * s * s, h * (s - 2.0 * s * s + s * s * s),
                3.0 * s * s - 2.0 * s * s * s, h * (s * s * s - s * s)};
    if (order == 1)
        return {(-6.0 * s + 6.0 * s * s) / h, 1.0 - 4.0 * s + 3.0 * s * s, (6.0 * s - 6.0 * s * s) / h,
                3.0 * s * s - 2.0 * s};
    return {(-6.0 + 12.0 * s) / (h * h), (-4.0 + 6.0 * s) / h, (6.0 - 12.0 * s) / (h * h),
            (6.0 * s - 2.0) / h};
}

ElementMatrix integral(double length, int p, int q) {
    // Gauss points of degree 7, which products of cubics need (Abramowitz and Stegun, table 25.4, n = 4)
    constexpr std::array points{0.8611363115940526, 0.3399810435848563};
    constexpr std::array weights{0.3478548451374538, 0.6521451548625461};
    ElementMatrix sum{};
    for (std::size_t i = 0; i < points.size(); ++i)
        for (const double side : {-1.0, 1.0}) {
            const double share = 0.5 * (1.0 + side * points[i]);
            const Cubics a = hermite(share, length, p);
            const Cubics b = hermite(share, length, q);
            for (std::size_t r = 0; r < 4; ++r)
                for (std::size_t c = 0; c < 4; ++c)
                    sum[4 * r + c] += 0.5 * length * weights[i] * a[r] * b[c];
        }
    return sum;
}

std::vector<double> lines(double from, double to, std::span<const double> through, double step) {
    const double hair = 0.02 * step;  // two lines that close are one: slivers would spoil the equations
    std::vector<double> fixed(through.begin(), through.end());
    fixed.push_back(to);
    std::sort(fixed.begin(), fixed.end());
    std::vector<double> all{from};
    for (const double place : fixed) {
        if (place <= all.back() + hair || place > to) continue;
        const double end = to - place < hair ? to : place;
        const double begin = all.back();
        const double parts = std::ceil((end - begin) / step - 1e-9);
        for (double i = 1.0; i < parts; i += 1.0)
            all.push_back(begin + (end - begin) * i / parts);
        all.push_back(end);
    }
    return all;
}

InElement locate(const std::vector<double>& nodes, double place) {
    const auto above = std::upper_bound(nodes.begin() + 1, nodes.end() - 1, place);
    const auto element = static_cast<std::size_t>(above - nodes.begin()) - 1;
    const double share = (place - nodes[element]) / (nodes[element + 1] - nodes[element]);
    return {element, std::clamp(share, 0.0, 1.0)};
}

}  // namespace packproof::solve
