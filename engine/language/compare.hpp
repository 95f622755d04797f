// Three-valued answers: the truth tables, and comparison of values of which only bounds are known. Equal to
// 12 significant digits counts as equal (units::same_number), so that a value written at its limit meets it.
#pragma once

#include "engine/language/evaluate.hpp"
#include "engine/language/tree.hpp"

namespace packproof::language {

using model::Truth;

[[nodiscard]] constexpr Truth known(bool answer) {
    return answer ? Truth::yes : Truth::no;
}

[[nodiscard]] Truth less_equal(units::Interval a, units::Interval b);
[[nodiscard]] Truth equal(units::Interval a, units::Interval b);
/// One of the six comparisons.
[[nodiscard]] Truth compare(Operation operation, units::Interval a, units::Interval b);
[[nodiscard]] Truth within(units::Interval x, const model::Range& range);

/// Texts of which one or both may be unknown among alternatives.
[[nodiscard]] Truth equal(const model::Text& a, const model::Text& b);

/// Asks each alternative; yes or no if all agree, else open.
template <typename Question>
[[nodiscard]] Truth for_alternatives(const model::Text& text, Question question) {
    if (text.alternatives.empty()) return known(question(text.value));
    const bool first = question(text.alternatives.front());
    for (const std::string_view one : text.alternatives)
        if (question(one) != first) return Truth::open;
    return known(first);
}

}  // namespace packproof::language
