// Ladders of unequal sources, read as a meter would: the readings come from laying the leads on the
// potentials, not from the code under test.
#pragma once

#include <doctest/doctest.h>

#include <cstddef>
#include <numeric>
#include <random>
#include <string>
#include <vector>

#include "engine/solve/ladder.hpp"

namespace packproof::solve::ladders {

using units::Interval;

inline constexpr double tolerance = 0.005;  // V
inline constexpr double dead = 0.01;        // V, what an open lead reads
inline const Interval one_source{3.20, 3.40};

using Places = std::vector<std::size_t>;

class Numbers {
  public:
    explicit Numbers(unsigned seed) : engine_(seed) {}
    double between(double low, double high) {
        return low + (high - low) * (static_cast<double>(engine_()) / 4294967296.0);
    }
    std::vector<double> sources(std::size_t count) {
        std::vector<double> all;
        for (std::size_t n = 0; n < count; ++n)
            all.push_back(between(3.20, 3.40));
        return all;
    }

  private:
    std::mt19937 engine_;
};

inline Places in_order(std::size_t leads) {
    Places places(leads);
    std::iota(places.begin(), places.end(), std::size_t{0});
    return places;
}

inline std::vector<double> potentials_of(const std::vector<double>& sources) {
    std::vector<double> potentials{0.0};
    for (const double source : sources)
        potentials.push_back(potentials.back() + source);
    return potentials;
}

inline Interval read(double value) {
    return {value - tolerance, value + tolerance};
}

/// Lead i laid on place `places[i]`, read against lead 0.
inline Ladder ladder_of(const std::vector<double>& sources, const Places& places) {
    const std::vector<double> potentials = potentials_of(sources);
    Ladder ladder;
    ladder.source = one_source;
    for (const std::size_t place : places)
        ladder.readings.emplace_back(read(potentials[place] - potentials[places[0]]));
    return ladder;
}
inline Ladder ladder_of(const std::vector<double>& sources) {
    return ladder_of(sources, in_order(sources.size() + 1));
}

inline LadderFinding examined(const Ladder& ladder) {
    const auto found = examine(ladder);
    REQUIRE(found);
    return *found;
}

/// "exchanged 2 5", "turned source 3", "number 15 at 4": short, so that lists of them compare.
inline std::string told(const Explanation& explanation) {
    static const std::vector<std::string> names = {
        "none",   "exchanged", "reversed",  "signs",   "open",  "left",       "doubled",
        "turned", "number",    "reordered", "outside", "joint", "unexplained"};
    std::string text = names[static_cast<std::size_t>(explanation.mistake)];
    if (explanation.mistake == Mistake::number) text += " " + std::to_string(explanation.count) + " at";
    for (const std::size_t lead : explanation.leads)
        text += " " + std::to_string(lead);
    for (const std::size_t source : explanation.sources)
        text += " source " + std::to_string(source);
    return text;
}
inline std::string others(const LadderFinding& found) {
    std::string text;
    for (const Explanation& other : found.other)
        text += (text.empty() ? "" : ", ") + told(other);
    return text;
}
inline std::string with(const std::string& name, std::size_t n) {
    return name + " " + std::to_string(n);
}

/// All leads sit where they were laid.
inline bool sit(const LadderFinding& found, const Places& places) {
    if (found.sits_at.size() != places.size()) return false;
    for (std::size_t lead = 0; lead < places.size(); ++lead)
        if (found.sits_at[lead] != places[lead]) return false;
    return true;
}

inline const std::vector<std::size_t> lengths = {4, 8, 16, 24};

}  // namespace packproof::solve::ladders
