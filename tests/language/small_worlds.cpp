// Every expression of up to three operators over two inputs, in every world where each input is missing,
// asked for, a default, a point below, at or above the limit, or an interval that straddles it: the evaluator
// against a slow one that knows only points, in long double.
#include <doctest/doctest.h>
#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

#include "plain_world.hpp"

using namespace packproof;
using namespace packproof::language;

namespace {

using Real = long double;

/// An expression on its own, apart from the production tree. Leaves: a, b, l (the limit).
struct Tree {
    char sign = 'l';  ///< + - * / < L (<=) & | ! s (is stated) d (is assumed)
                      ///< k (is known) m (is mentioned)
    int left = -1;
    int right = -1;
    bool truth = false;
};

constexpr Real limit = 2.0L;

struct Forest {
    std::vector<Tree> trees;
    std::vector<int> numbers[4];  ///< by how many operators they have
    std::vector<int> truths[4];

    int add(Tree tree) {
        trees.push_back(tree);
        return static_cast<int>(trees.size()) - 1;
    }

    Forest() {
        for (const char leaf : {'a', 'b', 'l'})
            numbers[0].push_back(add({leaf, -1, -1, false}));
        for (std::size_t size = 1; size <= 3; ++size) {
            for (std::size_t left = 0; left < size; ++left) {
                const std::size_t right = size - 1 - left;
                for (const int l : std::vector<int>(numbers[left]))
                    for (const int r : std::vector<int>(numbers[right])) {
                        for (const char sign : {'+', '-', '*', '/'})
                            numbers[size].push_back(add({sign, l, r, false}));
                        for (const char sign : {'<', 'L'})
                            truths[size].push_back(add({sign, l, r, true}));
                    }
                for (const int l : std::vector<int>(truths[left]))
                    for (const int r : std::vector<int>(truths[right]))
                        for (const char sign : {'&', '|'})
                            truths[size].push_back(add({sign, l, r, true}));
            }
            for (const int inner : std::vector<int>(truths[size - 1]))
                truths[size].push_back(add({'!', inner, -1, true}));
        }
        for (const int leaf : {0, 1})
            for (const char sign : {'s', 'd', 'k', 'm'})
                truths[1].push_back(add({sign, leaf, -1, true}));
    }

    [[nodiscard]] std::string text(int index) const {
        const Tree& tree = trees[static_cast<std::size_t>(index)];
        switch (tree.sign) {
            case 'l':
                return "2";
            case 'a':
            case 'b':
                return std::string(1, tree.sign);
            case 's':
                return text(tree.left) + " is stated";
            case 'd':
                return text(tree.left) + " is assumed";
            case 'k':
                return text(tree.left) + " is known";
            case 'm':
                return text(tree.left) + " is mentioned";
            case '!':
                return "(not " + text(tree.left) + ")";
            case '&':
                return "(" + text(tree.left) + " and " + text(tree.right) + ")";
            case '|':
                return "(" + text(tree.left) + " or " + text(tree.right) + ")";
            case 'L':
                return "(" + text(tree.left) + " <= " + text(tree.right) + ")";
            default:
                return "(" + text(tree.left) + " " + tree.sign + " " + text(tree.right) + ")";
        }
    }
};

struct World2 {
    bool has[2];
    Real value[2];
    bool is_default[2];
    bool asked[2];
};

/// What one point gives. `doubtful`: a divisor or a comparison so near to its edge that double and long
/// double may rightly differ.
struct Point {
    bool missing = false;
    bool absent = false;  ///< missing for want of an input, not for a divisor of zero
    bool doubtful = false;
    Real number = 0;
    bool truth = false;
};

Point reference(const Forest& forest, int index, const World2& world) {
    const Tree& tree = forest.trees[static_cast<std::size_t>(index)];
    if (tree.sign == 'l') return {false, false, false, limit, false};
    if (tree.sign == 'a' || tree.sign == 'b') {
        const int which = tree.sign - 'a';
        return {!world.has[which], !world.has[which], false, world.value[which], false};
    }
    if (tree.sign == 's' || tree.sign == 'd' || tree.sign == 'k' || tree.sign == 'm') {
        const int which = forest.trees[static_cast<std::size_t>(tree.left)].sign - 'a';
        const bool has = world.has[which];
        if (tree.sign == 's') return {false, false, false, 0, has};
        if (tree.sign == 'd') return {!has, !has, false, 0, world.is_default[which]};
        const bool unknown = !has || world.is_default[which];
        if (tree.sign == 'k') return {unknown, unknown, false, 0, true};
        return {false, false, false, 0, (has && !world.is_default[which]) || world.asked[which]};
    }
    const Point a = reference(forest, tree.left, world);
    if (tree.sign == '!') return {a.missing, a.absent, a.doubtful, 0, !a.truth};
    const Point b = reference(forest, tree.right, world);
    Point made{a.missing || b.missing, a.absent || b.absent, a.doubtful || b.doubtful, 0, false};
    if (tree.sign == '&' || tree.sign == '|') {
        const bool decisive = tree.sign == '|';
        const bool decided = (!a.missing && a.truth == decisive) || (!b.missing && b.truth == decisive);
        made.missing = !decided && made.missing;
        made.absent = !decided && made.absent;
        made.truth = decided ? decisive : !decisive;
        return made;
    }
    if (made.missing) return made;
    const Real gap = std::abs(a.number - b.number);
    const bool same = gap <= 1e-12L * std::max(std::abs(a.number), std::abs(b.number));
    switch (tree.sign) {
        case '+':
            made.number = a.number + b.number;
            break;
        case '-':
            made.number = a.number - b.number;
            break;
        case '*':
            made.number = a.number * b.number;
            break;
        case '/':
            if (b.number == 0)
                made.missing = true;
            else if (std::abs(b.number) < 1e-9L)
                made.doubtful = true;
            made.number = b.number == 0 ? 0 : a.number / b.number;
            break;
        default:
            made.truth = tree.sign == '<' ? a.number < b.number && !same : a.number < b.number || same;
            if (gap != 0 && gap < 1e-9L) made.doubtful = true;
    }
    return made;
}

enum State { absent, asked, assumed, below, at, above, straddling };
constexpr std::size_t states = straddling + 1;

std::optional<units::Interval> range_of(State state) {
    switch (state) {
        case absent:
        case asked:
            return std::nullopt;
        case assumed:
        case below:
            return units::Interval{1.0, 1.0};
        case at:
            return units::Interval{2.0, 2.0};
        case above:
            return units::Interval{4.0, 4.0};
        case straddling:
            break;
    }
    return units::Interval{1.0, 4.0};
}

/// Corners, the limit itself, and points between.
std::vector<World2> samples(State a, State b, std::mt19937& random) {
    std::uniform_real_distribution<double> between(1.0, 4.0);
    const auto values = [&](State state) -> std::vector<Real> {
        if (state == straddling) return {1.0L, 4.0L, 2.0L, between(random), between(random)};
        const auto range = range_of(state);
        return {range ? static_cast<Real>(range->low) : 0.0L};
    };
    std::vector<World2> all;
    for (const Real x : values(a))
        for (const Real y : values(b))
            all.push_back({{range_of(a).has_value(), range_of(b).has_value()},
                           {x, y},
                           {a == assumed, b == assumed},
                           {a == asked, b == asked}});
    return all;
}

struct Count {
    std::size_t expressions = 0;
    std::size_t cases = 0;
    std::size_t samples = 0;
    std::size_t decided = 0;
    std::size_t escaped = 0;  ///< a sample outside the interval
    std::size_t false_yes = 0;
    std::size_t false_no = 0;
    std::size_t wrongly_present = 0;  ///< a value where a point has none
    std::size_t wrongly_missing = 0;  ///< none where every point has one and no input was absent
    std::size_t loose = 0;            ///< open although all inputs are points
};

void compare_case(const Forest& forest, int index, const model::Value& value,
                  const std::vector<World2>& points, bool all_points, Count& count) {
    std::size_t missing = 0;
    std::size_t absent_at = 0;
    for (const World2& world : points) {
        const Point expected = reference(forest, index, world);
        ++count.samples;
        missing += expected.missing ? 1 : 0;
        absent_at += expected.absent ? 1 : 0;
        if (expected.doubtful) continue;
        if (expected.missing) {
            // Within an interval a single undefined point (a divisor of zero) is passed over by an enclosure.
            if (all_points && !value.missing()) ++count.wrongly_present;
            continue;
        }
        if (all_points && value.missing()) ++count.wrongly_missing;
        if (const model::Number* number = value.number()) {
            const Real slack = 1e-17L * std::max(1.0L, std::abs(expected.number));
            if (expected.number < number->range.low - slack || expected.number > number->range.high + slack)
                ++count.escaped;
        }
        if (const model::Truth* truth = value.truth()) {
            if (*truth == model::Truth::yes && !expected.truth) ++count.false_yes;
            if (*truth == model::Truth::no && expected.truth) ++count.false_no;
            if (*truth == model::Truth::open && all_points) ++count.loose;
        }
    }
    if (value.truth() != nullptr && *value.truth() != model::Truth::open) ++count.decided;
    const bool absence = !points.front().has[0] || !points.front().has[1];
    if (value.missing() && missing == 0 && !absence) ++count.wrongly_missing;
    // Where every point lacks a value for want of an input, so must the whole.
    if (!value.missing() && absent_at == points.size()) ++count.wrongly_present;
}

/// What the checker refuses for good reason: a comparison whose answer is the same at every point.
void check_refused(const Forest& forest, const std::vector<int>& refused,
                   const std::vector<std::vector<World2>>& points) {
    std::size_t comparisons = 0;
    std::size_t varying = 0;
    for (const int index : refused) {
        const char sign = forest.trees[static_cast<std::size_t>(index)].sign;
        if (sign != '<' && sign != 'L') continue;
        ++comparisons;
        bool seen[2] = {false, false};
        for (const auto& state : points)
            for (const World2& world : state)
                if (const Point point = reference(forest, index, world); !point.missing)
                    seen[point.truth ? 1 : 0] = true;
        varying += seen[0] && seen[1] ? 1 : 0;
    }
    CHECK(comparisons > 100);
    CHECK(varying == 0);
}

}  // namespace

TEST_CASE("every small expression in every small world agrees with sampling it") {
    const Forest forest;
    PlainWorld world;
    std::mt19937 random(20240501);
    Count count;
    std::vector<std::vector<World2>> points;
    for (int a = absent; a <= straddling; ++a)
        for (int b = absent; b <= straddling; ++b)
            points.push_back(samples(static_cast<State>(a), static_cast<State>(b), random));
    std::vector<Expression> kept;
    std::vector<int> which;
    std::vector<int> refused;
    for (std::size_t size = 0; size <= 3; ++size)
        for (const auto* group : {&forest.numbers[size], &forest.truths[size]})
            for (const int index : *group) {
                std::vector<Mistake> mistakes;
                auto tree = world.compile(forest.text(index), mistakes);
                if (!tree) {
                    REQUIRE_FALSE(mistakes.empty());
                    for (const Mistake& mistake : mistakes)
                        if (mistake.text != "compares two constants: the answer never changes")
                            REQUIRE(mistake.text == "this comparison can never hold");
                    refused.push_back(index);
                    continue;
                }
                kept.push_back(std::move(*tree));
                which.push_back(index);
            }
    count.expressions = kept.size();
    check_refused(forest, refused, points);
    const Context context = world.context();
    for (std::size_t state = 0; state < points.size(); ++state) {
        const auto a = static_cast<State>(state / states);
        const auto b = static_cast<State>(state % states);
        world.set({range_of(a), range_of(b)});
        for (std::size_t i = 0; i < 2; ++i) {
            const State one = i == 0 ? a : b;
            if (one == assumed) world.make_assumed(i);
            if (one == asked) world.ask_for(i);
        }
        for (std::size_t i = 0; i < kept.size(); ++i) {
            ++count.cases;
            compare_case(forest, which[i], evaluate(kept[i], 0, context), points[state],
                         a != straddling && b != straddling, count);
        }
    }
    fmt::print("small worlds: {} expressions, {} cases, {} samples, {} truths decided\n", count.expressions,
               count.cases, count.samples, count.decided);
    CHECK(count.cases > 100000);
    CHECK(count.decided > 100000);
    CHECK(count.escaped == 0);
    CHECK(count.false_yes == 0);
    CHECK(count.false_no == 0);
    CHECK(count.wrongly_present == 0);
    CHECK(count.wrongly_missing == 0);
    CHECK(count.loose == 0);
}
