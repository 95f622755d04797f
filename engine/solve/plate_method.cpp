// An end plate on an elastic bed, as a method of rule data. The forces scale with each other, so that one
// run serves every force. Plate and bed are taken at both ends of their tolerance in every combination;
// places and sizes count at their nominal values and must be known to a fiftieth of the plate's size.
#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "engine/solve/method.hpp"
#include "engine/solve/plate.hpp"

namespace packproof::solve {

namespace {

enum Field : std::size_t { width, height, thickness, modulus, poisson, force, washer };
constexpr std::array fields{
    MethodField{"width", "m"},         MethodField{"height", "m"},
    MethodField{"thickness", "m"},     MethodField{"elastic_modulus", "Pa"},
    MethodField{"poisson", ""},        MethodField{"force", "N"},  // of all bolts together
    MethodField{"washer", "m", false},                             // diameter over which a bolt presses
};
constexpr std::array bed_fields{MethodField{"x", "m"}, MethodField{"y", "m"}, MethodField{"width", "m"},
                                MethodField{"height", "m"}, MethodField{"stiffness", "N/m³"}};
constexpr std::array bolt_fields{MethodField{"x", "m"}, MethodField{"y", "m"},
                                 MethodField{"count", "", false}, MethodField{"to_x", "m", false},
                                 MethodField{"to_y", "m", false}};
constexpr std::array rib_fields{MethodField{"x", "m"}, MethodField{"y", "m"}, MethodField{"to_x", "m"},
                                MethodField{"to_y", "m"}, MethodField{"stiffness", "N·m²"}};
constexpr std::array lists{MethodList{"beds", bed_fields}, MethodList{"bolts", bolt_fields},
                           MethodList{"ribs", rib_fields, false}};
constexpr auto number = MethodQuestion::Form::number;
enum Question : std::size_t {
    lowest,
    highest,
    mean,
    middle,
    lowest_share,
    highest_share,
    middle_share,
    across,
    up,
    bow,
    stress,
    row_share,
    row_middle,
    row_place,
    row_way,
    row_bolts
};
constexpr std::array questions{
    MethodQuestion{"lowest pressure", number, "Pa"},
    MethodQuestion{"highest pressure", number, "Pa"},
    MethodQuestion{"mean pressure", number, "Pa"},
    MethodQuestion{"pressure in the middle", number, "Pa"},
    MethodQuestion{"lowest over mean", number, ""},
    MethodQuestion{"highest over mean", number, ""},
    MethodQuestion{"middle over mean", number, ""},
    MethodQuestion{"lowest pressure across", number, "m"},
    MethodQuestion{"lowest pressure up", number, "m"},
    MethodQuestion{"bow", number, "m"},
    MethodQuestion{"bending stress", number, "Pa"},
    MethodQuestion{"lowest over mean with one more row", number, "", 1},
    MethodQuestion{"middle over mean with one more row", number, "", 1},
    MethodQuestion{"place of one more row", number, "m", 1},
    MethodQuestion{"way of one more row", MethodQuestion::Form::text, "", 1},
    MethodQuestion{"bolts of one more row", number, "", 1},
};

constexpr double most_bolts = 200.0;

/// At which end of their tolerance plate and bed are taken: -1 low, 0 nominal, 1 high.
struct Corner {
    int plate = 0;
    int bed = 0;
};
constexpr std::array corners{Corner{0, 0}, Corner{-1, -1}, Corner{-1, 1}, Corner{1, -1}, Corner{1, 1}};

double taken(const Amount& amount, int end) {
    if (end == 0) return amount.nominal;
    return end < 0 ? amount.range.low : amount.range.high;
}

/// Whether places and sizes are known well enough to count at their nominal values.
bool places_are_known(const MethodInput& input) {
    constexpr double well_enough = 0.02;  // of the plate's greater side, either way
    const double size = std::max(input.values[width]->nominal, input.values[height]->nominal);
    const auto known = [&](const std::optional<Amount>& amount) {
        return !amount || amount->range.width() <= 2.0 * well_enough * size;
    };
    const auto all = [&](const std::vector<MethodRow>& rows, std::initializer_list<std::size_t> columns) {
        return std::all_of(rows.begin(), rows.end(), [&](const MethodRow& row) {
            return std::all_of(columns.begin(), columns.end(), [&](std::size_t c) { return known(row[c]); });
        });
    };
    return known(input.values[width]) && known(input.values[height]) && known(input.values[washer]) &&
           all(input.lists[0], {0, 1, 2, 3}) && all(input.lists[1], {0, 1, 3, 4}) &&
           all(input.lists[2], {0, 1, 2, 3});
}

/// Bolts of a row from its first place to its last, evenly spaced.
bool add_bolts(const MethodRow& row, Plate& plate) {
    const double count = row[2] ? std::round(row[2]->nominal) : 1.0;
    if (!(count >= 0.0) || static_cast<double>(plate.bolts.size()) + count > most_bolts) return false;
    const double from_x = row[0]->nominal;
    const double from_y = row[1]->nominal;
    const double to_x = row[3] ? row[3]->nominal : from_x;
    const double to_y = row[4] ? row[4]->nominal : from_y;
    for (double i = 0.0; i < count; i += 1.0) {
        const double along = count > 1.0 ? i / (count - 1.0) : 0.5;
        plate.bolts.push_back({from_x + along * (to_x - from_x), from_y + along * (to_y - from_y)});
    }
    return true;
}

/// The part of a bed that the plate covers: what stands over its edge is not pressed. Its place and size.
std::pair<double, double> covered(double from, double size, double of_plate) {
    const double begin = std::max(0.0, from);
    return {begin, std::min(of_plate, from + size) - begin};
}

/// With a total force of 1 N: pressures scale with the force.
std::optional<Plate> plate_of(const MethodInput& input, Corner corner) {
    Plate plate;
    plate.width = input.values[width]->nominal;
    plate.height = input.values[height]->nominal;
    plate.thickness = taken(*input.values[thickness], corner.plate);
    plate.elastic_modulus = taken(*input.values[modulus], corner.plate);
    plate.poisson = input.values[poisson]->nominal;
    plate.bolt_radius = input.values[washer] ? 0.5 * input.values[washer]->nominal : 0.0;
    for (const MethodRow& row : input.lists[0]) {
        const auto [x, wide] = covered(row[0]->nominal, row[2]->nominal, plate.width);
        const auto [y, high] = covered(row[1]->nominal, row[3]->nominal, plate.height);
        plate.beds.push_back({x, y, wide, high, taken(*row[4], corner.bed)});
    }
    for (const MethodRow& row : input.lists[1])
        if (!add_bolts(row, plate)) return std::nullopt;
    for (const MethodRow& row : input.lists[2])
        plate.ribs.push_back({row[0]->nominal, row[1]->nominal, row[2]->nominal, row[3]->nominal,
                              taken(*row[4], corner.plate)});
    if (plate.bolts.empty()) return std::nullopt;
    plate.bolt_force = 1.0 / static_cast<double>(plate.bolts.size());
    return plate;
}

/// Whether nothing that makes the plate, or the bed, stiffer has a tolerance.
bool is_one(const MethodInput& input, bool of_plate) {
    auto point = [](const std::optional<Amount>& amount) { return amount->range.is_point(); };
    auto all = [&](const std::vector<MethodRow>& rows) {
        return std::all_of(rows.begin(), rows.end(), [&](const MethodRow& row) { return point(row[4]); });
    };
    if (!of_plate) return all(input.lists[0]);
    return point(input.values[thickness]) && point(input.values[modulus]) && all(input.lists[2]);
}

/// The nominal one first, then those at the corners of the tolerances.
std::vector<PlateState> states_of(const MethodInput& input) {
    std::vector<PlateState> states;
    const bool one_plate = is_one(input, true);
    const bool one_bed = is_one(input, false);
    for (const Corner& corner : corners) {
        if (corner.plate == 1 && one_plate) continue;
        if (corner.bed == 1 && one_bed) continue;
        if (corner.plate != 0 && one_plate && one_bed) continue;
        const auto plate = plate_of(input, corner);
        const auto state = plate ? press(*plate) : std::nullopt;
        if (!state) return {};
        states.push_back(*state);
    }
    return states;
}

/// The span of a value over all states, times what it scales with.
template <typename Of>
Amount spanned(const std::vector<PlateState>& states, Of of, const Amount& scale) {
    units::Interval range = units::Interval::point(of(states.front()));
    for (const PlateState& state : states)
        range = units::hull(range, units::Interval::point(of(state)));
    return {range * scale.range, of(states.front()) * scale.nominal};
}

void answer_pressure(const MethodInput& input, std::vector<MethodAnswer>& answers) {
    const std::vector<PlateState> states = states_of(input);
    if (states.empty()) return;
    const Amount& scale = *input.values[force];
    const Amount one{{1.0, 1.0}, 1.0};
    auto say = [&](Question question, auto of, const Amount& by) {
        answers[question] = spanned(states, of, by);
    };
    say(
        lowest, [](const PlateState& s) { return s.lowest; }, scale);
    say(
        highest, [](const PlateState& s) { return s.highest; }, scale);
    say(
        mean, [](const PlateState& s) { return s.mean; }, scale);
    say(
        middle, [](const PlateState& s) { return s.in_middle; }, scale);
    say(
        bow, [](const PlateState& s) { return s.bow; }, scale);
    say(
        stress, [](const PlateState& s) { return s.stress; }, scale);
    say(
        lowest_share, [](const PlateState& s) { return s.lowest / s.mean; }, one);
    say(
        highest_share, [](const PlateState& s) { return s.highest / s.mean; }, one);
    say(
        middle_share, [](const PlateState& s) { return s.in_middle / s.mean; }, one);
    say(
        across, [](const PlateState& s) { return s.lowest_x; }, one);
    say(
        up, [](const PlateState& s) { return s.lowest_y; }, one);
}

void answer_row(const MethodInput& input, std::vector<MethodAnswer>& answers) {
    const auto plate = plate_of(input, Corner{});
    const auto row = plate ? best_row(*plate) : std::nullopt;
    if (!row) return;
    auto say = [&](Question question, double value) {
        answers[question] = Amount{units::Interval::point(value), value};
    };
    say(row_share, row->lowest_share);
    say(row_middle, row->middle_share);
    say(row_place, row->at);
    say(row_bolts, static_cast<double>(row->bolts.size()));
    answers[row_way] = std::string_view(row->upright ? "upright" : "level");
}

std::vector<MethodAnswer> answer(const MethodInput& input, std::uint8_t group) {
    std::vector<MethodAnswer> answers(questions.size());
    if (!places_are_known(input)) return answers;
    if (group == 0)
        answer_pressure(input, answers);
    else
        answer_row(input, answers);
    return answers;
}

}  // namespace

const Method& plate_method() {
    static const Method method{"plate on an elastic bed",
                               "the pressure under a plate that bolts pull onto an elastic bed",
                               fields,
                               lists,
                               questions,
                               answer};
    return method;
}

}  // namespace packproof::solve
