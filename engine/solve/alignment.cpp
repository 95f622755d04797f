#include "engine/solve/alignment.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <limits>

namespace packproof::solve {

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr double gap = 1e-11;         // m, of the miss to the least there is
constexpr double least_scale = 1e-6;  // m; patterns that agree better than this are not told apart further
constexpr double sharpen = 20.0;      // from one centring to the next
constexpr int most_steps = 60;        // of one centring; far more than Newton's method takes

/// Of the slot: what of a distance along one axis is left beyond it.
double beyond(double distance, double slot) {
    if (slot == 0.0) return distance;
    return distance > slot ? distance - slot : distance < -slot ? distance + slot : 0.0;
}

/// Unknowns in units of `scale`: where the middle of the second pattern comes to lie, the way that its
/// outermost point goes by the turn, and the miss.
using Unknowns = Eigen::Vector4d;

struct Problem {
    std::vector<Target> targets;  ///< in units of scale, the second pattern from its middle
    double middle_x = 0.0, middle_y = 0.0;
    double lever = 1.0;  ///< way of the outermost point for a turn of one, in units of scale
    double least = 0.0;
    double scale = 1.0;
    double sharpness = 1.0;  ///< weight of the miss against the barrier

    [[nodiscard]] double turn(const Unknowns& at) const { return at(2) / lever; }
};

/// The distances of one target at the unknowns, beyond the slot, and how the turn changes them.
struct Reach {
    double x, y, by_turn_x, by_turn_y, room, square;
};

Reach reach(const Problem& problem, const Target& target, const Unknowns& at, double cosine, double sine) {
    const double turned_x = cosine * target.second_x - sine * target.second_y;
    const double turned_y = sine * target.second_x + cosine * target.second_y;
    Reach result{};
    result.x = beyond(at(0) + turned_x - target.x, target.slot_x);
    result.y = beyond(at(1) + turned_y - target.y, target.slot_y);
    result.by_turn_x = -turned_y / problem.lever;
    result.by_turn_y = turned_x / problem.lever;
    result.room = at(3) + target.play;
    const double distance = std::sqrt(result.x * result.x + result.y * result.y);
    result.square = (result.room - distance) * (result.room + distance);
    return result;
}

/// Miss times sharpness, and the barrier; infinite outside.
double cost(const Problem& problem, const Unknowns& at) {
    const double turn = problem.turn(at);
    const double cosine = std::cos(turn);
    const double sine = std::sin(turn);
    if (std::fabs(turn) >= most_turn || at(3) <= problem.least) return infinite;
    double sum = problem.sharpness * at(3);
    double product = (at(3) - problem.least) * (most_turn * most_turn - turn * turn);
    for (const Target& target : problem.targets) {
        const Reach way = reach(problem, target, at, cosine, sine);
        if (!(way.room > 0.0 && way.square > 0.0)) return infinite;
        product *= way.square;
        if (product < 1e-100 || product > 1e100) {  // one logarithm for many
            sum -= std::log(product);
            product = 1.0;
        }
    }
    return sum - std::log(product);
}

/// Slope and curvature of the cost. The curvature leaves out that of the turn itself, which is small, so that
/// it stays positive.
void slopes(const Problem& problem, const Unknowns& at, Unknowns& slope, Eigen::Matrix4d& curvature) {
    const double turn = problem.turn(at);
    const double cosine = std::cos(turn);
    const double sine = std::sin(turn);
    slope = Unknowns(0.0, 0.0, 0.0, problem.sharpness);
    curvature.setZero();
    const double over = 1.0 / (at(3) - problem.least);
    slope(3) -= over;
    curvature(3, 3) += over * over;
    for (const double side : {1.0, -1.0}) {
        const double left = 1.0 / ((most_turn + side * turn) * problem.lever);
        slope(2) -= side * left;
        curvature(2, 2) += left * left;
    }
    for (const Target& target : problem.targets) {
        const Reach way = reach(problem, target, at, cosine, sine);
        const double in_x = target.slot_x == 0.0 || way.x != 0.0 ? 1.0 : 0.0;
        const double in_y = target.slot_y == 0.0 || way.y != 0.0 ? 1.0 : 0.0;
        const double inverse = 2.0 / way.square;
        const double by_turn = way.x * way.by_turn_x + way.y * way.by_turn_y;
        const double step[4] = {way.x * inverse, way.y * inverse, by_turn * inverse, -way.room * inverse};
        for (int row = 0; row < 4; ++row) {
            slope(row) += step[row];
            for (int column = 0; column <= row; ++column)
                curvature(row, column) += step[row] * step[column];
        }
        const double turn_x = in_x * way.by_turn_x;
        const double turn_y = in_y * way.by_turn_y;
        curvature(0, 0) += inverse * in_x;
        curvature(1, 1) += inverse * in_y;
        curvature(2, 0) += inverse * turn_x;
        curvature(2, 1) += inverse * turn_y;
        curvature(2, 2) += inverse * (turn_x * turn_x + turn_y * turn_y);
        curvature(3, 3) -= inverse;
    }
}

/// Newton's method down to the centre for the present sharpness.
void centre(const Problem& problem, Unknowns& at) {
    Unknowns slope;
    Eigen::Matrix4d curvature;
    double here = cost(problem, at);
    for (int step = 0; step < most_steps; ++step) {
        slopes(problem, at, slope, curvature);
        const Eigen::LDLT<Eigen::Matrix4d> factored(curvature);  // reads the lower half
        const Unknowns way = factored.solve(-slope);
        const double gain = -slope.dot(way);
        if (!(gain > 1e-3)) return;
        double share = 1.0;
        for (; share > 1e-9; share *= 0.5) {
            const double there = cost(problem, at + share * way);
            if (there < here - 0.1 * share * gain) {
                here = there;
                break;
            }
        }
        if (share <= 1e-9) return;
        at += share * way;
    }
}

Problem prepare(std::span<const Target> targets, double least) {
    Problem problem;
    const double share = 1.0 / static_cast<double>(targets.size());
    for (const Target& target : targets) {
        problem.middle_x += share * target.second_x;
        problem.middle_y += share * target.second_y;
    }
    problem.targets.assign(targets.begin(), targets.end());
    problem.least = least;
    return problem;
}

/// The turn at which the sum of squares is least (closed form), within bounds.
double least_squares_turn(const Problem& problem) {
    double along = 0.0;
    double across = 0.0;
    for (const Target& target : problem.targets) {
        const double x = target.second_x - problem.middle_x;
        const double y = target.second_y - problem.middle_y;
        along += x * target.x + y * target.y;
        across += x * target.y - y * target.x;
    }
    if (along == 0.0 && across == 0.0) return 0.0;
    return std::clamp(std::atan2(across, along), -0.95 * most_turn, 0.95 * most_turn);
}

/// The pose with this turn at which the means of both patterns meet.
Pose pose_with(const Problem& problem, double turn) {
    double x = 0.0;
    double y = 0.0;
    const double share = 1.0 / static_cast<double>(problem.targets.size());
    for (const Target& target : problem.targets) {
        x += share * target.x;
        y += share * target.y;
    }
    return {x - std::cos(turn) * problem.middle_x + std::sin(turn) * problem.middle_y,
            y - std::sin(turn) * problem.middle_x - std::cos(turn) * problem.middle_y, turn};
}

double greatest_miss(std::span<const Target> targets, const Pose& pose) {
    double miss = -infinite;
    for (const Target& target : targets)
        miss = std::max(miss, miss_at(target, pose));
    return miss;
}

Alignment from(Problem problem, std::span<const Target> targets, double turn) {
    const Pose start = pose_with(problem, turn);
    problem.scale = least_scale;
    double lever = 0.0;
    for (const Target& target : targets) {
        const Offset offset = offset_at(target, start);
        problem.scale = std::max(problem.scale, std::hypot(offset.x, offset.y));
        lever = std::max(lever,
                         std::hypot(target.second_x - problem.middle_x, target.second_y - problem.middle_y));
    }
    const double unit = 1.0 / problem.scale;
    for (Target& target : problem.targets) {
        target = {target.x * unit,
                  target.y * unit,
                  (target.second_x - problem.middle_x) * unit,
                  (target.second_y - problem.middle_y) * unit,
                  target.slot_x * unit,
                  target.slot_y * unit,
                  target.play * unit};
    }
    const double least = problem.least;
    problem.least *= unit;
    problem.lever = lever > 0.0 ? lever * unit : 1.0;
    const double cosine = std::cos(turn);
    const double sine = std::sin(turn);
    Unknowns at((start.shift_x + cosine * problem.middle_x - sine * problem.middle_y) * unit,
                (start.shift_y + sine * problem.middle_x + cosine * problem.middle_y) * unit,
                turn * problem.lever, std::max(greatest_miss(targets, start) * unit, problem.least) + 1.0);
    const double barriers = 2.0 * static_cast<double>(targets.size()) + 3.0;
    const double sharpest = barriers * std::min(problem.scale / gap, 1e10);
    for (problem.sharpness = barriers;; problem.sharpness = std::min(sharpest, problem.sharpness * sharpen)) {
        centre(problem, at);
        if (problem.sharpness >= sharpest) break;
    }
    Alignment result;
    const double turned = problem.turn(at);
    const double c = std::cos(turned);
    const double s = std::sin(turned);
    result.pose = {at(0) * problem.scale - c * problem.middle_x + s * problem.middle_y,
                   at(1) * problem.scale - s * problem.middle_x - c * problem.middle_y, turned};
    result.miss = std::max(least, greatest_miss(targets, result.pose));
    for (const Target& target : problem.targets) {
        const Reach way = reach(problem, target, at, c, s);
        const double force = 2.0 / (way.square * problem.sharpness);
        result.press.push_back({-way.x * force, -way.y * force, way.room * force});
    }
    return result;
}

}  // namespace

Offset offset_at(const Target& target, const Pose& pose) {
    const double cosine = std::cos(pose.turn);
    const double sine = std::sin(pose.turn);
    return {pose.shift_x + cosine * target.second_x - sine * target.second_y - target.x,
            pose.shift_y + sine * target.second_x + cosine * target.second_y - target.y};
}

double miss_at(const Target& target, const Pose& pose) {
    const Offset offset = offset_at(target, pose);
    return std::hypot(beyond(offset.x, target.slot_x), beyond(offset.y, target.slot_y)) - target.play;
}

Alignment align(std::span<const Target> targets, double least) {
    const Problem problem = prepare(targets, least);
    const double turn = least_squares_turn(problem);
    Alignment best = from(problem, targets, turn);
    double distance = 0.0;
    double lever = 0.0;
    for (const Target& target : targets) {
        const Offset offset = offset_at(target, best.pose);
        distance = std::max(distance, std::hypot(offset.x, offset.y));
        lever = std::max(lever,
                         std::hypot(target.second_x - problem.middle_x, target.second_y - problem.middle_y));
    }
    if (distance <= 0.05 * lever) return best;  // else the curvature of the turn may make more than one dip
    for (const double other : {-0.75 * most_turn, 0.0, 0.75 * most_turn}) {
        Alignment found = from(problem, targets, other);
        if (found.miss < best.miss - gap) best = std::move(found);
    }
    return best;
}

}  // namespace packproof::solve
