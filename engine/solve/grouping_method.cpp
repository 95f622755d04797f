// Items shared out into groups of equal sums, as a method of rule data.
#include <algorithm>
#include <array>
#include <cmath>
#include <functional>

#include "engine/solve/grouping.hpp"
#include "engine/solve/method.hpp"

namespace packproof::solve {

namespace {

constexpr std::array fields{MethodField{"group size", ""}};
enum ItemField : std::size_t { first_value, second_value };
constexpr std::array item_fields{MethodField{"value", ""}, MethodField{"second value", "", false}};
constexpr std::array lists{MethodList{"items", item_fields}};

enum Question : std::size_t { spread, least_spread, proven, groups, group };
using Form = MethodQuestion::Form;
constexpr std::array questions{
    MethodQuestion{"spread of the sums", Form::number, ""},
    MethodQuestion{"least possible spread", Form::number, ""},
    MethodQuestion{"proven", Form::truth, ""},
    MethodQuestion{"items by group", Form::items, ""},
    MethodQuestion{"group", Form::number, "", 0, 0},
};

Amount point(double value) {
    return {{value, value}, value};
}

/// By how much the best spread may change within the tolerances of the values: each sharing's greatest and
/// least sum move by no more than the widest tolerances that fit into one group.
double most_change(const std::vector<MethodRow>& rows, std::size_t size) {
    std::vector<double> off;
    for (const MethodRow& row : rows)
        off.push_back(std::max(row[first_value]->range.high - row[first_value]->nominal,
                               row[first_value]->nominal - row[first_value]->range.low));
    std::sort(off.begin(), off.end(), std::greater<>());
    double sum = 0.0;
    for (std::size_t i = 0; i < std::min(size, off.size()); ++i)
        sum += off[i];
    return 2.0 * sum;
}

Amount around(double value, double doubt) {
    return {{std::max(0.0, value - doubt), value + doubt}, value};
}

std::vector<MethodAnswer> answer(const MethodInput& input, std::uint8_t) {
    const std::vector<MethodRow>& rows = input.lists[0];
    std::vector<MethodAnswer> answers(questions.size());
    answers[group] = EachAnswer(rows.size());
    const double size = std::round(input.values[0]->nominal);
    const bool whole = std::abs(size - input.values[0]->nominal) < 1e-9;
    if (!whole || !(size >= 1.0) || size > static_cast<double>(rows.size())) return answers;
    std::vector<double> first;
    std::vector<double> second;
    for (const MethodRow& row : rows) {
        first.push_back(row[first_value]->nominal);
        if (row[second_value]) second.push_back(row[second_value]->nominal);
    }
    if (second.size() != first.size()) second.clear();
    const auto found = share_out(first, second, static_cast<std::size_t>(size));
    if (!found) return answers;
    const double doubt = most_change(rows, static_cast<std::size_t>(size));
    answers[spread] = OneAnswer{around(found->spread, doubt)};
    answers[least_spread] = OneAnswer{around(found->least_spread, doubt)};
    answers[proven] = OneAnswer{found->proven};
    EachAnswer places(rows.size());
    std::vector<ItemKey> by_group;
    for (std::size_t g = 0; g < found->groups.size(); ++g)
        for (const std::size_t i : found->groups[g]) {
            places[i] = point(static_cast<double>(g + 1));
            by_group.push_back(input.items[0][i].own);
        }
    answers[groups] = OneAnswer{std::move(by_group)};
    answers[group] = std::move(places);
    return answers;
}

}  // namespace

const Method& grouping_method() {
    static const Method method{
        "groups of equal sums",
        "items shared out into groups of equal size whose sums differ as little as possible",
        fields,
        lists,
        questions,
        answer};
    return method;
}

}  // namespace packproof::solve
