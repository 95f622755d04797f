// Holes of two parts that screws must pass, as a method of rule data.
#include <algorithm>
#include <array>
#include <cmath>

#include "engine/solve/hole_pattern.hpp"
#include "engine/solve/method.hpp"

namespace packproof::solve {

namespace {

enum Place : std::size_t { x, y, other_x, other_y, hole, other_hole, zone, slot_x, slot_y };
constexpr std::array fields{MethodField{"screw", "m"}};
constexpr std::array hole_fields{
    MethodField{"x", "m"},
    MethodField{"y", "m"},
    MethodField{"other_x", "m"},
    MethodField{"other_y", "m"},
    MethodField{"hole", "m"},
    MethodField{"other_hole", "m", false},  // none: a thread or a stud
    MethodField{"zone", "m", false},        // diameter of the position zones of both holes together
    MethodField{"slot_x", "m", false},
    MethodField{"slot_y", "m", false},
};
constexpr std::array lists{MethodList{"holes", hole_fields}};
constexpr auto number = MethodQuestion::Form::number;
constexpr std::array questions{
    MethodQuestion{"miss", number, "m"},
    MethodQuestion{"worst hole", MethodQuestion::Form::item, ""},
    MethodQuestion{"growth of all holes", number, "m"},
    MethodQuestion{"growth of the worst hole", number, "m"},
    MethodQuestion{"slot across", number, "m"},
    MethodQuestion{"slot up", number, "m"},
    MethodQuestion{"offset across", number, "m"},
    MethodQuestion{"offset up", number, "m"},
    MethodQuestion{"turn", number, "rad"},
};

HolePair pair_of(const MethodRow& row, const Amount& screw) {
    const auto whole = [&](Place place) { return row[place] ? row[place]->range.high : 0.0; };
    HolePair pair;
    pair.x = row[x]->range;
    pair.y = row[y]->range;
    pair.other_x = row[other_x]->range;
    pair.other_y = row[other_y]->range;
    const units::Interval bore =
        row[other_hole] ? row[hole]->range + row[other_hole]->range : row[hole]->range;
    const double screws = row[other_hole] ? 2.0 : 1.0;
    pair.play = (bore - units::Interval::point(screws) * screw.range) * units::Interval::point(0.5);
    pair.zone = 0.5 * whole(zone);
    pair.slot_x = 0.5 * whole(slot_x);
    pair.slot_y = 0.5 * whole(slot_y);
    return pair;
}

/// The same at nominal values: what the middle of an interval need not be.
HolePair nominal_pair(const MethodRow& row, const Amount& screw) {
    MethodRow nominal = row;
    for (auto& amount : nominal)
        if (amount) amount->range = units::Interval::point(amount->nominal);
    HolePair pair = pair_of(nominal, {units::Interval::point(screw.nominal), screw.nominal});
    pair.zone = 0.0;
    return pair;
}

MethodAnswer point(double value) {
    if (!std::isfinite(value)) return {};
    return Amount{units::Interval::point(value), value};
}

std::vector<MethodAnswer> answer(const MethodInput& input, std::uint8_t group) {
    (void)group;
    std::vector<MethodAnswer> answers(questions.size());
    std::vector<HolePair> whole;
    std::vector<HolePair> nominal;
    for (const MethodRow& row : input.lists[0]) {
        whole.push_back(pair_of(row, *input.values[0]));
        nominal.push_back(nominal_pair(row, *input.values[0]));
    }
    const auto found = fit(whole);
    const auto at_nominal = fit(nominal);
    if (!found || !at_nominal) return answers;
    const double miss = at_nominal->nominal;
    const units::Interval range{std::min(found->miss.low, miss), std::max(found->miss.high, miss)};
    answers[0] = Amount{range, miss};
    answers[1] = RowAnswer{0, at_nominal->worst};
    const auto grown = [](double by) { return 2.0 * std::max(0.0, by); };
    answers[2] = Amount{{grown(range.low), grown(range.high)}, grown(miss)};
    if (const auto mend = mend_worst(whole)) {
        answers[3] = point(mend->diameter);
        answers[4] = point(mend->slot_x);
        answers[5] = point(mend->slot_y);
    }
    answers[6] = point(at_nominal->offset_x);
    answers[7] = point(at_nominal->offset_y);
    answers[8] = point(at_nominal->turn);
    return answers;
}

}  // namespace

const Method& pattern_method() {
    static const Method method{"holes that line up",
                               "the best shift and turn of one part on another, and by how much the worst "
                               "screw then misses",
                               fields,
                               lists,
                               questions,
                               answer};
    return method;
}

}  // namespace packproof::solve
