#include "engine/language/compare.hpp"

#include <algorithm>

namespace packproof::language {

using units::Interval;
using units::same_number;

Truth both(Truth a, Truth b) {
    if (a == Truth::no || b == Truth::no) return Truth::no;
    if (a == Truth::unknown || b == Truth::unknown) return Truth::unknown;
    if (a == Truth::open || b == Truth::open) return Truth::open;
    return Truth::yes;
}

Truth either(Truth a, Truth b) {
    return opposite(both(opposite(a), opposite(b)));
}

Truth opposite(Truth a) {
    if (a == Truth::yes) return Truth::no;
    if (a == Truth::no) return Truth::yes;
    return a;
}

Truth less_equal(Interval a, Interval b) {
    if (a.high <= b.low || same_number(a.high, b.low)) return Truth::yes;
    if (a.low > b.high && !same_number(a.low, b.high)) return Truth::no;
    return Truth::open;
}

Truth equal(Interval a, Interval b) {
    if (same_number(a.low, b.high) && same_number(a.high, b.low)) return Truth::yes;
    const bool apart =
        (a.low > b.high && !same_number(a.low, b.high)) || (b.low > a.high && !same_number(b.low, a.high));
    return apart ? Truth::no : Truth::open;
}

Truth compare(Operation operation, Interval a, Interval b) {
    switch (operation) {
        case Operation::less:
            return opposite(less_equal(b, a));
        case Operation::less_equal:
            return less_equal(a, b);
        case Operation::greater:
            return opposite(less_equal(a, b));
        case Operation::greater_equal:
            return less_equal(b, a);
        case Operation::unequal:
            return opposite(equal(a, b));
        default:
            return equal(a, b);
    }
}

Truth within(Interval x, const model::Range& range) {
    return both(less_equal(range.lower, x), less_equal(x, range.upper));
}

Truth equal(const model::Text& a, const model::Text& b) {
    if (b.alternatives.empty())
        return for_alternatives(a, [&](std::string_view one) { return one == b.value; });
    // Two unknowns can differ even where they have alternatives in common.
    const bool apart =
        std::none_of(b.alternatives.begin(), b.alternatives.end(), [&](std::string_view other) {
            return for_alternatives(a, [&](std::string_view one) { return one == other; }) != Truth::no;
        });
    return apart ? Truth::no : Truth::open;
}

}  // namespace packproof::language
