#include "engine/inspect/acceptable.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "engine/units/print_quantity.hpp"

namespace packproof::inspect {

using language::Box;
using language::Input;
using model::Field;
using model::Truth;
using model::Value;

namespace {

/// Puts values in the place of the input and asks one rule.
class Trial {
  public:
    Trial(Input input, const Waiter& waiter, facts::Facts& facts) : waiter_(waiter), facts_(facts) {
        box_.inputs = {input};
        box_.values.resize(1);
        box_.slopes = false;
    }

    Truth ask(const Value& value) {
        box_.values[0] = value;
        const language::Context context = facts_.context(&box_);
        if (!waiter_.application->when.empty()) {
            const Truth applies =
                language::truth_of(language::evaluate(waiter_.application->when, waiter_.item, context));
            if (applies == Truth::no) return Truth::yes;  // nothing is left to judge
            if (applies == Truth::unknown) return Truth::unknown;
        }
        return language::truth_of(language::evaluate(waiter_.application->demands, waiter_.item, context));
    }
    bool holds(const Value& value) { return ask(value) == Truth::yes; }

    /// Some of these values lets the rule be judged.
    bool can_judge(const std::vector<Value>& values) {
        return std::any_of(values.begin(), values.end(),
                           [&](const Value& value) { return ask(value) != Truth::unknown; });
    }

  private:
    Waiter waiter_;
    facts::Facts& facts_;
    Box box_;
};

Value number_value(double x) {
    Value value;
    value.content = model::Number{{x, x}, x, {}};
    return value;
}

units::Unit shown_unit(const Field& field, double x) {
    return units::display_unit(field.unit.dimension, field.unit.gauge ? units::Unit{} : field.unit, x,
                               field.absolute);
}

bool allowed(const Field& field, double x) {
    return (field.least_open ? x > field.least : x >= field.least) && x <= field.most;
}

/// From a millionth of the field's unit to a million of it; of a temperature, from frost to glowing.
std::vector<double> values_to_try(const Field& field) {
    std::vector<double> values;
    if (field.form == Field::Form::count) {
        for (int n = 0; n <= 64; ++n)
            values.push_back(n);
    } else if (field.absolute) {
        for (int kelvin = 203; kelvin <= 503; kelvin += 5)
            values.push_back(kelvin + 0.15);
    } else {
        const double unit = field.unit.symbol.empty() || field.unit.gauge ? 1.0 : field.unit.factor;
        constexpr int per_decade = 6;
        for (int step = -6 * per_decade; step <= 6 * per_decade; ++step)
            values.push_back(unit * std::pow(10.0, static_cast<double>(step) / per_decade));
        values.push_back(0.0);
        std::sort(values.begin(), values.end());
    }
    std::erase_if(values, [&](double x) { return !allowed(field, x); });
    return values;
}

/// The end of the values that hold, between one that does and one that does not.
double edge(Trial& trial, double holding, double failing, bool whole) {
    for (int i = 0; i < 40; ++i) {
        const double middle = whole ? std::floor((holding + failing) / 2.0) : (holding + failing) / 2.0;
        if (middle == holding || middle == failing) break;
        (trial.holds(number_value(middle)) ? holding : failing) = middle;
    }
    return holding;
}

/// Rounded to three digits towards the side that holds, if the rule still agrees there.
double in_few_digits(Trial& trial, double x, bool upward, const Field& field) {
    const units::Unit unit = shown_unit(field, x);
    const double offset = field.absolute ? unit.offset : 0.0;
    const double written = x / unit.factor - offset;
    if (field.form == Field::Form::count || written == 0.0 || !std::isfinite(written)) return x;
    const double step = std::pow(10.0, std::floor(std::log10(std::abs(written))) - 2.0);
    const double steps = written / step;
    for (const double whole : {std::round(steps), upward ? std::ceil(steps) : std::floor(steps)}) {
        const double shown = step < 1.0 ? whole / std::round(1.0 / step) : whole * step;
        const double candidate = (shown + offset) * unit.factor;
        if (trial.holds(number_value(candidate))) return candidate;
    }
    return x;
}

/// The values at which a rule conforms; an end is empty where every value tried on that side does.
struct Ends {
    std::optional<double> least;
    std::optional<double> most;
};

/// Empty where the rule cannot be judged by this input alone, or conforms at no value tried, or at several
/// spans.
std::optional<Ends> ends_of(Trial& trial, const Field& field, const std::vector<double>& values) {
    std::vector<Value> spread;
    for (std::size_t part = 1; part < 10; part += 2)
        if (!values.empty()) spread.push_back(number_value(values[values.size() * part / 10]));
    if (!trial.can_judge(spread)) return std::nullopt;
    std::vector<bool> holds;
    for (const double x : values)
        holds.push_back(trial.holds(number_value(x)));
    const auto first = std::find(holds.begin(), holds.end(), true);
    if (first == holds.end()) return std::nullopt;
    const auto after = std::find(first, holds.end(), false);
    if (std::find(after, holds.end(), true) != holds.end()) return std::nullopt;
    const bool whole = field.form == Field::Form::count;
    Ends ends;
    if (first != holds.begin()) {
        const std::size_t at = static_cast<std::size_t>(first - holds.begin());
        if (values[at - 1] == 0.0) return std::nullopt;  // anything but nothing: that is no limit to name
        ends.least = in_few_digits(trial, edge(trial, values[at], values[at - 1], whole), true, field);
    }
    if (after != holds.end()) {
        const std::size_t at = static_cast<std::size_t>(after - holds.begin());
        ends.most = in_few_digits(trial, edge(trial, values[at - 1], values[at], whole), false, field);
    }
    return ends;
}

std::string number_limit(Input input, const std::vector<Waiter>& waiting, const Field& field,
                         facts::Facts& facts) {
    const std::vector<double> values = values_to_try(field);
    Ends all;
    for (const Waiter& waiter : waiting) {
        Trial trial(input, waiter, facts);
        const auto ends = ends_of(trial, field, values);
        if (!ends) continue;
        if (ends->least) all.least = all.least ? std::max(*all.least, *ends->least) : *ends->least;
        if (ends->most) all.most = all.most ? std::min(*all.most, *ends->most) : *ends->most;
    }
    const auto shown = [&](double x) {
        return units::print_number(x, shown_unit(field, x), field.absolute, 6);
    };
    if (all.least && all.most) {
        if (*all.least > *all.most) return {};  // no value would do: not ours to say to who answers
        const std::string from = shown(*all.least);
        const std::string to = shown(*all.most);
        return from == to ? from : from + " to " + to;
    }
    if (all.least) return "at least " + shown(*all.least);
    if (all.most) return "at most " + shown(*all.most);
    return {};
}

/// Of a choice: those values at which every rule that can be judged by them conforms.
std::string list_limit(Input input, const std::vector<Waiter>& waiting, const std::vector<Value>& values,
                       const std::vector<std::string>& names, facts::Facts& facts) {
    std::vector<bool> fits(values.size(), true);
    for (const Waiter& waiter : waiting) {
        Trial trial(input, waiter, facts);
        if (!trial.can_judge(values)) continue;
        for (std::size_t i = 0; i < values.size(); ++i)
            fits[i] = fits[i] && trial.holds(values[i]);
    }
    std::vector<std::string> fitting;
    for (std::size_t i = 0; i < fits.size(); ++i)
        if (fits[i]) fitting.push_back(names[i]);
    if (fitting.size() == names.size()) return {};
    return fmt::format("{}", fmt::join(fitting, " or "));
}

}  // namespace

std::string answer_form(const Field& field, const model::Vocabulary& vocabulary) {
    const std::string unit = field.unit.symbol.empty() ? std::string() : " in " + field.unit.symbol;
    switch (field.form) {
        case Field::Form::quantity:
            return "a value" + unit + ", with its tolerance";
        case Field::Form::range:
            return "the permitted range" + unit + ": its lowest and its highest value";
        case Field::Form::count:
            return "a whole number";
        case Field::Form::truth:
            return "yes or no";
        case Field::Form::text:
            return "the words as they are printed";
        case Field::Form::date:
            return "a date";
        case Field::Form::choice:
            return fmt::format("one of: {}", fmt::join(field.choices, ", "));
        case Field::Form::reference:
        case Field::Form::references: {
            std::vector<std::string> kinds;
            for (const model::KindIndex kind : field.kinds) {
                std::string name = vocabulary.kinds[kind].name;
                std::replace(name.begin(), name.end(), '_', ' ');
                kinds.push_back(std::move(name));
            }
            return fmt::format("{}: {}",
                               field.form == Field::Form::reference ? "which one" : "which ones, in order",
                               fmt::join(kinds, ", "));
        }
    }
    return {};
}

std::string answer_limit(Input input, const std::vector<Waiter>& waiting, facts::Facts& facts) {
    const Field& field = facts.model().kind_of(input.item).fields[input.field];
    std::vector<Value> values;
    switch (field.form) {
        case Field::Form::quantity:
        case Field::Form::count:
            return number_limit(input, waiting, field, facts);
        case Field::Form::choice:
            for (const std::string& choice : field.choices) {
                values.emplace_back();
                values.back().content = model::Text{choice, {}};
            }
            return list_limit(input, waiting, values, field.choices, facts);
        default:
            return {};  // nothing to search among; of a truth, naming the one that does would put it into a
                        // mouth
    }
}

}  // namespace packproof::inspect
