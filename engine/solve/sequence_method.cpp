// The order of steps, as a method of rule data.
#include <array>
#include <map>

#include "engine/solve/method.hpp"
#include "engine/solve/sequence.hpp"

namespace packproof::solve {

namespace {

constexpr auto items = MethodField::Form::items;
enum StepField : std::size_t { after, behind, fits, removes };
constexpr std::array step_fields{
    MethodField{"after", "", false, items}, MethodField{"behind", "", false, items},
    MethodField{"fits", "", false, items}, MethodField{"removes", "", false, items}};
constexpr std::array lists{MethodList{"steps", step_fields}};

enum Question : std::size_t { possible, moves, order, contradict, proven, place, moved, other, barrier };
using Form = MethodQuestion::Form;
constexpr std::array questions{
    MethodQuestion{"possible", Form::truth, ""},
    MethodQuestion{"number that move", Form::number, ""},
    MethodQuestion{"order", Form::items, ""},
    MethodQuestion{"those that contradict", Form::items, ""},
    MethodQuestion{"proven", Form::truth, ""},
    MethodQuestion{"place", Form::number, "", 0, 0},
    MethodQuestion{"moves", Form::truth, "", 0, 0},
    MethodQuestion{"moves because of", Form::item, "", 0, 0},
    MethodQuestion{"what it moves out of the way of", Form::items, "", 0, 0},
};

Amount point(double value) {
    return {{value, value}, value};
}

/// The steps by number, and the barriers that any of them names.
struct Numbered {
    Sequence sequence;
    std::vector<ItemKey> barriers;
};

Numbered number(const MethodInput& input) {
    Numbered made;
    std::map<ItemKey, std::size_t> step_of;
    std::map<ItemKey, std::size_t> barrier_of;
    const std::vector<RowItems>& rows = input.items[0];
    for (std::size_t i = 0; i < rows.size(); ++i)
        step_of.emplace(rows[i].own, i);
    const auto barriers_in = [&](const std::vector<ItemKey>& listed) {
        std::vector<std::size_t> found;
        for (const ItemKey key : listed) {
            const auto [place, is_new] = barrier_of.emplace(key, made.barriers.size());
            if (is_new) made.barriers.push_back(key);
            found.push_back(place->second);
        }
        return found;
    };
    std::vector<bool> fitted;
    std::vector<bool> removed;
    const auto mark = [](std::vector<bool>& marks, const std::vector<std::size_t>& which) {
        for (const std::size_t one : which) {
            if (marks.size() <= one) marks.resize(one + 1, false);
            marks[one] = true;
        }
    };
    for (const RowItems& row : rows) {
        Step step;
        for (const ItemKey key : row.listed[after])
            if (const auto found = step_of.find(key); found != step_of.end())
                step.after.push_back(found->second);
        step.reaches_behind = barriers_in(row.listed[behind]);
        step.fits = barriers_in(row.listed[fits]);
        step.removes = barriers_in(row.listed[removes]);
        mark(fitted, step.fits);
        mark(removed, step.removes);
        made.sequence.steps.push_back(std::move(step));
    }
    made.sequence.barriers = made.barriers.size();
    fitted.resize(made.barriers.size(), false);
    removed.resize(made.barriers.size(), false);
    for (std::size_t b = 0; b < made.barriers.size(); ++b)
        if (removed[b] && !fitted[b])
            made.sequence.on_at_start.push_back(b);  // it was there before all steps
    return made;
}

void answer_conflict(const Ordering& found, const std::vector<RowItems>& rows,
                     std::vector<MethodAnswer>& answers) {
    std::vector<bool> concerned(rows.size(), false);
    for (const Demand& demand : found.conflict) {
        concerned[demand.step] = true;
        if (demand.other) concerned[*demand.other] = true;
    }
    std::vector<ItemKey> steps;
    for (std::size_t i = 0; i < rows.size(); ++i)
        if (concerned[i]) steps.push_back(rows[i].own);
    answers[contradict] = OneAnswer{std::move(steps)};
}

void answer_order(const Ordering& found, const Numbered& numbered, const std::vector<RowItems>& rows,
                  std::vector<MethodAnswer>& answers) {
    EachAnswer places(rows.size());
    EachAnswer moving(rows.size(), OneAnswer{false});
    EachAnswer because(rows.size());
    EachAnswer ways(rows.size());
    std::vector<ItemKey> steps;
    for (std::size_t i = 0; i < found.order.size(); ++i) {
        steps.push_back(rows[found.order[i]].own);
        places[found.order[i]] = point(static_cast<double>(i + 1));
    }
    for (const Move& move : found.moved) {
        moving[move.step] = true;
        const Link& reason = move.reason;
        because[move.step] = RowAnswer{0, reason.before == move.step ? reason.after : reason.before};
        if (reason.demand.kind != Demand::Kind::after)
            ways[move.step] = std::vector<ItemKey>{numbered.barriers[reason.demand.barrier]};
    }
    answers[order] = OneAnswer{std::move(steps)};
    answers[moves] = OneAnswer{point(static_cast<double>(found.moved.size()))};
    answers[place] = std::move(places);
    answers[moved] = std::move(moving);
    answers[other] = std::move(because);
    answers[barrier] = std::move(ways);
}

std::vector<MethodAnswer> answer(const MethodInput& input, std::uint8_t) {
    const std::vector<RowItems>& rows = input.items[0];
    std::vector<MethodAnswer> answers(questions.size());
    for (std::size_t i = 0; i < questions.size(); ++i)
        if (questions[i].of_each >= 0) answers[i] = EachAnswer(rows.size());
    const Numbered numbered = number(input);
    const Ordering found = order_steps(numbered.sequence);
    answers[proven] = OneAnswer{found.proven};
    if (found.possible == Possible::open) return answers;
    answers[possible] = OneAnswer{found.possible == Possible::yes};
    if (found.possible == Possible::yes)
        answer_order(found, numbered, rows, answers);
    else
        answer_conflict(found, rows, answers);
    return answers;
}

}  // namespace

const Method& sequence_method() {
    static const Method method{
        "order of steps",
        "the nearest order in which each step comes after those that it needs, and nothing is "
        "done behind what is fitted",
        {},
        lists,
        questions,
        answer};
    return method;
}

}  // namespace packproof::solve
