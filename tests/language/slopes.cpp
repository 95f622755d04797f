// Slopes of single operations against difference quotients, and the rules of steps.
#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "engine/language/arithmetic.hpp"
#include "plain_world.hpp"

using namespace packproof;
using namespace packproof::language;

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

model::Value value_of(const PlainWorld& world, const Expression& tree, Interval a, Interval b) {
    Box box;
    box.inputs = {{0, 0}, {0, 1}};
    box.values = {PlainWorld::number(a), PlainWorld::number(b)};
    Context asking = world.context();
    asking.box = &box;
    return evaluate(tree, 0, asking);
}

}  // namespace

TEST_CASE("a slope over a box encloses every difference quotient inside it") {
    const PlainWorld world;
    const Interval a{0.5, 2.0};
    const Interval b{1.0, 3.0};
    for (const char* text : {"a + b",
                             "a - b",
                             "a * b",
                             "a / b",
                             "-a",
                             "a^3",
                             "a^-2",
                             "sqrt(a)",
                             "exp(a)",
                             "ln(a)",
                             "abs(a - 1)",
                             "min(a, b)",
                             "max(a, b)",
                             "a * a / (a + b)",
                             "round_up(a * 3)",
                             "between(a, b * b)",
                             "if b > 2 then a else a^2",
                             "if b > 0 then a else b",
                             "exp(a * b) / b",
                             "2",
                             "min(a, b, 1.5)"}) {
        CAPTURE(text);
        const Expression tree = world.compile(text);
        const model::Value whole = value_of(world, tree, a, b);
        REQUIRE(whole.number() != nullptr);
        Slopes slopes = whole.number()->slopes;
        slopes.resize(2, Interval{0.0, 0.0});
        const auto at = [&](double x, double y) {
            return value_of(world, tree, Interval::point(x), Interval::point(y)).number()->nominal;
        };
        std::size_t outside = 0;
        constexpr int steps = 12;
        for (int i = 0; i < steps; ++i)
            for (int j = 0; j <= steps; ++j) {
                const double low = a.low + a.width() * i / steps;
                const double high = a.low + a.width() * (i + 1) / steps;
                const double y = b.low + b.width() * j / steps;
                const double along_a = (at(high, y) - at(low, y)) / (high - low);
                outside += along_a < slopes[0].low - 1e-9 || along_a > slopes[0].high + 1e-9 ? 1 : 0;
                const double below = b.low + b.width() * i / steps;
                const double above = b.low + b.width() * (i + 1) / steps;
                const double x = a.low + a.width() * j / steps;
                const double along_b = (at(x, above) - at(x, below)) / (above - below);
                outside += along_b < slopes[1].low - 1e-9 || along_b > slopes[1].high + 1e-9 ? 1 : 0;
            }
        CHECK(outside == 0);
    }
}

TEST_CASE("slopes are as tight as the pencil makes them") {
    const PlainWorld world;
    const auto slopes = [&](std::string_view text, Interval a, Interval b) {
        return value_of(world, world.compile(text), a, b).number()->slopes;
    };
    CHECK(slopes("a * b", {1.0, 2.0}, {3.0, 4.0}) == Slopes{{3.0, 4.0}, {1.0, 2.0}});
    CHECK(slopes("a^2", {1.0, 2.0}, {0.0, 0.0}) == Slopes{{2.0, 4.0}, {0.0, 0.0}});
    CHECK(slopes("sqrt(a)", {4.0, 16.0}, {0.0, 0.0}) == Slopes{{0.125, 0.25}, {0.0, 0.0}});  // 1 / (2 √x)
    CHECK(slopes("min(a, b)", {1.0, 2.0}, {3.0, 4.0}) == Slopes{{1.0, 1.0}, {0.0, 0.0}});
    CHECK(slopes("max(a, b)", {1.0, 3.5}, {3.0, 4.0}) == Slopes{{0.0, 1.0}, {0.0, 1.0}});
    CHECK(slopes("abs(a)", {-1.0, 2.0}, {0.0, 0.0}) == Slopes{{-1.0, 1.0}, {0.0, 0.0}});
    CHECK(slopes("round_down(a)", {1.0, 2.0}, {0.0, 0.0}) == Slopes{{0.0, infinity}, {0.0, 0.0}});
    CHECK(slopes("if a > 1 then 2 else 3", {0.0, 2.0}, {0.0, 0.0}) ==
          Slopes{{-infinity, infinity}, {-infinity, infinity}});
    CHECK(slopes("if a > 1 then 2 else 2", {0.0, 2.0}, {0.0, 0.0}).empty());
    CHECK(slopes("least(a) + nominal(b)", {0.0, 2.0}, {0.0, 1.0}).empty());
}

TEST_CASE("step slopes follow the direction of the steps") {
    const model::Value key{model::Number{{1.0, 2.0}, 1.5, {{2.0, 3.0}, {0.0, 0.0}, {-1.0, 1.0}}}, {}};
    CHECK(step_slopes(key, true, false) == Slopes{{0.0, infinity}, {0.0, 0.0}, {-infinity, infinity}});
    CHECK(step_slopes(key, false, true) == Slopes{{-infinity, 0.0}, {0.0, 0.0}, {-infinity, infinity}});
    CHECK(step_slopes(key, true, true) == Slopes{{-infinity, infinity}, {0.0, 0.0}, {-infinity, infinity}});
    CHECK(step_slopes({}, true, false).empty());
}
