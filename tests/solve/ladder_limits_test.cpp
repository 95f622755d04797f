// Ladders at the limits of what readings tell: tolerances, leads that nobody read, mistakes that read the
// same, poor joints under load.
#include "engine/solve/ladder.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <string>
#include <utility>
#include <vector>

#include "tests/solve/ladders.hpp"

using namespace packproof::solve;
using namespace packproof::solve::ladders;

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
    // nobody read lead 2: source 2 or 3 has 8.0 - 3.3 less what the other may have, 1.3 to 1.5 V
    Ladder gap;
    gap.source = one_source;
    gap.readings = {read(0.0), read(3.3), std::nullopt, read(8.0), read(11.3)};
    const LadderFinding weak = examined(gap);
    CHECK(told(weak.explanation) == "outside source 2");
    CHECK(others(weak) == "outside source 3");
    CHECK(weak.explanation.value.low == doctest::Approx(1.3 - 2 * tolerance));
    CHECK(weak.explanation.value.high == doctest::Approx(1.5 + 2 * tolerance));
    // two leads with one exact reading: a source without voltage, exactly
    gap.readings = {read(0.0), read(3.3), Interval::point(6.5), Interval::point(6.5), read(9.8)};
    CHECK(others(examined(gap)) == "number 3 at 3, outside source 3");
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

TEST_CASE("what was done is always among what is named, whatever the tolerance and whoever was read") {
    Numbers numbers(14);
    int named_first = 0;
    int contradicted = 0;
    for (int trial = 0; trial < 4000; ++trial) {
        CAPTURE(trial);
        const auto any = [&](std::size_t below) {
            return static_cast<std::size_t>(numbers.between(0, static_cast<double>(below)));
        };
        const std::size_t n = 2 + any(9);
        std::vector<double> sources = numbers.sources(n);
        Places places = in_order(n + 1);
        std::string done;
        double sign = 1.0;
        const std::size_t k = 1 + any(n);
        switch (trial % 6) {
            case 0:
                std::swap(places[k - 1], places[k]);
                done = "exchanged " + std::to_string(k - 1) + " " + std::to_string(k);
                break;
            case 1:
                for (std::size_t lead = k; lead <= n; ++lead)
                    --places[lead];
                done = with("doubled", k);
                break;
            case 2:
                sources[k - 1] *= -1.0;
                done = with("turned source", k);
                break;
            case 3:
                sources[k - 1] = numbers.between(0.0, 3.0);
                done = with("outside source", k);
                break;
            case 4:
                sources.push_back(3.3);
                for (std::size_t lead = k; lead <= n; ++lead)
                    ++places[lead];
                done = "number " + std::to_string(n + 1) + " at";
                break;
            default:
                sign = -1.0;
                done = "signs";
        }
        Ladder ladder = ladder_of(sources, places);
        const double wide = trial % 3 == 0 ? 0.001 : numbers.between(0.0, 1.5);
        for (std::size_t lead = 1; lead <= n; ++lead) {
            const double exact = sign * 0.5 * (ladder.readings[lead]->low + ladder.readings[lead]->high);
            const double off = numbers.between(-wide, wide);
            ladder.readings[lead] = Interval{exact + off - wide, exact + off + wide};
            if (trial % 4 == 0 && numbers.between(0, 1) < 0.3) ladder.readings[lead] = std::nullopt;
        }
        const LadderFinding found = examined(ladder);
        const std::string first = told(found.explanation);
        if (first == "none") continue;
        ++contradicted;
        if (first.find(done) == 0) ++named_first;
        CAPTURE(done);
        CAPTURE(first);
        CAPTURE(others(found));
        CHECK((first + ", " + others(found) + ",").find(done + (trial % 6 == 4 ? "" : ",")) !=
              std::string::npos);
    }
    CHECK(contradicted > 3000);
    CHECK(named_first > contradicted / 2);
}

TEST_CASE("the longest ladders are answered too") {
    Numbers numbers(15);
    const std::size_t n = most_leads - 1;
    std::vector<double> sources = numbers.sources(n);
    sources[200] *= -1;
    CHECK(told(examined(ladder_of(sources)).explanation) == "turned source 201");
    sources[300] *= -1;
    CHECK(told(examined(ladder_of(sources)).explanation) == "unexplained");
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
