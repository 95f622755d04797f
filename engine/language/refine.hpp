// Tight results: an input that stands twice in a formula must not widen it. Where slopes show that the
// formula is monotone in an input, the input is taken at its ends; elsewhere the box is halved, at most
// `most_boxes` times. The result always encloses.
#pragma once

#include <functional>

#include "engine/language/evaluate.hpp"

namespace packproof::language {

struct Refined {
    units::Interval range;                ///< tight enclosure
    bool missing = false;                 ///< somewhere in the box the function has no value
    std::vector<units::Interval> slopes;  ///< over the whole box, one for each input of the box
    std::size_t evaluations = 0;
};

/// `function` evaluates a number over a box (slopes as the box asks). Texts with alternatives are split
/// first.
[[nodiscard]] Refined refine(const std::function<model::Value(const Box&)>& function, const Box& box,
                             std::size_t most_boxes = 256);

}  // namespace packproof::language
