// No value escapes: random operands, edges among them, against samples in long double (64 bits of mantissa)
// and against Boost.Interval, an implementation from outside that switches the rounding mode.
#include <array>
#include <cmath>
#include <limits>
#include <random>

#include <doctest/doctest.h>
#include <boost/numeric/interval.hpp>

#include "engine/units/interval.hpp"

using namespace packproof::units;

namespace {

using Outside = boost::numeric::interval<
    double,
    boost::numeric::interval_lib::policies<
        boost::numeric::interval_lib::save_state<boost::numeric::interval_lib::rounded_transc_std<double>>,
        boost::numeric::interval_lib::checking_base<double>>>;

/// The same numbers on every machine: the engine's output is laid down by the C++ standard.
class Numbers {
  public:
    double next() {
        constexpr std::array<double, 16> edges = {0.0,    1.0,   -1.0, 0.1,  -0.1,  3.0,     1e-12,  1e12,
                                                  1e-150, 1e150, 0.2,  1.25, 160.0, 0x1p-60, 0x1p60, -7.0};
        const auto kind = engine_() % 4U;
        if (kind == 0) return edges[engine_() % edges.size()];
        if (kind == 1) return step_up(edges[engine_() % edges.size()]);
        const double unit = static_cast<double>(engine_() >> 11U) * 0x1p-53;
        const double sign = (engine_() & 1U) != 0U ? 1.0 : -1.0;
        if (kind == 2) return sign * unit * 1000.0;
        return sign * std::ldexp(1.0 + unit, static_cast<int>(engine_() % 120U) - 60);
    }
    Interval interval() {
        const double a = next();
        if (engine_() % 4U == 0) return Interval::point(a);
        if (engine_() % 8U == 0) return {a, unbounded};
        if (engine_() % 8U == 0) return {-unbounded, a};
        const double b = next();
        return {std::min(a, b), std::max(a, b)};
    }
    /// A point of an interval, ends preferred.
    double inside(Interval range) {
        const auto kind = engine_() % 3U;
        const double low = std::isinf(range.low) ? std::min(range.high, 0.0) - 1e9 : range.low;
        const double high = std::isinf(range.high) ? std::max(range.low, 0.0) + 1e9 : range.high;
        if (kind == 0) return low;
        if (kind == 1) return high;
        const double part = static_cast<double>(engine_() >> 11U) * 0x1p-53;
        return std::min(std::max(low + (high - low) * part, low), high);
    }

  private:
    std::mt19937_64 engine_{20240607};
};

bool encloses(Interval range, long double value) {
    return static_cast<long double>(range.low) <= value && value <= static_cast<long double>(range.high);
}

bool without_nan(Interval range) {
    return range.low <= range.high;
}

constexpr int rounds = 200'000;

}  // namespace

TEST_CASE("no sample of an operation lies outside its interval") {
    static_assert(std::numeric_limits<long double>::digits >= 64,
                  "the samples need more digits than a double has");
    Numbers numbers;
    int escaped = 0;
    for (int i = 0; i < rounds; ++i) {
        const Interval a = numbers.interval();
        const Interval b = numbers.interval();
        const long double x = numbers.inside(a);
        const long double y = numbers.inside(b);
        escaped += encloses(a + b, x + y) ? 0 : 1;
        escaped += encloses(a - b, x - y) ? 0 : 1;
        escaped += encloses(a * b, x * y) ? 0 : 1;
        if (y != 0.0L) escaped += encloses(a / b, x / y) ? 0 : 1;
        if (x >= 0.0L) escaped += encloses(square_root(a), std::sqrt(x)) ? 0 : 1;
        if (x > 0.0L) escaped += encloses(logarithm(a), std::log(x)) ? 0 : 1;
        if (std::fabs(x) < 700.0L) escaped += encloses(exponential(a), std::exp(x)) ? 0 : 1;
        escaped += encloses(power(a, 2), x * x) ? 0 : 1;
        if (std::fabs(x) < 1e90L) escaped += encloses(power(a, 3), x * x * x) ? 0 : 1;
        escaped += encloses(absolute(a), std::fabs(x)) ? 0 : 1;
        escaped += encloses(lesser(a, b), std::min(x, y)) ? 0 : 1;
        escaped += encloses(greater(a, b), std::max(x, y)) ? 0 : 1;
        escaped += encloses(hull(a, b), x) && encloses(hull(a, b), y) ? 0 : 1;
    }
    CHECK(escaped == 0);
}

TEST_CASE("no operation gives NaN or turned ends") {
    Numbers numbers;
    int bad = 0;
    const std::array<double, 7> ends = {-unbounded, -1e308, -1.0, 0.0, 1e-308, 1e308, unbounded};
    const auto check = [&bad](Interval a, Interval b) {
        for (const Interval result : {a + b, a - b, a * b, a / b, square_root(a), logarithm(a),
                                      exponential(a), power(a, 2), power(a, -3), absolute(a), hull(a, b), -a})
            bad += without_nan(result) ? 0 : 1;
    };
    for (int i = 0; i < rounds / 4; ++i) {
        const Interval a = numbers.interval();
        check(a, numbers.interval());
    }
    for (const double a : ends)
        for (const double b : ends)
            for (const double c : ends)
                for (const double d : ends)
                    if (a <= b && c <= d) check({a, b}, {c, d});
    CHECK(bad == 0);
}

TEST_CASE("results are as tight as those of Boost.Interval, to the last bit, for bounded operands") {
    Numbers numbers;
    int different = 0;
    for (int i = 0; i < rounds; ++i) {
        const Interval a = numbers.interval();
        const Interval b = numbers.interval();
        if (std::isinf(a.width()) || std::isinf(b.width())) continue;
        const Outside x{a.low, a.high};
        const Outside y{b.low, b.high};
        const auto same = [](Interval ours, const Outside& theirs) {
            return ours.low == theirs.lower() && ours.high == theirs.upper();
        };
        different += same(a + b, x + y) ? 0 : 1;
        different += same(a - b, x - y) ? 0 : 1;
        const bool middling = std::fabs(a.low) < 1e100 && std::fabs(a.high) < 1e100 &&
                              std::fabs(b.low) < 1e100 && std::fabs(b.high) < 1e100;
        const bool tiny = std::fabs(a.low) < 1e-100 || std::fabs(a.high) < 1e-100 ||
                          std::fabs(b.low) < 1e-100 || std::fabs(b.high) < 1e-100;
        if (!middling || tiny) continue;  // outside, ours may be one step wider
        different += same(a * b, x * y) ? 0 : 1;
        if (!b.contains(0.0)) different += same(a / b, x / y) ? 0 : 1;
        if (a.low >= 0.0) different += same(square_root(a), boost::numeric::sqrt(x)) ? 0 : 1;
        different += same(power(a, 2), boost::numeric::square(x)) ? 0 : 1;
    }
    CHECK(different == 0);
}
