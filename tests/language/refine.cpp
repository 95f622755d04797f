// Refined ranges against sampled ones: they never lose a value, and hardly exceed what is found.
#include "engine/language/refine.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "plain_world.hpp"

using namespace packproof;
using namespace packproof::language;
using units::Interval;

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

struct Study : PlainWorld {
    Refined run(std::string_view text, const std::vector<Interval>& ranges, std::size_t most_boxes = 256) {
        const Expression tree = compile(text);
        Box box;
        for (std::size_t i = 0; i < ranges.size(); ++i) {
            box.inputs.push_back({0, static_cast<model::FieldIndex>(i)});
            box.values.push_back(number(ranges[i]));
        }
        return refine(
            [&](const Box& part) {
                Context asking = context();
                asking.box = &part;
                return evaluate(tree, 0, asking);
            },
            box, most_boxes);
    }

    /// The value at one point, by the same tree without any box.
    double at(const Expression& tree, const std::vector<double>& point) {
        std::vector<std::optional<Interval>> ranges;
        for (const double x : point)
            ranges.emplace_back(Interval::point(x));
        set(ranges);
        const model::Value value = evaluate(tree, 0, context());
        REQUIRE(value.number() != nullptr);
        return value.number()->nominal;
    }

    /// Corners, a grid, and random points.
    Interval sampled(std::string_view text, const std::vector<Interval>& ranges) {
        const Expression tree = compile(text);
        std::mt19937 random(7);
        Interval hull{infinity, -infinity};
        const auto take = [&](const std::vector<double>& point) {
            const double value = at(tree, point);
            hull.low = std::min(hull.low, value);
            hull.high = std::max(hull.high, value);
        };
        const int steps = ranges.size() == 1 ? 2000 : ranges.size() == 2 ? 80 : 20;
        int total = 1;
        for (std::size_t i = 0; i < ranges.size(); ++i)
            total *= steps + 1;
        for (int n = 0; n < total; ++n) {
            std::vector<double> point;
            int rest = n;
            for (const Interval& range : ranges) {
                point.push_back(range.low + range.width() * (rest % (steps + 1)) / steps);
                rest /= steps + 1;
            }
            take(point);
        }
        for (int n = 0; n < 2000; ++n) {
            std::vector<double> point;
            for (const Interval& range : ranges)
                point.push_back(std::uniform_real_distribution<double>(range.low, range.high)(random));
            take(point);
        }
        return hull;
    }
};

struct Formula {
    std::string_view text;
    std::vector<Interval> ranges;
    std::size_t most_boxes = 256;
};

const std::vector<Formula> formulas = {
    {"a * (1 - a)", {{0.0, 1.0}}},
    {"a * (1 - a)", {{0.2, 0.9}}},
    {"a - a", {{1.0, 5.0}}},
    {"a / a", {{1.0, 5.0}}},
    {"a^2 - 2 * a", {{-1.0, 3.0}}},
    {"a^3 - 3 * a", {{-2.0, 2.0}}},
    {"a * exp(0 - a)", {{0.1, 5.0}}},
    {"a * ln(a)", {{0.05, 2.0}}},
    {"abs(a) - a^2", {{-2.0, 2.0}}},
    {"a / (a + b)", {{1.0, 3.0}, {2.0, 5.0}}},
    {"a * b / (a + b)", {{1.0, 3.0}, {2.0, 5.0}}},
    {"(a - b) / (a + b)", {{1.0, 3.0}, {2.0, 5.0}}},
    {"sqrt(a^2 + b^2)", {{-1.0, 3.0}, {-3.0, 1.0}}},
    {"max(a, b) - min(a, b)", {{0.0, 2.0}, {1.0, 3.0}}, 8192},  // least along a whole kink, a = b
    {"min(a * b, a + b) / max(a, b)", {{0.5, 2.0}, {1.0, 3.0}}},
    {"a / (b * c) * (1 + 0.1 * c)", {{4.0, 6.0}, {0.15, 0.31}, {5.9, 6.1}}},
    {"a / (b * c) + a / (b * c)^2", {{4.0, 6.0}, {0.15, 0.31}, {5.0, 7.0}}},
    {"(a - b) * (b - c)", {{0.0, 1.0}, {0.2, 0.7}, {0.0, 1.0}}},
    {"if a > 0 then a else 0 - a", {{-1.0, 2.0}}},
    {"if a > 1 then a^2 else 2 - a", {{0.0, 2.0}}},
    {"a * b + b * c + c * a", {{-1.0, 1.0}, {-1.0, 1.0}, {-1.0, 1.0}}},
};

}  // namespace

TEST_CASE_FIXTURE(Study,
                  "a refined range holds every sample and exceeds the samples by at most one in a thousand") {
    for (const Formula& formula : formulas) {
        CAPTURE(formula.text);
        const Interval hull = sampled(formula.text, formula.ranges);
        const Refined refined = run(formula.text, formula.ranges, formula.most_boxes);
        CHECK_FALSE(refined.missing);
        const double rounding = 1e-12 * std::max({1.0, std::abs(hull.low), std::abs(hull.high)});
        CHECK(refined.range.low <= hull.low + rounding);
        CHECK(refined.range.high >= hull.high - rounding);
        const double allowed =
            1e-3 * std::max({hull.width(), std::abs(hull.low), std::abs(hull.high)}) + 1e-9;
        CHECK(refined.range.low >= hull.low - allowed);
        CHECK(refined.range.high <= hull.high + allowed);
    }
}

TEST_CASE_FIXTURE(Study, "what a pencil gives is given") {
    // x (1 - x) has its greatest value 1/4 at x = 1/2
    const Refined parabola = run("a * (1 - a)", {{0.0, 1.0}});
    CHECK(parabola.range.low == 0.0);
    CHECK(parabola.range.high == doctest::Approx(0.25).epsilon(1e-5));
    // a / (a + b) = 1 / (1 + b / a): least at 1 / (1 + 5), greatest at 3 / (3 + 2)
    const Refined share = run("a / (a + b)", {{1.0, 3.0}, {2.0, 5.0}});
    CHECK(share.range.low == doctest::Approx(1.0 / 6.0));
    CHECK(share.range.high == doctest::Approx(0.6));
    CHECK(share.evaluations < 100);
    const Refined nothing = run("a - a", {{1.0, 5.0}});
    CHECK(nothing.range == Interval{0.0, 0.0});
    // a and b stand once each: the plain enclosure is already exact, three evaluations tell
    CHECK(run("a * b", {{1.0, 2.0}, {3.0, 4.0}}).range == Interval{3.0, 8.0});
    CHECK(run("a * b", {{1.0, 2.0}, {3.0, 4.0}}).evaluations <= 5);
}

TEST_CASE_FIXTURE(Study, "slopes over the whole box enclose the derivatives") {
    const Refined refined = run("a * b", {{1.0, 2.0}, {3.0, 4.0}});
    REQUIRE(refined.slopes.size() == 2);
    CHECK(refined.slopes[0] == Interval{3.0, 4.0});
    CHECK(refined.slopes[1] == Interval{1.0, 2.0});
    const Refined half = run("a * 2", {{1.0, 2.0}, {3.0, 4.0}});
    CHECK(half.slopes[1] == Interval{0.0, 0.0});
}

TEST_CASE_FIXTURE(Study, "one-sided inputs leave open what they do not bound, and nothing else") {
    CHECK(run("1 / a", {{2.0, infinity}}).range == Interval{0.0, 0.5});
    CHECK(run("a + 1", {{2.0, infinity}}).range == Interval{3.0, infinity});
    CHECK(run("a * b", {{-infinity, infinity}, {1.0, 2.0}}).range == Interval{-infinity, infinity});
    CHECK(run("12 / a", {{0.0, 0.25}}).range == Interval{48.0, infinity});
    CHECK_FALSE(run("12 / a", {{0.0, 0.25}}).missing);  // no division by zero is tried
    CHECK(run("min(a, 3)", {{-infinity, infinity}}).range == Interval{-infinity, 3.0});
    const Refined square = run("a^2", {{-infinity, infinity}});
    CHECK(square.range.high == infinity);
    CHECK(square.range.low >= 0.0);
    const Refined hump = run("a * exp(0 - a)", {{0.0, infinity}});
    CHECK(hump.range.low <= 0.0);
    CHECK(hump.range.high >= std::exp(-1.0));  // at a = 1
    for (const char* text : {"a - a", "a / a", "a / (a + 1)", "a^2 - a", "sqrt(a) - a", "a * (1 - a)"}) {
        CAPTURE(text);
        const Refined refined = run(text, {{1.0, infinity}});
        CHECK_FALSE(std::isnan(refined.range.low));
        CHECK_FALSE(std::isnan(refined.range.high));
        CHECK(refined.range.low <= refined.range.high);
    }
}

TEST_CASE_FIXTURE(Study, "a box where the formula has no value anywhere or somewhere says so") {
    CHECK(run("1 / (a - a)", {{2.0, 2.0}}).missing);
    CHECK(run("sqrt(a)", {{-2.0, -1.0}}).missing);
    CHECK(run("ln(a) * a", {{-3.0, 1.0}}).range.high >= 0.0);
}

TEST_CASE_FIXTURE(Study, "the ends of a tolerance are constants, however the box is cut") {
    CHECK(run("most(a) - least(a)", {{1.0, 2.0}}).range == Interval{1.0, 1.0});
    CHECK(run("a / most(a)", {{1.0, 2.0}}).range == Interval{0.5, 1.0});
    CHECK(run("nominal(a) * a", {{1.0, 2.0}}).range == Interval{1.5, 3.0});
}

TEST_CASE_FIXTURE(Study, "steps are followed to their ends") {
    CHECK(run("round_up(a) - a", {{0.5, 2.5}}).range.low == doctest::Approx(0.0).epsilon(1e-6));
    CHECK(run("between(a, b) - a", {{1.0, 2.0}, {2.0, 3.0}}).range == Interval{-0.0, 2.0});
    CHECK(run("round_up(a)", {{0.5, 2.5}}).range == Interval{1.0, 3.0});
    CHECK(run("round_up(a) * b", {{0.5, 2.5}, {1.0, 2.0}}).range == Interval{1.0, 6.0});
}

TEST_CASE("texts that are unknown among alternatives are split before anything else") {
    // f = -x for 'a', +x for 'b', over x in [1, 2]: together [-2, 2], never within (-1, 1) as separate parts
    Box box;
    box.inputs = {{0, 0}, {0, 1}};
    box.values = {model::Value{model::Text{"a", {"a", "b"}}, {}}, PlainWorld::number({1.0, 2.0})};
    std::size_t unsplit = 0;
    const Refined refined = refine(
        [&](const Box& part) -> model::Value {
            const model::Text& text = *part.values[0].text();
            if (!text.alternatives.empty()) ++unsplit;
            const double sign = text.value == "a" ? -1.0 : 1.0;
            const Interval slope = Interval::point(sign);
            return {model::Number{slope * part.values[1].number()->range, 0.0, {{0.0, 0.0}, slope}}, {}};
        },
        box);
    CHECK(unsplit == 0);
    CHECK(refined.range == Interval{-2.0, 2.0});
    CHECK(refined.slopes[1] == Interval{-1.0, 1.0});
}

TEST_CASE_FIXTURE(Study, "refinement ends within its budget") {
    const Refined refined =
        run("(a - b) * (b - c) * (c - d) * (d - a)", {{0.0, 1.0}, {0.0, 1.0}, {0.0, 1.0}, {0.0, 1.0}}, 256);
    // each direction: 256 boxes, each evaluated at most once a pinned input, once more, and at its middle
    CHECK(refined.evaluations <= 2 * 256 * 6);
    CHECK(refined.range.low <= 0.0);
}
