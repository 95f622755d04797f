// Ladders of unequal sources with one mistake made, read as a meter would: the readings come from laying the
// leads on the potentials, not from the code under test. Every lead and every source takes its turn.
#include "engine/solve/ladder.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <random>
#include <string>
#include <utility>
#include <vector>

using namespace packproof::solve;
using packproof::units::Interval;

namespace {

constexpr double tolerance = 0.005;  // V
constexpr double dead = 0.01;        // V, what an open lead reads
const Interval one_source{3.20, 3.40};

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

Places in_order(std::size_t leads) {
    Places places(leads);
    std::iota(places.begin(), places.end(), std::size_t{0});
    return places;
}

std::vector<double> potentials_of(const std::vector<double>& sources) {
    std::vector<double> potentials{0.0};
    for (const double source : sources)
        potentials.push_back(potentials.back() + source);
    return potentials;
}

Interval read(double value) {
    return {value - tolerance, value + tolerance};
}

/// Lead i laid on place `places[i]`, read against lead 0.
Ladder ladder_of(const std::vector<double>& sources, const Places& places) {
    const std::vector<double> potentials = potentials_of(sources);
    Ladder ladder;
    ladder.source = one_source;
    for (const std::size_t place : places)
        ladder.readings.emplace_back(read(potentials[place] - potentials[places[0]]));
    return ladder;
}
Ladder ladder_of(const std::vector<double>& sources) {
    return ladder_of(sources, in_order(sources.size() + 1));
}

LadderFinding examined(const Ladder& ladder) {
    const auto found = examine(ladder);
    REQUIRE(found);
    return *found;
}

/// "exchanged 2 5", "turned source 3", "number 15 at 4": short, so that lists of them compare.
std::string told(const Explanation& explanation) {
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
std::string others(const LadderFinding& found) {
    std::string text;
    for (const Explanation& other : found.other)
        text += (text.empty() ? "" : ", ") + told(other);
    return text;
}
std::string with(const std::string& name, std::size_t n) {
    return name + " " + std::to_string(n);
}

/// All leads sit where they were laid.
bool sit(const LadderFinding& found, const Places& places) {
    if (found.sits_at.size() != places.size()) return false;
    for (std::size_t lead = 0; lead < places.size(); ++lead)
        if (found.sits_at[lead] != places[lead]) return false;
    return true;
}

const std::vector<std::size_t> lengths = {4, 8, 16, 24};

}  // namespace

TEST_CASE("leads in the right order are not blamed, of ladders of every length") {
    Numbers numbers(1);
    for (const std::size_t n : {1, 2, 3, 4, 8, 16, 24, 100}) {
        CAPTURE(n);
        for (int trial = 0; trial < 20; ++trial) {
            const LadderFinding found = examined(ladder_of(numbers.sources(n)));
            CHECK(told(found.explanation) == "none");
            CHECK(found.other.empty());
            CHECK(sit(found, in_order(n + 1)));
        }
    }
}

TEST_CASE("every exchange of two leads is named, and where each lead sits") {
    Numbers numbers(2);
    for (const std::size_t n : lengths) {
        for (std::size_t a = 0; a <= n; ++a) {
            for (std::size_t b = a + 1; b <= n; ++b) {
                CAPTURE(n);
                CAPTURE(a);
                CAPTURE(b);
                Places places = in_order(n + 1);
                std::swap(places[a], places[b]);
                const LadderFinding found = examined(ladder_of(numbers.sources(n), places));
                CHECK(told(found.explanation) == "exchanged " + std::to_string(a) + " " + std::to_string(b));
                CHECK(others(found) == "");
                CHECK(sit(found, places));
            }
        }
    }
}

TEST_CASE("leads in reverse: some of them are named, all of them look like exchanged meter leads") {
    Numbers numbers(3);
    for (const std::size_t n : lengths) {
        for (std::size_t a = 0; a <= n; ++a) {
            for (std::size_t b = a + 3; b <= n; ++b) {
                CAPTURE(n);
                CAPTURE(a);
                CAPTURE(b);
                Places places = in_order(n + 1);
                std::reverse(places.begin() + static_cast<std::ptrdiff_t>(a),
                             places.begin() + static_cast<std::ptrdiff_t>(b + 1));
                const LadderFinding found = examined(ladder_of(numbers.sources(n), places));
                CHECK(told(found.explanation) == "reversed " + std::to_string(a) + " " + std::to_string(b));
                CHECK(others(found) == (a == 0 && b == n ? "signs" : ""));
                CHECK(sit(found, places));
            }
        }
        Ladder signs = ladder_of(numbers.sources(n));
        for (auto& reading : signs.readings)
            reading = -*reading;
        const LadderFinding found = examined(signs);
        CHECK(told(found.explanation) == "reversed 0 " + std::to_string(n));
        CHECK(others(found) == "signs");
    }
}

TEST_CASE("every open lead is named: dead, or with a reading that fits nothing") {
    Numbers numbers(4);
    for (const std::size_t n : lengths) {
        for (std::size_t lead = 1; lead <= n; ++lead) {
            CAPTURE(n);
            CAPTURE(lead);
            Ladder ladder = ladder_of(numbers.sources(n));
            ladder.readings[lead] = read(dead);
            LadderFinding found = examined(ladder);
            CHECK(told(found.explanation) == with("open", lead));
            // of the last lead: or there is no place for it
            CHECK(others(found) ==
                  (lead == n ? "number " + std::to_string(n - 1) + " at " + std::to_string(n) : ""));
            CHECK(found.sits_at[lead] ==
                  0);  // at the potential of lead 0, as a short between the two would be
            CHECK(found.sits_at[n == lead ? n - 1 : n] == (n == lead ? n - 1 : n));

            ladder.readings[lead] = read(-7.1);
            found = examined(ladder);
            CHECK(told(found.explanation) == with("open", lead));
            CHECK(found.sits_at[lead] == std::nullopt);
            CHECK(others(found) == "");
        }
        Ladder ladder = ladder_of(numbers.sources(n));
        for (auto& reading : ladder.readings)
            reading = read(0.0);
        const LadderFinding found = examined(ladder);
        CHECK(told(found.explanation) == "open 0");
        CHECK(others(found) == "");
    }
}

TEST_CASE("a lead on a place that has a lead already reads what that place has") {
    Numbers numbers(5);
    const std::size_t n = 16;
    for (std::size_t lead = 1; lead <= n; ++lead) {
        for (std::size_t place = 1; place <= n; ++place) {
            if (place == lead || place + 1 == lead || place == lead + 1) continue;  // neighbours: see below
            CAPTURE(lead);
            CAPTURE(place);
            Places places = in_order(n + 1);
            places[lead] = place;
            const LadderFinding found = examined(ladder_of(numbers.sources(n), places));
            // the last lead two places low is also what its source turned round would give
            const bool looks_turned = told(found.explanation) == with("turned source", n);
            CHECK((told(found.explanation) == with("open", lead) ||
                   (lead == n && place == n - 2 && looks_turned)));
            if (looks_turned) CHECK(others(found) == with("open", n));
            if (!looks_turned) CHECK(sit(found, places));
        }
    }
}

TEST_CASE("every shift: a place left out, one with two leads") {
    Numbers numbers(6);
    for (const std::size_t n : lengths) {
        for (std::size_t from = 1; from <= n; ++from) {
            CAPTURE(n);
            CAPTURE(from);
            const std::vector<double> sources = numbers.sources(n);
            Places places = in_order(n + 1);
            for (std::size_t lead = from; lead <= n; ++lead)
                places[lead] = lead - 1;
            LadderFinding found = examined(ladder_of(sources, places));
            CHECK(told(found.explanation) == with("doubled", from));
            CHECK(sit(found, places));
            const std::string less = "number " + std::to_string(n - 1) + " at " + std::to_string(from);
            const std::string flat = with("outside source", from);
            CHECK(others(found) == less + ", " + flat + (from == n ? ", " + with("open", n) : ""));

            if (from == n) continue;
            for (std::size_t lead = from; lead < n; ++lead)
                places[lead] = lead + 1;
            places[n] = n;  // the last lead with its neighbour
            Ladder ladder = ladder_of(sources, places);
            found = examined(ladder);
            CHECK(told(found.explanation) == with("left", from));
            CHECK(others(found) == (from == n - 1 ? with("open", n - 1) : ""));
            CHECK(sit(found, places));
            ladder.readings[n] = read(dead);  // the last lead without a place
            found = examined(ladder);
            CHECK(told(found.explanation) == with("left", from));
            CHECK(others(found) == "");
            CHECK(found.sits_at[n] == 0);
            // nobody read it: then there may be one more source, or one of twice the voltage
            ladder.readings[n] = std::nullopt;
            found = examined(ladder);
            const std::string more = "number " + std::to_string(n + 1) + " at " + std::to_string(from);
            const std::string twice = with("outside source", from);
            CHECK(told(found.explanation) == with("left", from));
            // or the last two are exchanged
            const std::string swapped = "exchanged " + std::to_string(n - 1) + " " + std::to_string(n) + ", ";
            CHECK(others(found).find(more + ", " + (from == n - 1 ? swapped : "") + twice) == 0);
        }
    }
}

TEST_CASE("every place of one source too many, and the number that the last reading tells") {
    Numbers numbers(7);
    for (const std::size_t n : lengths) {
        for (std::size_t from = 1; from <= n; ++from) {
            CAPTURE(n);
            CAPTURE(from);
            Places places = in_order(n + 1);
            for (std::size_t lead = from; lead <= n; ++lead)
                places[lead] = lead + 1;
            const LadderFinding found = examined(ladder_of(numbers.sources(n + 1), places));
            CHECK(told(found.explanation) ==
                  "number " + std::to_string(n + 1) + " at " + std::to_string(from));
            CHECK(others(found) == with("outside source", from) + (from == n ? ", " + with("open", n) : ""));
            CHECK(sit(found, places));
        }
    }
    // the last lead alone was read: 8 sources have 25.6 to 27.2 V, 7 at most 23.8 V, 9 at least 28.8 V
    Ladder total;
    total.source = one_source;
    total.readings.resize(9);
    total.readings[8] = read(23.0);
    LadderFinding found = examined(total);
    CHECK(told(found.explanation) == "number 7 at 1 2 3 4 5 6 7 8");
    // nobody having read the others, lead 0 may sit one place high, or the last one place low
    for (const char* other : {"doubled 1", "doubled 8", "exchanged 0 1", "exchanged 7 8", "outside source 4"})
        CHECK(others(found).find(other) != std::string::npos);
    total.readings[8] = read(29.5);
    found = examined(total);
    CHECK(told(found.explanation) == "number 9 at 1 2 3 4 5 6 7 8");
}

TEST_CASE("every source turned round") {
    Numbers numbers(8);
    for (const std::size_t n : lengths) {
        for (std::size_t source = 1; source <= n; ++source) {
            CAPTURE(n);
            CAPTURE(source);
            std::vector<double> sources = numbers.sources(n);
            sources[source - 1] *= -1;
            const LadderFinding found = examined(ladder_of(sources));
            CHECK(told(found.explanation) == with("turned source", source));
            CHECK(others(found) == (source == n ? with("open", n) : ""));
            CHECK(sit(found, in_order(n + 1)));
        }
    }
}

TEST_CASE("every source of sixteen outside its limits: flat, weak, too high, below nothing") {
    Numbers numbers(9);
    const std::size_t n = 16;
    for (std::size_t source = 1; source <= n; ++source) {
        for (const double value : {0.4, 1.7, 2.9, 3.15, 3.55, 4.9, -1.0}) {
            CAPTURE(source);
            CAPTURE(value);
            std::vector<double> sources = numbers.sources(n);
            sources[source - 1] = value;
            const LadderFinding found = examined(ladder_of(sources));
            if (source == n && value < 0) {  // one reading alone that falls: an open lead is likelier
                CHECK(told(found.explanation) == with("open", n));
                continue;
            }
            CHECK(told(found.explanation) == with("outside source", source));
            CHECK(found.explanation.value.contains(value));
            CHECK(found.explanation.value.width() <= 4.001 * tolerance);
            CHECK(sit(found, in_order(n + 1)));
            // near its limits its reading alone may be at fault; the last lead's always may
            for (const Explanation& other : found.other) {
                CHECK(other.mistake == Mistake::open);
                CHECK((source == n || value > 2.9));
            }
            if (source == n) CHECK(others(found).find(with("open", n)) != std::string::npos);
        }
    }
}

TEST_CASE("several leads in another order are put in order by what they read") {
    Numbers numbers(10);
    std::mt19937 engine(10);
    int reordered = 0;
    for (int trial = 0; trial < 300; ++trial) {
        CAPTURE(trial);
        const std::size_t n = lengths[static_cast<std::size_t>(trial) % 3];
        Places places = in_order(n + 1);
        std::shuffle(places.begin(), places.end(), engine);
        const LadderFinding found = examined(ladder_of(numbers.sources(n), places));
        CHECK(sit(found, places));
        if (found.explanation.mistake != Mistake::reordered) continue;
        ++reordered;
        for (std::size_t lead = 0; lead <= n; ++lead) {
            const auto& moved = found.explanation.leads;
            CHECK((std::find(moved.begin(), moved.end(), lead) != moved.end()) == (places[lead] != lead));
        }
    }
    CHECK(reordered > 250);
    // a row of leads one place round: the last of them on the first one's place
    for (const std::size_t n : lengths) {
        for (std::size_t a = 0; a <= n; ++a) {
            for (std::size_t b = a + 2; b <= n; ++b) {
                CAPTURE(n);
                CAPTURE(a);
                CAPTURE(b);
                Places places = in_order(n + 1);
                const auto begin = places.begin() + static_cast<std::ptrdiff_t>(a);
                std::rotate(begin, begin + 1, places.begin() + static_cast<std::ptrdiff_t>(b + 1));
                const LadderFinding found = examined(ladder_of(numbers.sources(n), places));
                CHECK(found.explanation.mistake == Mistake::reordered);
                CHECK(found.explanation.leads.size() == b - a + 1);
                CHECK(others(found) == (a == 0 && b == n ? with("open", n) : ""));
                CHECK(sit(found, places));
            }
        }
    }
}

TEST_CASE("two mistakes at once are not passed off as one") {
    Numbers numbers(11);
    const std::size_t n = 16;
    for (std::size_t source = 2; source <= 6; ++source) {
        CAPTURE(source);
        std::vector<double> sources = numbers.sources(n);
        sources[source - 1] *= -1;
        sources[source + 7] = 2.5;
        CHECK(told(examined(ladder_of(sources)).explanation) == "unexplained");

        Ladder ladder = ladder_of(numbers.sources(n));
        ladder.readings[source] = read(dead);
        ladder.readings[source + 6] = read(dead);
        const LadderFinding found = examined(ladder);
        CHECK(told(found.explanation) == "unexplained");
        CHECK(found.other.empty());
        Places places = in_order(n + 1);
        places[source] = 0;
        places[source + 6] = 0;
        CHECK(sit(found, places));
    }
}

TEST_CASE("one source, two leads: what cannot be told apart is all named") {
    Ladder ladder = ladder_of({3.3});
    CHECK(told(examined(ladder).explanation) == "none");
    ladder.readings[1] = read(-3.3);
    LadderFinding found = examined(ladder);
    CHECK(told(found.explanation) == "exchanged 0 1");
    CHECK(others(found) == "signs, turned source 1, open 1");
    ladder.readings[1] = read(dead - 0.01);
    found = examined(ladder);
    CHECK(told(found.explanation) == "open 1");
    CHECK(others(found) == "open 0, doubled 1, outside source 1");
    ladder.readings[1] = read(6.6);
    found = examined(ladder);
    CHECK(told(found.explanation) == "number 2 at 1");
    CHECK(others(found) == "outside source 1, open 1");
    ladder.readings[1] = read(2.8);
    found = examined(ladder);
    CHECK(told(found.explanation) == "outside source 1");
    CHECK(others(found) == "open 1");
    ladder.readings[1] = std::nullopt;
    found = examined(ladder);
    CHECK(told(found.explanation) == "none");
    CHECK(found.sits_at[1] == std::nullopt);
}

TEST_CASE("two sources, the second turned round: near nothing, as an open lead") {
    Ladder ladder = ladder_of({3.25, -3.26});
    LadderFinding found = examined(ladder);
    CHECK(told(found.explanation) == "open 2");
    CHECK(others(found).find("turned source 2") != std::string::npos);
    found = examined(ladder_of({-3.25, 3.26}));
    CHECK(told(found.explanation) == "turned source 1");
}

TEST_CASE("a limit that the tolerance reaches is kept, one beyond it is not") {
    Ladder ladder;
    ladder.source = one_source;
    const auto with_step = [&](double step) {
        ladder.readings = {read(0.0), read(3.3), read(3.3 + step), read(6.6 + step)};
        return told(examined(ladder).explanation);
    };
    // two readings of 5 mV to either side: a step may be 10 mV outside
    CHECK(with_step(3.20 - 0.0099) == "none");
    CHECK(with_step(3.20 - 0.0101) != "none");
    CHECK(with_step(3.40 + 0.0099) == "none");
    CHECK(with_step(3.40 + 0.0101) != "none");
    // no tolerance: at the limits, in decimal numbers, is inside
    for (const double step : {3.2, 3.4}) {
        Ladder exact;
        exact.source = one_source;
        double value = 0.0;
        for (int lead = 0; lead <= 24; ++lead) {
            exact.readings.emplace_back(Interval::point(value));
            value = std::round((value + step) * 10) / 10;
        }
        CHECK(told(examined(exact).explanation) == "none");
        exact.readings[24] = Interval::point(exact.readings[24]->low + (step > 3.3 ? 1e-6 : -1e-6));
        CHECK(told(examined(exact).explanation) == "outside source 24");
    }
    // each step alone may be right, but not all together: 3.20 ± 0.15 and 3.00 ± 0.15 from a lead read well
    Ladder loose;
    loose.source = one_source;
    loose.readings = {read(0.0), Interval{3.05, 3.35}, Interval{6.05, 6.35}};
    CHECK(told(examined(loose).explanation) != "none");
    loose.readings[2] = Interval{6.05, 6.45};
    CHECK(told(examined(loose).explanation) == "none");
}

TEST_CASE("readings as uncertain as a source leave several mistakes open, and say so") {
    // ± 2.9 V. Lead 3 reads 10.3 at least, where 10.2 is the most; lead 4 reads 12.8 at most, the least there
    // is: lead 3 alone may be at fault. No source may: with 10.3 at place 3 there are 13.5 at place 4.
    const std::vector<double> potentials = potentials_of(std::vector<double>(8, 3.3));
    Places places = in_order(9);
    std::swap(places[3], places[4]);
    Ladder ladder;
    ladder.source = one_source;
    for (const std::size_t place : places)
        ladder.readings.emplace_back(Interval{potentials[place] - 2.9, potentials[place] + 2.9});
    ladder.readings[0] = Interval::point(0.0);
    const LadderFinding found = examined(ladder);
    CHECK(told(found.explanation) == "exchanged 3 4");
    CHECK(others(found) == "open 3");
    // ± 3.4 V: even the right order
    for (auto& reading : ladder.readings)
        reading = Interval{reading->low - 0.5, reading->high + 0.5};
    CHECK(told(examined(ladder).explanation) == "none");
}

TEST_CASE("leads that nobody read are left out, and what they hide is named beside") {
    Numbers numbers(12);
    const std::size_t n = 16;
    for (std::size_t absent = 1; absent <= n; ++absent) {
        CAPTURE(absent);
        Ladder ladder = ladder_of(numbers.sources(n));
        ladder.readings[absent] = std::nullopt;
        LadderFinding found = examined(ladder);
        CHECK(told(found.explanation) == "none");
        CHECK(found.sits_at[absent] == std::nullopt);
        CHECK(found.sits_at[absent == n ? 1 : n] == (absent == n ? 1 : n));
        // an exchange among the others is found all the same
        Places places = in_order(n + 1);
        const std::size_t a = absent % n < 8 ? 10 : 2;
        std::swap(places[a], places[a + 2]);
        ladder = ladder_of(numbers.sources(n), places);
        ladder.readings[absent] = std::nullopt;
        found = examined(ladder);
        CHECK(told(found.explanation) == "exchanged " + std::to_string(a) + " " + std::to_string(a + 2));
        CHECK(others(found) == "");
        // a weak source at the gap: on either side of it
        std::vector<double> sources = numbers.sources(n);
        sources[absent - 1] = 1.5;
        ladder = ladder_of(sources);
        ladder.readings[absent] = std::nullopt;
        found = examined(ladder);
        if (absent == n) {
            CHECK(told(found.explanation) == "none");
        } else {
            CHECK(told(found.explanation) == with("outside source", absent));
            CHECK(others(found).find(with("outside source", absent + 1)) == 0);
        }
    }
    Ladder nobody;
    nobody.source = one_source;
    nobody.readings.resize(5);
    CHECK(told(examined(nobody).explanation) == "none");
    CHECK(examined(nobody).sits_at[3] == std::nullopt);
    // lead 0 read against itself has nothing; anything else fits no order
    Ladder wrong = ladder_of({3.3, 3.3});
    wrong.readings[0] = read(1.0);
    CHECK(told(examined(wrong).explanation) == "unexplained");
}

TEST_CASE("every poor joint is named by what its step does under load") {
    Numbers numbers(13);
    for (const std::size_t n : {std::size_t{2}, std::size_t{4}, std::size_t{16}, std::size_t{24}}) {
        for (std::size_t joint = 1; joint <= n; ++joint) {
            for (const double direction : {1.0, -1.0}) {  // discharged, charged
                CAPTURE(n);
                CAPTURE(joint);
                CAPTURE(direction);
                std::vector<double> sources = numbers.sources(n);
                Ladder ladder = ladder_of(sources);
                std::vector<double> sags;
                for (double& source : sources) {
                    sags.push_back(numbers.between(0.040, 0.060));
                    source -= direction * sags.back();
                }
                ladder.loaded = ladder_of(sources).readings;
                CHECK(told(examined(ladder).explanation) == "none");
                sources[joint - 1] -= direction * 0.200;
                ladder.loaded = ladder_of(sources).readings;
                const LadderFinding found = examined(ladder);
                CHECK(told(found.explanation) == with("joint source", joint));
                CHECK(sit(found, in_order(n + 1)));
                // twice as much is not enough
                sources[joint - 1] += direction * (0.200 - 0.9 * sags[joint - 1]);
                ladder.loaded = ladder_of(sources).readings;
                CHECK(told(examined(ladder).explanation) == "none");
            }
        }
    }
}

TEST_CASE("joints: tolerance, two of them, absent readings, a wrong order first") {
    const std::vector<double> rest(8, 3.3);
    std::vector<double> load(8, 3.299);
    Ladder ladder = ladder_of(rest);
    load[4] = 3.285;  // 15 mV against 1 mV, but the four readings allow 20 mV
    ladder.loaded = ladder_of(load).readings;
    CHECK(told(examined(ladder).explanation) == "none");
    load[4] = 3.275;
    ladder.loaded = ladder_of(load).readings;
    CHECK(told(examined(ladder).explanation) == "joint source 5");
    load[6] = 3.25;
    ladder.loaded = ladder_of(load).readings;
    CHECK(told(examined(ladder).explanation) == "joint source 5 source 7");
    ladder.loaded[5] = std::nullopt;
    CHECK(told(examined(ladder).explanation) == "joint source 7");
    std::swap(ladder.readings[2], ladder.readings[3]);
    CHECK(told(examined(ladder).explanation) == "exchanged 2 3");
    // one source has nothing to be compared with
    Ladder one = ladder_of({3.3});
    one.loaded = ladder_of({2.5}).readings;
    CHECK(told(examined(one).explanation) == "none");
}

TEST_CASE("no answer to what is no ladder") {
    const double no_number = std::numeric_limits<double>::quiet_NaN();
    const double infinite = std::numeric_limits<double>::infinity();
    const Ladder good = ladder_of({3.3, 3.3});
    CHECK(examine(good));
    Ladder bad = good;
    bad.readings.resize(1);
    CHECK_FALSE(examine(bad));
    bad.readings.clear();
    CHECK_FALSE(examine(bad));
    bad.readings.resize(most_leads + 1);
    CHECK_FALSE(examine(bad));
    for (const Interval wrong :
         {Interval{no_number, 1}, Interval{1, no_number}, Interval{0, infinite}, Interval{2, 1}}) {
        bad = good;
        bad.readings[1] = wrong;
        CHECK_FALSE(examine(bad));
        bad = good;
        bad.loaded = good.readings;
        bad.loaded[2] = wrong;
        CHECK_FALSE(examine(bad));
        bad = good;
        bad.source = wrong;
        CHECK_FALSE(examine(bad));
    }
    bad = good;
    bad.source = {0.0, 3.4};
    CHECK_FALSE(examine(bad));
    bad = good;
    bad.loaded.resize(2);
    CHECK_FALSE(examine(bad));
}
