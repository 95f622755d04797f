#include <limits>
#include <numbers>

#include "engine/language/checker.hpp"

namespace packproof::language {
namespace {

using units::Interval;

constexpr double infinity = std::numeric_limits<double>::infinity();

Reach reach_of_field(const model::Field& field) {
    if (field.least > field.most || (field.least == 0.0 && field.most == 0.0))
        return {Interval::all(), false};
    return {{field.least, field.most}, field.least_open};
}

Reach reach_of_call(const Expression& tree, const Node& at, const model::Vocabulary& vocabulary) {
    const auto argument = [&](std::uint32_t i) {
        return reach(tree, tree.arguments[at.list_begin + i], vocabulary);
    };
    const auto function = static_cast<Function>(at.index);
    Reach made = argument(0);
    switch (function) {
        case Function::minimum:
        case Function::maximum:
            for (std::uint32_t i = 1; i < at.list_end - at.list_begin; ++i) {
                const Reach other = argument(i);
                made.range = function == Function::minimum ? units::lesser(made.range, other.range)
                                                           : units::greater(made.range, other.range);
            }
            return {made.range, false};
        case Function::between:
            return {units::hull(made.range, argument(1).range), false};
        case Function::nominal:
        case Function::least:
        case Function::most:
            return made;
        case Function::absolute:
            return {units::absolute(made.range), false};
        case Function::square_root:
            return {units::square_root(made.range), made.low_open && made.range.low >= 0.0};
        case Function::exponential:
        case Function::position:
            return {{0.0, infinity}, false};
        default:
            return {Interval::all(), false};
    }
}

}  // namespace

Reach reach(const Expression& tree, NodeIndex index, const model::Vocabulary& vocabulary) {
    const Node& at = tree.nodes[static_cast<std::size_t>(index)];
    const auto range = [&](NodeIndex child) { return reach(tree, child, vocabulary).range; };
    switch (at.operation) {
        case Operation::number:
            return {Interval::point(at.number), false};
        case Operation::pi:
            return {Interval::point(std::numbers::pi), false};
        case Operation::add:
            return {range(at.first) + range(at.second), false};
        case Operation::subtract:
            return {range(at.first) - range(at.second), false};
        case Operation::multiply:
            return {range(at.first) * range(at.second), false};
        case Operation::divide:
            return {range(at.first) / range(at.second), false};
        case Operation::negate:
            return {-range(at.first), false};
        case Operation::choose:
            return {units::hull(range(at.second), range(at.third)), false};
        case Operation::call:
            return reach_of_call(tree, at, vocabulary);
        case Operation::fold:
            if (static_cast<Fold>(at.index) == Fold::count) return {{0.0, infinity}, false};
            break;
        case Operation::field: {
            if (at.index != at.list_end - at.list_begin) break;  // derived on some kind
            Reach made = {{infinity, -infinity}, true};
            for (std::uint32_t i = at.list_begin; i < at.list_end; ++i) {
                const Member& member = tree.members[i];
                const Reach one = reach_of_field(vocabulary.kinds[member.kind].fields[member.index]);
                if (one.range.low < made.range.low || (one.range.low == made.range.low && !one.low_open))
                    made.low_open = one.low_open;
                made.range = i == at.list_begin ? one.range : units::hull(made.range, one.range);
            }
            return made;
        }
        default:
            break;
    }
    return {Interval::all(), false};
}

}  // namespace packproof::language
