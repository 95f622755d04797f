#include "engine/inspect/drawing.hpp"

#include <algorithm>
#include <cmath>

#include "engine/inspect/label.hpp"
#include "engine/inspect/wording.hpp"

namespace packproof::inspect {

using language::Expression;
using model::ItemIndex;
using rules::Shape;
using rules::ShapeForm;

namespace {

constexpr double most_repeated = 400.0;

/// A leg of a run, before it is joined to others.
struct Leg {
    model::Reference from;
    model::Reference to;
    Run::Leg words;
    bool drawn = false;
};

class Drafting {
  public:
    explicit Drafting(facts::Facts& facts) : facts_(facts) {}

    Figure figure(const rules::Drawing& drawing) {
        Figure made{drawing.name, drawing.title, drawing.about, drawing.to_scale, {}, {}, {}, 0};
        for (shape_ = 0; shape_ < drawing.shapes.size(); ++shape_) {
            const Shape& shape = drawing.shapes[shape_];
            if (shape.form == ShapeForm::runs) {
                add_runs(shape, made);
                continue;
            }
            for (const ItemIndex item : facts_.model().of_kind[shape.kind])
                if (holds(shape.when, item)) add_marks(shape, item, made);
        }
        // Part of a row would look like the whole.
        if (made.too_many > 0) made.marks.clear();
        return made;
    }

    bool is_drawn(const rules::Drawing& drawing) {
        if (drawing.when.empty()) return true;
        const auto& items = facts_.model().of_kind[drawing.kind];
        return !items.empty() && holds(drawing.when, items.front());
    }

  private:
    bool holds(const Expression& expression, ItemIndex item) {
        return expression.empty() || language::truth_of(evaluate(expression, item)) == model::Truth::yes;
    }
    model::Value evaluate(const Expression& expression, ItemIndex item) {
        return language::evaluate(expression, item, facts_.context());
    }
    /// Nominal, of what has two finite ends: a size that is only bounded is none. 0 where nothing is asked.
    bool length(const Expression& expression, ItemIndex item, double& into) {
        if (expression.empty()) return true;
        const model::Value value = evaluate(expression, item);
        const model::Number* number = value.number();
        if (number == nullptr || !std::isfinite(number->nominal) || !std::isfinite(number->range.low) ||
            !std::isfinite(number->range.high))
            return false;
        into = number->nominal;
        return true;
    }
    void leave_out(ItemIndex item, Figure& made) {
        std::string name = item_label(facts_.model(), item);
        if (std::find(made.left_out.begin(), made.left_out.end(), name) == made.left_out.end())
            made.left_out.push_back(std::move(name));
    }

    void add_marks(const Shape& shape, ItemIndex item, Figure& made) {
        Mark mark;
        mark.form = shape.form;
        mark.style = shape.style;
        mark.align = shape.align;
        mark.size = shape.size;
        mark.bold = shape.bold;
        mark.shape = shape_;
        Repeat repeat;
        bool known = length(shape.x, item, mark.x) && length(shape.y, item, mark.y) &&
                     length(shape.to_x, item, mark.to_x) && length(shape.to_y, item, mark.to_y) &&
                     length(shape.width, item, mark.width) && length(shape.height, item, mark.height) &&
                     length(shape.room, item, mark.room) && repeated(shape, item, repeat);
        if (!shape.diameter.empty()) {
            known = known && length(shape.diameter, item, mark.width);
            mark.height = mark.width;
        }
        if (!known) return leave_out(item, made);
        if (std::round(repeat.times) > most_repeated) {
            constexpr double most_told = 1e9;
            const auto due = static_cast<std::size_t>(std::min(std::round(repeat.times), most_told));
            made.too_many = std::max(made.too_many, due);
            return;
        }
        const int count = static_cast<int>(std::max(std::round(repeat.times), 0.0));
        for (int number = 1; number <= count; ++number) {
            Mark one = mark;
            move(one, shape, repeat, number);
            one.label = words_of(shape.label, item, number, facts_);
            one.note = shape.value.empty() ? words_of(shape.note, item, number, facts_)
                                           : value_words(shape, item, number);
            made.marks.push_back(std::move(one));
        }
    }

    /// The nominal value: what a drawing says is where to look, not between which limits.
    std::string value_words(const Shape& shape, ItemIndex item, int number) {
        model::Value value = evaluate(shape.value, item);
        if (value.missing()) return "(not stated)";
        if (const model::Number* known = value.number()) {
            const double nominal = known->nominal * (shape.adds_up ? number : 1);
            value.content = model::Number{units::Interval::point(nominal), nominal, {}};
        }
        return show(facts_.model(), value, shape.value.type(),
                    node_unit(shape.value, shape.value.root, item, {}, facts_))
            .text;
    }

    struct Repeat {
        double times = 1.0;
        double in_row = most_repeated;
        double across = 0.0;
        double down = 0.0;
        std::vector<double> alternates;
    };

    bool repeated(const Shape& shape, ItemIndex item, Repeat& repeat) {
        const bool known = length(shape.times, item, repeat.times) &&
                           length(shape.in_row, item, repeat.in_row) &&
                           length(shape.across, item, repeat.across) && length(shape.down, item, repeat.down);
        for (const Expression& one : shape.alternates) {
            double off = 0.0;
            if (!length(one, item, off)) return false;
            repeat.alternates.push_back(off);
        }
        return known && repeat.in_row >= 1.0;
    }

    struct Offset {
        double x = 0.0;
        double y = 0.0;
        double turned = 0.0;  ///< how far it is off its row
    };
    /// Rows are led back: number n + 1 stands beside number n, at the end of a row below it.
    static Offset offset_of(const Repeat& repeat, int number) {
        const int in_row = static_cast<int>(std::round(repeat.in_row));
        const int row = (number - 1) / in_row;
        const int step = (number - 1) % in_row;
        const int column = row % 2 == 0 ? step : in_row - 1 - step;
        const auto at = static_cast<std::size_t>(row);
        const double off = at < repeat.alternates.size() ? repeat.alternates[at] : 0.0;
        return {column * repeat.across, row * repeat.down, step % 2 == 0 ? off : -off};
    }
    static void move(Mark& mark, const Shape& shape, const Repeat& repeat, int number) {
        if (shape.times.empty()) return;
        const Offset here = offset_of(repeat, number);
        if (shape.to_next) {
            const Offset next = offset_of(repeat, number + 1);
            mark.to_x = mark.x + next.x;
            mark.to_y = mark.y + next.y + next.turned;
            mark.x += here.x;
            mark.y += here.y - here.turned;
            return;
        }
        mark.x += here.x;
        mark.y += here.y + here.turned;
        mark.to_x += here.x;
        mark.to_y += here.y + here.turned;
    }

    void add_runs(const Shape& shape, Figure& made) {
        std::vector<Leg> legs;
        for (const ItemIndex item : facts_.model().of_kind[shape.kind]) {
            if (!holds(shape.when, item)) continue;
            const model::Value from = evaluate(shape.from, item);
            const model::Value to = evaluate(shape.to, item);
            if (from.reference() == nullptr || to.reference() == nullptr) {
                leave_out(item, made);
                continue;
            }
            legs.push_back({*from.reference(),
                            *to.reference(),
                            {words_of(shape.label, item, 0, facts_), words_of(shape.note, item, 0, facts_)},
                            false});
        }
        // First those that nothing leads to, then what is left of rings.
        for (const bool ring : {false, true})
            for (Leg& leg : legs)
                if (!leg.drawn && (ring || !is_led_to(legs, leg))) made.runs.push_back(follow(legs, leg));
    }
    static bool is_led_to(const std::vector<Leg>& legs, const Leg& leg) {
        return std::any_of(legs.begin(), legs.end(), [&](const Leg& other) {
            return &other != &leg && other.to.item == leg.from.item && other.to.point != leg.from.point;
        });
    }
    Run follow(std::vector<Leg>& legs, Leg& first) {
        Run run;
        run.stops.push_back({item_label(facts_.model(), first.from.item), "", std::string(first.from.point)});
        for (Leg* leg = &first; leg != nullptr;) {
            leg->drawn = true;
            run.legs.push_back(leg->words);
            const model::Reference reached = leg->to;
            run.stops.push_back({item_label(facts_.model(), reached.item), std::string(reached.point), ""});
            // Where several lead on, the run goes on with the first; the others begin runs of their own.
            const auto next = std::find_if(legs.begin(), legs.end(), [&](const Leg& other) {
                return !other.drawn && other.from.item == reached.item &&
                       (reached.point.empty() || other.from.point != reached.point);
            });
            leg = next == legs.end() ? nullptr : &*next;
            if (leg != nullptr) run.stops.back().leaves = std::string(leg->from.point);
        }
        return run;
    }

    facts::Facts& facts_;
    std::size_t shape_ = 0;  ///< of the drawing at hand, the one that is being worked out
};

}  // namespace

std::vector<Figure> draw(const model::Model& model, const rules::RuleSet& rules) {
    facts::Facts facts(model, rules);
    Drafting drafting(facts);
    std::vector<Figure> figures;
    for (const rules::Drawing& drawing : rules.drawings) {
        if (!drafting.is_drawn(drawing)) continue;
        Figure figure = drafting.figure(drawing);
        const bool says_something =
            !figure.marks.empty() || !figure.runs.empty() || !figure.left_out.empty() || figure.too_many > 0;
        if (says_something) figures.push_back(std::move(figure));
    }
    return figures;
}

}  // namespace packproof::inspect
