// Which further row of bolts would press a plate more evenly: every strip that is free of beds is tried.
#include <algorithm>
#include <cmath>

#include "engine/solve/plate.hpp"

namespace packproof::solve {

namespace {

/// A plate seen along one direction: `along` runs with the row, `beside` across it.
struct View {
    const Plate& plate;
    bool upright = true;

    [[nodiscard]] double along(const PlateBolt& bolt) const { return upright ? bolt.y : bolt.x; }
    [[nodiscard]] double beside(const PlateBolt& bolt) const { return upright ? bolt.x : bolt.y; }
    [[nodiscard]] double breadth() const { return upright ? plate.width : plate.height; }
    [[nodiscard]] PlateBolt bolt(double along, double beside) const {
        return upright ? PlateBolt{beside, along} : PlateBolt{along, beside};
    }
};

struct Span {
    double from = 0.0, to = 0.0;
};

/// Strips across the whole plate that no bed reaches into.
std::vector<Span> free_strips(const View& view) {
    std::vector<Span> beds;
    for (const PlateArea& bed : view.plate.beds)
        beds.push_back(view.upright ? Span{bed.x, bed.x + bed.width} : Span{bed.y, bed.y + bed.height});
    std::sort(beds.begin(), beds.end(), [](const Span& a, const Span& b) { return a.from < b.from; });
    std::vector<Span> strips;
    double reached = 0.0;
    for (const Span& bed : beds) {
        if (bed.from > reached) strips.push_back({reached, bed.from});
        reached = std::max(reached, bed.to);
    }
    if (view.breadth() > reached) strips.push_back({reached, view.breadth()});
    // The shank has to pass, about half as thick as the washer, which lies outside.
    const double needed = std::max(view.plate.bolt_radius, 1e-6);
    strips.erase(std::remove_if(strips.begin(), strips.end(),
                                [&](const Span& strip) { return strip.to - strip.from < needed; }),
                 strips.end());
    return strips;
}

/// Places of the bolts of the fullest straight row; of none with two, three places evenly over the beds.
std::vector<double> usual_places(const View& view) {
    std::vector<double> fullest;
    for (const PlateBolt& first : view.plate.bolts) {
        std::vector<double> row;
        for (const PlateBolt& bolt : view.plate.bolts)
            if (std::abs(view.beside(bolt) - view.beside(first)) < 1e-3) row.push_back(view.along(bolt));
        if (row.size() > fullest.size()) fullest = std::move(row);
    }
    std::sort(fullest.begin(), fullest.end());
    if (fullest.size() >= 2) return fullest;
    Span beds{1e300, -1e300};
    for (const PlateArea& bed : view.plate.beds) {
        beds.from = std::min(beds.from, view.upright ? bed.y : bed.x);
        beds.to = std::max(beds.to, view.upright ? bed.y + bed.height : bed.x + bed.width);
    }
    std::vector<double> even;
    for (const double share : {1.0 / 6.0, 0.5, 5.0 / 6.0})
        even.push_back(beds.from + share * (beds.to - beds.from));
    return even;
}

std::vector<double> half_way(const std::vector<double>& places) {
    std::vector<double> between;
    for (std::size_t i = 0; i + 1 < places.size(); ++i)
        between.push_back(0.5 * (places[i] + places[i + 1]));
    return between;
}

/// Those places of a row where no bolt stands yet.
std::vector<PlateBolt> fresh(const View& view, const std::vector<double>& places, double beside) {
    const double apart = std::max(2.0 * view.plate.bolt_radius, 2e-3);
    std::vector<PlateBolt> bolts;
    for (const double place : places) {
        const PlateBolt bolt = view.bolt(place, beside);
        const bool taken = std::any_of(
            view.plate.bolts.begin(), view.plate.bolts.end(),
            [&](const PlateBolt& other) { return std::hypot(other.x - bolt.x, other.y - bolt.y) < apart; });
        if (!taken) bolts.push_back(bolt);
    }
    return bolts;
}

/// What a further row is to raise.
double evenness(const PlateState& state) {
    return (state.lowest + state.in_middle) / state.mean;
}

}  // namespace

std::optional<PlateRow> best_row(const Plate& plate) {
    const auto today = press(plate);
    if (!today) return std::nullopt;
    constexpr double worth_it = 0.02;  // of the mean pressure
    double enough = evenness(*today) + worth_it;
    std::optional<PlateRow> best;
    for (const bool upright : {true, false}) {
        const View view{plate, upright};
        const std::vector<double> usual = usual_places(view);
        for (const Span& strip : free_strips(view)) {
            const double beside = 0.5 * (strip.from + strip.to);
            for (const std::vector<double>& places : {usual, half_way(usual)}) {
                PlateRow row{upright, beside, fresh(view, places, beside), 0.0, 0.0};
                if (row.bolts.empty()) continue;
                Plate with = plate;
                with.bolts.insert(with.bolts.end(), row.bolts.begin(), row.bolts.end());
                with.bolt_force *=
                    static_cast<double>(plate.bolts.size()) / static_cast<double>(with.bolts.size());
                const auto state = press(with);
                if (!state) continue;
                if (evenness(*state) <= enough) continue;
                enough = evenness(*state);
                row.lowest_share = state->lowest / state->mean;
                row.middle_share = state->in_middle / state->mean;
                best = std::move(row);
            }
        }
    }
    return best;
}

}  // namespace packproof::solve
