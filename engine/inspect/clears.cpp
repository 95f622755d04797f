#include "engine/inspect/clears.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <variant>

#include "engine/units/print_quantity.hpp"
#include "engine/units/read_quantity.hpp"

namespace packproof::inspect {

using language::Box;
using language::Expression;
using language::Input;
using model::Field;
using model::ItemIndex;
using model::Value;

namespace {

/// Tries values of one input against the demand.
class Trial {
  public:
    Trial(const rules::Application& application, ItemIndex item, Input input, facts::Facts& facts)
        : application_(application),
          item_(item),
          facts_(facts),
          stated_(facts.model().slot(input.item, input.field)->value) {
        box_.inputs = {input};
        box_.values.resize(1);
        box_.slopes = false;
    }

    /// True if the demand holds with the input moved to `nominal`, its tolerance kept.
    bool holds(double nominal) {
        const model::Number* stated = stated_.number();
        const double shift = nominal - stated->nominal;
        Value value;
        value.content = model::Number{{stated->range.low + shift, stated->range.high + shift}, nominal, {}};
        return holds_with(std::move(value));
    }

    bool holds_with(Value value) {
        box_.values[0] = std::move(value);
        return language::truth_of(language::evaluate(application_.demands, item_, facts_.context(&box_))) ==
               model::Truth::yes;
    }

  private:
    const rules::Application& application_;
    ItemIndex item_;
    facts::Facts& facts_;
    Value stated_;
    Box box_;
};

bool allowed(const Field& field, double x) {
    return (field.least_open ? x > field.least : x >= field.least) && x <= field.most;
}

/// A number of few digits near the boundary found, on the side that holds: 50 mm² rather than 50.004 mm².
double in_few_digits(double x, const units::Unit& unit, bool absolute, bool upward, Trial& trial,
                     const Field& field) {
    const double offset = absolute ? unit.offset : 0.0;
    const double written = x / unit.factor - offset;
    if (written == 0.0 || !std::isfinite(written)) return x;
    const double size = std::floor(std::log10(std::abs(written)));
    auto rounded = [&](double digits, double (*round)(double)) {
        const double step = std::pow(10.0, size - digits + 1.0);
        const double whole =
            round(written / step);  // by division where steps are fractions, to stay a short decimal
        return ((step < 1.0 ? whole / std::round(1.0 / step) : whole * step) + offset) * unit.factor;
    };
    for (const double digits : {1.0, 2.0, 3.0}) {
        const double candidate = rounded(digits, [](double v) { return std::round(v); });
        if (std::abs(candidate - x) <= 0.003 * std::abs(x) && allowed(field, candidate) &&
            trial.holds(candidate))
            return candidate;
    }
    const double outward = upward ? rounded(3.0, [](double v) { return std::ceil(v); })
                                  : rounded(3.0, [](double v) { return std::floor(v); });
    return allowed(field, outward) && trial.holds(outward) ? outward : x;
}

/// Values worth trying on one side of `from`, nearest first: strides of its size, and the sizes that tables
/// list (a capacity rises at those only).
std::vector<double> candidates(const Field& field, double from, bool upward, double unit_step,
                               const rules::RuleSet& rules) {
    static constexpr double strides[] = {0.005, 0.01, 0.02, 0.04, 0.07, 0.1, 0.15, 0.2, 0.3, 0.4, 0.5,
                                         0.65,  0.8,  0.9,  1.0,  1.5,  2.0, 3.0,  5.0, 9.0, 19.0};
    const double span = std::max(std::abs(from), unit_step);
    std::vector<double> found;
    for (const double stride : strides)
        found.push_back(upward ? from + span * stride : from - span * stride);
    for (const rules::Table& table : rules.tables)
        for (std::size_t k = 0; k < table.keys.size(); ++k) {
            const rules::TableKey& key = table.keys[k];
            if (key.is_text || key.absolute != field.absolute || key.unit.dimension != field.unit.dimension)
                continue;
            for (const rules::TableRow& row : table.rows)
                found.push_back(row.keys[k].number);
        }
    std::erase_if(found, [&](double x) {
        return (upward ? x <= from : x >= from) || std::abs(x - from) > 19.0 * span || !allowed(field, x);
    });
    std::sort(found.begin(), found.end());
    if (!upward) std::reverse(found.begin(), found.end());
    found.erase(std::unique(found.begin(), found.end()), found.end());
    return found;
}

/// The nearest value in one direction at which the demand holds; empty if none is found within a factor
/// of 20.
std::optional<double> search(Trial& trial, const Field& field, double from, bool upward, double unit_step,
                             const rules::RuleSet& rules) {
    double last_failing = from;
    for (const double candidate : candidates(field, from, upward, unit_step, rules)) {
        if (!trial.holds(candidate)) {
            last_failing = candidate;
            continue;
        }
        double holding = candidate;
        const double fine = 1e-4 * std::max(std::abs(from), unit_step);
        for (int i = 0; i < 30 && std::abs(holding - last_failing) > fine; ++i) {
            const double middle = (holding + last_failing) / 2.0;
            (trial.holds(middle) ? holding : last_failing) = middle;
        }
        return holding;
    }
    return std::nullopt;
}

/// The value as text that, read again, still clears the finding: more digits where rounding would spoil it.
std::string printed_to_hold(double value, const units::Unit& unit, const Field& field, Trial& trial) {
    std::string text;
    for (int digits = 6; digits <= 15; ++digits) {
        text = units::print_number(value, unit, field.absolute, digits);
        const auto read = units::read_quantity(text, {field.unit.dimension, field.absolute, false});
        const auto* quantity = std::get_if<units::Quantity>(&read);
        if (quantity != nullptr && trial.holds(quantity->nominal)) break;
    }
    return text;
}

/// Whether a plain value in its place would say as much as what is written there: it has no tolerance, is no
/// guess and is said once.
bool is_plain(const model::Model& model, const Input& input) {
    const Value& stated = model.slot(input.item, input.field)->value;
    const model::Number* number = stated.number();
    if (number != nullptr && !number->range.is_point()) return false;
    if (stated.basis.guess) return false;
    return std::none_of(model.conflicts.begin(), model.conflicts.end(), [&](const model::Conflict& conflict) {
        return conflict.item == input.item && conflict.field == input.field;
    });
}

text::Span span_of(const model::Model& model, const Input& input) {
    return model.slot(input.item, input.field)->span;
}

void try_number(Trial& trial, const Field& field, Input input, facts::Facts& facts,
                std::vector<Remedy>& found) {
    const model::Model& model = facts.model();
    const model::Number* stated = model.slot(input.item, input.field)->value.number();
    if (stated == nullptr || !std::isfinite(stated->nominal)) return;
    units::Unit unit = input_unit(model, input);
    for (const bool upward : {false, true}) {
        const auto value = search(trial, field, stated->nominal, upward, unit.factor, facts.rules());
        if (!value) continue;
        const double shown = in_few_digits(*value, unit, field.absolute, upward, trial, field);
        if (unit.gauge) unit = units::display_unit(field.unit.dimension, unit, shown, false);
        Remedy remedy;
        remedy.input = input;
        remedy.span = span_of(model, input);
        remedy.value = {printed_to_hold(shown, unit, field, trial), true, shown, shown,
                        si_symbol(field.unit.dimension)};
        remedy.text = fmt::format("{}: {} {}", input_label(model, input), upward ? "at least" : "at most",
                                  remedy.value.text);
        remedy.writes = {remedy.value.text};
        found.push_back(std::move(remedy));
    }
}

void try_count(Trial& trial, const Field& field, Input input, facts::Facts& facts,
               std::vector<Remedy>& found) {
    const model::Number* stated = facts.model().slot(input.item, input.field)->value.number();
    if (stated == nullptr) return;
    for (int step = 1; step <= 64; ++step) {
        for (const double candidate : {stated->nominal - step, stated->nominal + step}) {
            if (!allowed(field, candidate) || !trial.holds(candidate)) continue;
            const std::string text = fmt::format("{}", candidate);
            found.push_back({fmt::format("{}: {}", input_label(facts.model(), input), text),
                             input,
                             {text, true, candidate, candidate, ""},
                             span_of(facts.model(), input),
                             {text}});
            return;
        }
    }
}

void try_choices(Trial& trial, const Field& field, Input input, facts::Facts& facts,
                 std::vector<Remedy>& found) {
    std::string fitting;
    std::vector<std::string> each;
    for (const std::string& choice : field.choices) {
        Value value;
        value.content = model::Text{choice, {}};
        if (!trial.holds_with(std::move(value))) continue;
        fitting += (fitting.empty() ? "" : " or ") + choice;
        each.push_back(choice);
    }
    if (fitting.empty()) return;
    found.push_back({fmt::format("{}: {}", input_label(facts.model(), input), fitting),
                     input,
                     {fitting, false, 0, 0, ""},
                     span_of(facts.model(), input),
                     std::move(each)});
}

}  // namespace

std::vector<Remedy> clears(const rules::Application& application, ItemIndex item, facts::Facts& facts) {
    std::vector<Remedy> found;
    for (const Expression& path : application.clears) {
        const auto input = node_input(path, path.root, item, {}, facts);
        if (!input || facts.model().slot(input->item, input->field) == nullptr) continue;
        const model::Slot* slot = facts.model().slot(input->item, input->field);
        if (slot->state != model::Slot::State::stated) continue;
        const Field& field = facts.model().kind_of(input->item).fields[input->field];
        Trial trial(application, item, *input, facts);
        const std::size_t before = found.size();
        switch (field.form) {
            case Field::Form::quantity:
                try_number(trial, field, *input, facts, found);
                break;
            case Field::Form::count:
                try_count(trial, field, *input, facts, found);
                break;
            case Field::Form::choice:
                try_choices(trial, field, *input, facts, found);
                break;
            default:
                break;  // texts, dates, ranges and references: no order to search in
        }
        if (!is_plain(facts.model(), *input))
            for (std::size_t i = before; i < found.size(); ++i)
                found[i].writes.clear();
    }
    return found;
}

}  // namespace packproof::inspect
