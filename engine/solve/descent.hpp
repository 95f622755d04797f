// Downhill to a near minimum of a smooth function of many variables (limited-memory BFGS; J. Nocedal and
// S. Wright, Numerical Optimization, algorithm 7.4). The function is a template so that it is compiled in.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <vector>

namespace packproof::solve {

class Descent {
  public:
    explicit Descent(std::size_t variables)
        : slope_(variables), there_(variables), slope_there_(variables), way_(variables) {
        for (Pair& pair : pairs_)
            pair = {std::vector<double>(variables), std::vector<double>(variables), 0.0};
    }

    /// Moves `at` downhill until the slope's length is below `flat` or so many evaluations are done; returns
    /// their number. `function(at, slope)` gives the value and fills the slope.
    template <typename Function>
    double run(const Function& function, std::vector<double>& at, int most, double flat) {
        kept_ = 0;
        newest_ = 0;
        double here = function(at, slope_);
        int count = 1;
        while (count < most && dot(slope_, slope_) > flat * flat) {
            find_way();
            double gain = -dot(way_, slope_);
            if (!(gain > 0.0)) {
                kept_ = 0;
                find_way();
                gain = -dot(way_, slope_);
            }
            double share = kept_ == 0 ? std::min(1.0, 0.1 / std::sqrt(gain)) : 1.0;
            for (;; share *= 0.4) {
                if (count >= most || share < 1e-12) return count;
                for (std::size_t n = 0; n < at.size(); ++n)
                    there_[n] = at[n] + share * way_[n];
                const double value = function(there_, slope_there_);
                ++count;
                if (value <= here - 1e-4 * share * gain) {
                    here = value;
                    break;
                }
            }
            remember(at);
            std::swap(at, there_);
            std::swap(slope_, slope_there_);
        }
        return count;
    }

  private:
    struct Pair {
        std::vector<double> step, change;  ///< of the place, of the slope
        double inverse = 0.0;              ///< of their product
    };
    static constexpr std::size_t memory = 6;

    static double dot(const std::vector<double>& a, const std::vector<double>& b) {
        double sum = 0.0;
        for (std::size_t n = 0; n < a.size(); ++n)
            sum += a[n] * b[n];
        return sum;
    }

    /// Against the slope, bent by what the last steps told of the curvature.
    void find_way() {
        for (std::size_t n = 0; n < way_.size(); ++n)
            way_[n] = -slope_[n];
        if (kept_ == 0) return;
        std::array<double, memory> factor{};
        for (std::size_t back = 0; back < kept_; ++back) {
            const Pair& pair = pairs_[(newest_ + memory - back) % memory];
            factor[back] = pair.inverse * dot(pair.step, way_);
            for (std::size_t n = 0; n < way_.size(); ++n)
                way_[n] -= factor[back] * pair.change[n];
        }
        const Pair& last = pairs_[newest_];
        const double scale = 1.0 / (last.inverse * dot(last.change, last.change));
        for (double& value : way_)
            value *= scale;
        for (std::size_t back = kept_; back-- > 0;) {
            const Pair& pair = pairs_[(newest_ + memory - back) % memory];
            const double other = factor[back] - pair.inverse * dot(pair.change, way_);
            for (std::size_t n = 0; n < way_.size(); ++n)
                way_[n] += other * pair.step[n];
        }
    }

    void remember(const std::vector<double>& at) {
        Pair& pair = pairs_[kept_ == 0 ? newest_ : (newest_ + 1) % memory];
        for (std::size_t n = 0; n < at.size(); ++n) {
            pair.step[n] = there_[n] - at[n];
            pair.change[n] = slope_there_[n] - slope_[n];
        }
        const double product = dot(pair.step, pair.change);
        if (product <= 1e-14 * dot(pair.change, pair.change)) return;  // no curvature to learn from
        pair.inverse = 1.0 / product;
        if (kept_ > 0) newest_ = (newest_ + 1) % memory;
        kept_ = std::min(kept_ + 1, memory);
    }

    std::array<Pair, memory> pairs_;
    std::size_t kept_ = 0;
    std::size_t newest_ = 0;
    std::vector<double> slope_, there_, slope_there_, way_;
};

}  // namespace packproof::solve
