#include "engine/solve/sagging.hpp"

#include <algorithm>
#include <cmath>

namespace packproof::solve {

namespace {

using units::Interval;
using Readings = std::vector<std::optional<Interval>>;

constexpr double sag_factor = 3.0;  // of the median of the others: common practice

struct Sag {
    std::size_t step = 0;
    Interval by;
};

std::optional<Interval> at(const Readings& readings, std::size_t lead) {
    return lead == 0 ? Interval::point(0.0) : readings[lead];
}

std::vector<Sag> sags_of(const Readings& at_rest, const Readings& loaded) {
    std::vector<Sag> sags;
    for (std::size_t k = 1; k < std::min(at_rest.size(), loaded.size()); ++k) {
        const auto low = at(at_rest, k - 1);
        const auto high = at(at_rest, k);
        const auto low_loaded = at(loaded, k - 1);
        const auto high_loaded = at(loaded, k);
        if (low && high && low_loaded && high_loaded)
            sags.push_back({k, (*high - *low) - (*high_loaded - *low_loaded)});
    }
    return sags;
}

double middle(Interval range) {
    return 0.5 * (range.low + range.high);
}

double median_of_others(const std::vector<Sag>& sags, std::size_t step) {
    std::vector<double> others;
    for (const Sag& sag : sags)
        if (sag.step != step) others.push_back(middle(sag.by));
    std::sort(others.begin(), others.end());
    return 0.5 * (others[(others.size() - 1) / 2] + others[others.size() / 2]);
}

}  // namespace

std::vector<std::size_t> sagging_steps(const Readings& at_rest, const Readings& loaded) {
    const std::vector<Sag> sags = sags_of(at_rest, loaded);
    std::vector<std::size_t> steps;
    if (sags.size() < 2) return steps;
    for (const Sag& sag : sags) {
        const double median = median_of_others(sags, sag.step);
        const double own = median < 0.0 ? -middle(sag.by) : middle(sag.by);
        const double usual = std::fabs(median);
        if (own > sag_factor * usual && own - usual > 0.5 * sag.by.width()) steps.push_back(sag.step);
    }
    return steps;
}

}  // namespace packproof::solve
