#include "engine/language/refine.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

namespace packproof::language {
namespace {

using model::Number;
using model::Value;
using units::Interval;

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double tight_enough = 1e-6;
constexpr std::size_t most_text_choices = 64;
constexpr Interval no_slope{0.0, 0.0};

Interval range_of(const Value& value) {
    const Number* number = value.number();
    return number == nullptr ? Interval{} : number->range;
}

/// A number inside, finite, away from both ends: where to halve. An infinite side is cut at a multiple.
double inside(const Value& value) {
    const Interval range = range_of(value);
    const double nominal = value.number()->nominal;
    if (std::isfinite(range.low) && std::isfinite(range.high))
        return range.low + (range.high - range.low) / 2.0;
    if (std::isfinite(nominal) && range.low < nominal && nominal < range.high) return nominal;
    if (std::isfinite(range.low)) return range.low > 0.0 ? 8.0 * range.low : range.low < 0.0 ? 0.0 : 1.0;
    if (std::isfinite(range.high)) return range.high < 0.0 ? 8.0 * range.high : range.high > 0.0 ? 0.0 : -1.0;
    return 0.0;
}

void set(Value& value, Interval range) {
    Number& number = std::get<Number>(value.content);
    number.range = range;
    number.nominal = std::clamp(number.nominal, range.low, range.high);
}

/// A part of the box with bounds of the function over it, for the search of its least value. The search for
/// the greatest is the same with the function's sign turned.
struct Part {
    Box box;
    double bound = -infinity;  ///< the function is nowhere less
    std::vector<Interval> slopes;
};

class Search {
  public:
    Search(const std::function<Value(const Box&)>& function, bool greatest, std::size_t most_boxes)
        : function_(function), greatest_(greatest), most_boxes_(most_boxes) {}

    /// A lower bound of the function (of its negative, for the greatest) over the box.
    double run(const Box& box, const Number& whole);

    [[nodiscard]] std::size_t evaluations() const { return evaluations_; }
    [[nodiscard]] bool missing() const { return missing_; }

  private:
    std::optional<Number> evaluate(const Box& box);
    std::optional<Part> examine(Box box, std::optional<Number> known);
    bool pin(Box& box, const std::vector<Interval>& slopes) const;
    void probe(Part& part, bool exact, double value_at_end);
    [[nodiscard]] std::size_t widest(const Part& part) const;

    const std::function<Value(const Box&)>& function_;
    bool greatest_;
    std::size_t most_boxes_;
    std::size_t evaluations_ = 0;
    bool missing_ = false;
    double reached_ = infinity;  ///< a value that the function is known to come down to
};

/// The function with its sign turned as the search needs.
std::optional<Number> Search::evaluate(const Box& box) {
    ++evaluations_;
    const Value value = function_(box);
    const Number* number = value.number();
    if (number == nullptr) {
        missing_ = true;
        return std::nullopt;
    }
    Number made = *number;
    made.slopes.resize(box.inputs.size(), no_slope);
    if (greatest_) {
        made.range = -made.range;
        for (Interval& slope : made.slopes)
            slope = -slope;
    }
    return made;
}

/// Takes each input in which the function only rises, or only falls, at the end where it is least.
bool Search::pin(Box& box, const std::vector<Interval>& slopes) const {
    bool changed = false;
    for (std::size_t i = 0; i < slopes.size(); ++i) {
        const Interval range = range_of(box.values[i]);
        if (range.is_point() || box.values[i].number() == nullptr) continue;
        double end = 0.0;
        if (slopes[i] == no_slope)
            end = inside(box.values[i]);
        else if (slopes[i].low >= 0.0)
            end = range.low;
        else if (slopes[i].high <= 0.0)
            end = range.high;
        else
            continue;
        if (!std::isfinite(end)) continue;
        set(box.values[i], Interval::point(end));
        changed = true;
    }
    return changed;
}

/// Bounds over a part: monotone inputs pinned, then the better of the enclosure itself and of the mean value
/// form, f(c) + slope × (x - c).
std::optional<Part> Search::examine(Box box, std::optional<Number> known) {
    std::optional<Number> number = known ? std::move(known) : evaluate(box);
    double bound = -infinity;
    while (number) {
        bound = std::max(bound, number->range.low);
        if (!pin(box, number->slopes)) break;
        number = evaluate(box);
    }
    if (!number) return std::nullopt;
    Part part{std::move(box), bound, std::move(number->slopes)};
    const bool point = std::all_of(part.box.values.begin(), part.box.values.end(),
                                   [](const Value& value) { return range_of(value).is_point(); });
    probe(part, point, number->range.high);
    return part;
}

void Search::probe(Part& part, bool exact, double value_at_end) {
    if (exact) {
        reached_ = std::min(reached_, value_at_end);
        return;
    }
    Box centre = part.box;
    Interval spread{0.0, 0.0};
    for (std::size_t i = 0; i < centre.values.size(); ++i) {
        const Interval range = range_of(centre.values[i]);
        if (range.is_point() || centre.values[i].number() == nullptr) continue;
        const Interval at = Interval::point(inside(centre.values[i]));
        spread = spread + (part.slopes[i] == no_slope ? no_slope : part.slopes[i] * (range - at));
        set(centre.values[i], at);
    }
    if (const auto middle = evaluate(centre)) {
        reached_ = std::min(reached_, middle->range.high);
        part.bound = std::max(part.bound, (middle->range + spread).low);
    }
}

/// The input whose halving promises most; the size of the box if none can be halved. An input that only rises
/// or falls is left only because the end it wants is infinite: halving would not help.
std::size_t Search::widest(const Part& part) const {
    std::size_t best = part.box.values.size();
    double most = -1.0;
    bool unbounded = false;
    for (std::size_t i = 0; i < part.box.values.size(); ++i) {
        const Interval range = range_of(part.box.values[i]);
        const Interval slope = part.slopes[i];
        if (range.is_point() || part.box.values[i].number() == nullptr) continue;
        if (slope.low >= 0.0 || slope.high <= 0.0) continue;
        const double middle = inside(part.box.values[i]);
        if (!(range.low < middle && middle < range.high)) continue;
        double gain = std::max(-slope.low, slope.high) * range.width();
        const bool boundless = !std::isfinite(gain);
        if (boundless) gain = range.width() / std::max({std::abs(range.low), std::abs(range.high), 1e-300});
        if (std::isnan(gain)) gain = infinity;
        if (boundless != unbounded ? boundless : gain > most) {
            best = i;
            most = gain;
            unbounded = boundless;
        }
    }
    return best;
}

double Search::run(const Box& box, const Number& whole) {
    const auto looser = [](const Part& a, const Part& b) { return a.bound > b.bound; };
    std::vector<Part> parts;  // a heap, the loosest on top
    double floor = infinity;  // bound of the parts that cannot be halved
    Number first = whole;
    first.slopes.resize(box.inputs.size(), no_slope);
    if (greatest_) {
        first.range = -first.range;
        for (Interval& slope : first.slopes)
            slope = -slope;
    }
    if (auto part = examine(box, first)) parts.push_back(std::move(*part));
    for (std::size_t boxes = 1; !parts.empty() && boxes < most_boxes_; boxes += 2) {
        const double bound = parts.front().bound;
        const double width = std::isfinite(whole.range.width()) ? whole.range.width() : 0.0;
        const double enough = tight_enough * std::max({std::abs(bound), std::abs(reached_), 1e-3 * width});
        if (bound >= floor || reached_ - bound <= enough) break;
        std::pop_heap(parts.begin(), parts.end(), looser);
        const Part part = std::move(parts.back());
        parts.pop_back();
        const std::size_t input = widest(part);
        if (input == part.box.values.size()) {
            floor = std::min(floor, part.bound);
            continue;
        }
        const Interval range = range_of(part.box.values[input]);
        const double middle = inside(part.box.values[input]);
        for (const Interval half : {Interval{range.low, middle}, Interval{middle, range.high}}) {
            Box halved = part.box;
            set(halved.values[input], half);
            auto made = examine(std::move(halved), std::nullopt);
            if (!made) continue;
            made->bound = std::max(made->bound, part.bound);
            parts.push_back(std::move(*made));
            std::push_heap(parts.begin(), parts.end(), looser);
        }
    }
    return parts.empty() ? floor : std::min(floor, parts.front().bound);
}

/// Every combination of the texts that are unknown among alternatives; the box itself if there are too many.
std::vector<Box> split_texts(const Box& box) {
    std::vector<Box> boxes{box};
    for (std::size_t i = 0; i < box.values.size(); ++i) {
        const model::Text* text = box.values[i].text();
        if (text == nullptr || text->alternatives.size() < 2) continue;
        if (boxes.size() * text->alternatives.size() > most_text_choices) return {box};
        std::vector<Box> split;
        for (const Box& one : boxes)
            for (const std::string_view alternative : text->alternatives) {
                split.push_back(one);
                split.back().values[i].content = model::Text{alternative, {}};
            }
        boxes = std::move(split);
    }
    return boxes;
}

}  // namespace

Refined refine(const std::function<Value(const Box&)>& function, const Box& box, std::size_t most_boxes) {
    Refined refined;
    refined.range = {infinity, -infinity};
    for (Box& one : split_texts(box)) {
        one.slopes = true;
        if (one.whole.empty()) one.whole = box.values;
        const Value whole = function(one);
        ++refined.evaluations;
        const Number* number = whole.number();
        if (number == nullptr) {
            refined.missing = true;
            continue;
        }
        const bool first = refined.slopes.empty();
        refined.slopes.resize(box.inputs.size(), no_slope);
        for (std::size_t i = 0; i < number->slopes.size() && i < refined.slopes.size(); ++i)
            refined.slopes[i] = first ? number->slopes[i] : units::hull(refined.slopes[i], number->slopes[i]);
        Interval range = number->range;
        if (!range.is_point()) {
            Search least(function, false, most_boxes);
            Search greatest(function, true, most_boxes);
            const double low = least.run(one, *number);
            const double high = -greatest.run(one, *number);
            refined.evaluations += least.evaluations() + greatest.evaluations();
            refined.missing = refined.missing || least.missing() || greatest.missing();
            // Where parts have no value, nothing bounds them: the enclosure of the whole stands.
            if (low <= high) range = {std::max(low, range.low), std::min(high, range.high)};
        }
        refined.range.low = std::min(refined.range.low, range.low);
        refined.range.high = std::max(refined.range.high, range.high);
    }
    refined.slopes.resize(box.inputs.size(), no_slope);
    if (refined.range.low > refined.range.high) refined.range = Interval::all();
    return refined;
}

}  // namespace packproof::language
