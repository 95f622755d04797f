// Every formula of the rule set, on packs whose values were given tolerances: the tight range encloses each
// sampled value and is no wider than the sampled hull by more than 0.1 %.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <random>

#include "engine/facts/facts.hpp"
#include "tests/inspect/built_in.hpp"

using namespace packproof;
using inspect_test::built_in;
using inspect_test::Pack;

namespace {

// Under sanitizers everything takes six times as long, and what they look for shows in any of the draws.
#if defined(__SANITIZE_ADDRESS__)
constexpr std::uint64_t draws = 1;
#elif defined(__has_feature)
#if __has_feature(address_sanitizer)
constexpr std::uint64_t draws = 1;
#else
constexpr std::uint64_t draws = 3;
#endif
#else
constexpr std::uint64_t draws = 3;
#endif

/// Gives every quantity of a pack a tolerance of up to 3 % (temperatures: half a kelvin).
void loosen(model::Model& model, std::mt19937_64& random) {
    for (model::Item& item : model.items)
        for (model::Slot& slot : item.slots) {
            auto* number = std::get_if<model::Number>(&slot.value.content);
            const model::Field& field = built_in().vocabulary.kinds[item.kind].fields[slot.field];
            if (number == nullptr || field.form != model::Field::Form::quantity) continue;
            const double reach =
                field.absolute
                    ? 0.5
                    : std::abs(number->nominal) * std::uniform_real_distribution<double>(0.0, 0.03)(random);
            number->range.low = std::max(number->range.low - reach, field.least);
            number->range.high = std::min(number->range.high + reach, field.most);
        }
}

/// Formulas that compare a step with the step it comes from (the next rating above a capacity that itself
/// jumps from table row to table row): across the jump the two are not told to move together, however small
/// the box. Their range encloses, but may be wider than the sampled hull.
bool steps_meet(const std::string& quantity) {
    return quantity == "largest_device_marine" || quantity == "largest_device_nec" ||
           quantity == "largest_device";
}

struct Sampler {
    facts::Facts& facts;
    const rules::QuantityDefinition& quantity;
    model::ItemIndex item;
    language::Box box;
    bool solved = false;  ///< then a point's value is its nominal one

    /// A point, unless the formula itself leaves open where it lies ("between"); both NaN where it has no
    /// value.
    units::Interval at(const std::vector<double>& values) {
        for (std::size_t i = 0; i < values.size(); ++i)
            box.values[i].content = model::Number{units::Interval::point(values[i]), values[i], {}};
        const model::Value value = language::evaluate(quantity.value, item, facts.context(&box));
        if (value.number() == nullptr) return units::Interval::point(std::nan(""));
        const units::Interval range = value.number()->range;
        const bool rounded = range.width() <= 1e-12 * std::abs(range.high);
        return rounded || solved ? units::Interval::point(value.number()->nominal) : range;
    }
};

/// From a corner to a corner where no single input, taken to its other end, makes the value greater (or
/// less): where all inputs are monotone, the greatest (or least) of all.
void climb(Sampler& sampler, const std::vector<units::Interval>& ranges, bool greater,
           const std::function<void(const std::vector<double>&)>& take) {
    std::vector<double> values;
    for (const units::Interval& range : ranges)
        values.push_back(range.low);
    const auto end = [&] {
        const units::Interval range = sampler.at(values);
        return greater ? range.high : range.low;
    };
    double best = end();
    for (bool moved = true; moved;) {
        moved = false;
        for (std::size_t i = 0; i < ranges.size(); ++i) {
            const double before = values[i];
            values[i] = before == ranges[i].low ? ranges[i].high : ranges[i].low;
            const double y = end();
            if (greater ? y > best : y < best) {
                best = y;
                moved = true;
            } else {
                values[i] = before;
            }
        }
    }
    take(values);
}

/// The hull of all corners (few inputs) or of many of them, and of points between.
units::Interval sampled_hull(Sampler& sampler, const std::vector<units::Interval>& ranges,
                             std::mt19937_64& random, bool few) {
    units::Interval hull{std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()};
    auto take = [&](const std::vector<double>& values) {
        const units::Interval y = sampler.at(values);
        if (std::isnan(y.low)) return;
        hull = {std::min(hull.low, y.low), std::max(hull.high, y.high)};
    };
    const std::size_t all = ranges.size() <= 11 ? std::size_t{1} << ranges.size() : 2048;
    const std::size_t corners = few ? std::min<std::size_t>(all, 16) : all;
    std::vector<double> values(ranges.size());
    for (std::size_t c = 0; c < corners; ++c) {
        for (std::size_t i = 0; i < ranges.size(); ++i) {
            const bool high = ranges.size() <= 11 ? ((c >> i) & 1U) != 0 : (random() & 1U) != 0;
            values[i] = high ? ranges[i].high : ranges[i].low;
        }
        take(values);
    }
    if (ranges.size() > 11 && !few)
        for (const bool greater : {false, true})
            climb(sampler, ranges, greater, take);
    for (int k = 0; k < (few ? 8 : 300); ++k) {
        for (std::size_t i = 0; i < ranges.size(); ++i)
            values[i] = std::uniform_real_distribution<double>(ranges[i].low, ranges[i].high)(random);
        take(values);
    }
    return hull;
}

}  // namespace

TEST_CASE("no sampled value of a rule's formula escapes its range, and the range is tight to 0.1 %") {
    std::size_t studied = 0;
    for (const char* const name :
         {"specs/cabin/pack.toml", "specs/cabin/faulty-two-rows-under-one-plate.toml",
          "specs/cabin/faulty-nylon-nuts-eat-the-torque.toml"}) {
        for (std::uint64_t seed = 1; seed <= draws; ++seed) {
            Pack pack(name);
            REQUIRE_MESSAGE(pack.model, pack.trouble());
            std::mt19937_64 random(seed);
            loosen(*pack.model, random);
            facts::Facts facts(*pack.model, built_in());
            for (const rules::QuantityDefinition& quantity : built_in().quantities) {
                if (quantity.type.kind != model::Type::Kind::number || quantity.value.empty()) continue;
                if (inspect_test::speaks_of_tolerance(quantity.value)) continue;
                const bool solved = inspect_test::rests_on_solver(quantity.value);
                if (solved && seed > 1) continue;  // these cost a hundred times as much
                for (const model::ItemIndex item : pack.model->of_kind[quantity.kind]) {
                    const facts::Study study = facts.study([&](const language::Context& context) {
                        return language::evaluate(quantity.value, item, context);
                    });
                    if (study.refined.missing || study.inputs.empty()) continue;
                    Sampler sampler{facts, quantity, item, {study.inputs, {}, false, {}}, solved};
                    std::vector<units::Interval> ranges;
                    bool sampleable = true;
                    for (const language::Input& input : study.inputs) {
                        const model::Number* number =
                            pack.model->slot(input.item, input.field)->value.number();
                        sampleable = sampleable && number != nullptr && std::isfinite(number->range.width());
                        if (sampleable) ranges.push_back(number->range);
                    }
                    if (!sampleable) continue;
                    sampler.box.values.resize(ranges.size());
                    const units::Interval hull = sampled_hull(sampler, ranges, random, solved);
                    if (hull.low > hull.high) continue;
                    ++studied;
                    INFO(std::string(name), ", seed ", seed, ", ", quantity.name, " of ",
                         pack.model->items[item].id);
                    const double hair = 1e-9 * std::max(std::abs(hull.low), std::abs(hull.high));
                    CHECK(study.refined.range.low <= hull.low + hair);
                    CHECK(study.refined.range.high >= hull.high - hair);
                    if (!steps_meet(quantity.name) && !solved)
                        CHECK(study.refined.range.width() <= hull.width() * 1.001 + hair);
                }
            }
        }
    }
    CHECK(studied > 300);
}
