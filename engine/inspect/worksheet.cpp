#include "engine/inspect/worksheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/inspect/label.hpp"
#include "engine/units/print_quantity.hpp"

namespace packproof::inspect {

using language::Expression;
using model::ItemIndex;
using model::Truth;
using model::Value;
using rules::WorksheetLine;

namespace {

constexpr double most_repeated = 400.0;

class Filling {
  public:
    Filling(const model::Model& model, const rules::RuleSet& rules, facts::Facts& facts)
        : model_(model), rules_(rules), facts_(facts) {}

    Sheet fill(const rules::Worksheet& form) {
        Sheet sheet{form.name, form.title, form.about, {}};
        for (const WorksheetLine& line : form.lines)
            for (const ItemIndex item : in_order(line))
                add_lines(line, item, sheet);
        return sheet;
    }

  private:
    Value evaluate(const Expression& expression, ItemIndex item) {
        return language::evaluate(expression, item, facts_.context());
    }
    bool holds(const Expression& expression, ItemIndex item) {
        return language::truth_of(evaluate(expression, item)) == Truth::yes;
    }

    /// The items that the line is for; those without a place behind the others.
    std::vector<ItemIndex> in_order(const WorksheetLine& line) {
        std::vector<std::pair<double, ItemIndex>> found;
        for (const ItemIndex item : model_.of_kind[line.kind]) {
            if (!line.when.empty() && !holds(line.when, item)) continue;
            double place = 0.0;
            if (!line.by.empty()) {
                const Value by = evaluate(line.by, item);
                place = by.number() == nullptr ? HUGE_VAL : by.number()->nominal;
            }
            found.emplace_back(place, item);
        }
        std::stable_sort(found.begin(), found.end(),
                         [](const auto& a, const auto& b) { return a.first < b.first; });
        std::vector<ItemIndex> items;
        items.reserve(found.size());
        for (const auto& [place, item] : found)
            items.push_back(item);
        return items;
    }

    void add_lines(const WorksheetLine& line, ItemIndex item, Sheet& sheet) {
        if (line.times.empty()) {
            add_line(line, item, 0, sheet);
            return;
        }
        const Value times = evaluate(line.times, item);
        if (times.number() == nullptr) return;
        const double count = std::min(std::round(times.number()->nominal), most_repeated);
        for (int n = 1; n <= static_cast<int>(count); ++n)
            add_line(line, item, n, sheet);
    }

    void add_line(const WorksheetLine& line, ItemIndex item, int number, Sheet& sheet) {
        SheetLine made;
        made.item = item_label(model_, item);
        made.text = words_of(line.does, item, number);
        made.hold = !line.hold.empty() && holds(line.hold, item);
        made.stop = line.stop;
        Value expected;
        units::Unit unit;
        if (!line.expects.empty()) {
            expected = evaluate(line.expects, item);
            if (line.adds_up) multiply(expected, number);
            unit = node_unit(line.expects, line.expects.root, item, {}, facts_);
            made.expects = expected.missing() ? std::string("(not stated)")
                                              : expected_words(expected, line.expects.type(), unit);
        }
        const bool takes_reading = !line.found.empty() || line.found_in.has_value();
        const Expression* value = line.found_in ? &line.found_in->value : &line.found;
        const ItemIndex read = line.found_in ? read_at(*line.found_in, number) : item;
        if (takes_reading && read != model::no_item) {
            const Value found = evaluate(*value, read);
            if (!found.missing() && !found.none()) {
                made.found =
                    show(model_, found, value->type(), node_unit(*value, value->root, read, {}, facts_)).text;
                made.state = state_of(found, expected);
                if (line.found_in && !line.found_in->good.empty() && !holds(line.found_in->good, read))
                    made.state = SheetLine::State::outside;
            }
        }
        made.measured = takes_reading;
        sheet.lines.push_back(std::move(made));
    }

    /// A number in doubt as its span: what is expected is a span, not a value with its tolerance.
    std::string expected_words(const Value& expected, const model::Type& type,
                               const units::Unit& unit) const {
        const model::Number* number = expected.number();
        if (number == nullptr || number->range.is_point()) return show(model_, expected, type, unit).text;
        return units::print_interval(
            number->range, units::display_unit(type.dimension, unit, number->range.high, type.absolute),
            type.absolute);
    }

    std::string words_of(const rules::Wording& wording, ItemIndex item, int number) {
        std::string text = wording.words.empty() ? std::string() : wording.words.front();
        for (std::size_t i = 0; i < wording.blanks.size(); ++i) {
            const Expression& blank = wording.blanks[i];
            if (blank.empty()) {
                text += fmt::format("{}", number);
            } else {
                const Value value = evaluate(blank, item);
                text += value.missing() ? std::string("(not stated)")
                                        : show(model_, value, blank.type(),
                                               node_unit(blank, blank.root, item, {}, facts_))
                                              .text;
            }
            text += wording.words[i + 1];
        }
        return text;
    }

    static void multiply(Value& value, int number) {
        const model::Number* one = value.number();
        if (one == nullptr) return;
        const double n = number;
        value.content = model::Number{{one->range.low * n, one->range.high * n}, one->nominal * n, {}};
    }

    /// The item whose number is that of the line; no_item if there is none, or more than one.
    ItemIndex read_at(const rules::FoundIn& found, int number) {
        ItemIndex at = model::no_item;
        for (const ItemIndex item : model_.of_kind[found.kind]) {
            const Value value = evaluate(found.number, item);
            if (value.number() == nullptr || std::abs(value.number()->nominal - number) > 1e-9) continue;
            if (at != model::no_item) return model::no_item;
            at = item;
        }
        return at;
    }

    /// Where a reading lies against what is expected, with its own tolerance.
    static SheetLine::State state_of(const Value& found, const Value& expected) {
        using State = SheetLine::State;
        if (expected.missing()) return State::open;
        if (const model::Number* read = found.number()) {
            units::Interval range;
            if (const model::Number* number = expected.number())
                range = number->range;
            else if (const model::Range* permitted = expected.range())
                range = {permitted->lower.low, permitted->upper.high};
            else
                return State::open;
            if (read->range.low >= range.low && read->range.high <= range.high) return State::inside;
            return read->range.high < range.low || read->range.low > range.high ? State::outside
                                                                                : State::uncertain;
        }
        const model::Text* read = found.text();
        const model::Text* text = expected.text();
        if (read != nullptr && text != nullptr)
            return read->value == text->value ? State::inside : State::outside;
        const Truth* is = found.truth();
        const Truth* due = expected.truth();
        if (is != nullptr && due != nullptr) return *is == *due ? State::inside : State::outside;
        return State::open;
    }

    const model::Model& model_;
    const rules::RuleSet& rules_;
    facts::Facts& facts_;
};

std::string stop_words(const Finding& finding) {
    std::string words = fmt::format("{}: {}", finding.item_name, finding.asks);
    if (!finding.has.text.empty()) words += fmt::format(" {} is {}", finding.subject, finding.has.text);
    if (!finding.needs_text.empty()) words += fmt::format("; needs {}", finding.needs_text);
    return words;
}

}  // namespace

std::vector<Sheet> fill_sheets(const model::Model& model, const rules::RuleSet& rules) {
    facts::Facts facts(model, rules);
    Filling filling(model, rules, facts);
    std::vector<Sheet> sheets;
    for (const rules::Worksheet& form : rules.worksheets) {
        Sheet sheet = filling.fill(form);
        if (!sheet.lines.empty()) sheets.push_back(std::move(sheet));
    }
    return sheets;
}

std::optional<BenchList> bench_list(const std::string& path, const rules::RuleSet& rules,
                                    text::Sources& sources, text::Messages& messages,
                                    const Options& options) {
    const auto loaded = load(path, rules, sources, messages, options);
    if (!loaded) return std::nullopt;
    BenchList list;
    list.file = loaded->name;
    list.title = title_of(loaded->model);
    list.input_digest = loaded->digest;
    list.rules_version = rule_set_version();
    list.rules_digest = rules.digest;
    const auto add_caution = [&](const std::string& text) {
        if (!text.empty() &&
            std::find(list.cautions.begin(), list.cautions.end(), text) == list.cautions.end())
            list.cautions.push_back(text);
    };
    const Report report = inspect_model(loaded->model, rules, sources);
    for (const Finding& finding : report.findings) {
        const bool stops = finding.verdict == Verdict::fails && finding.rule_class == Class::critical;
        if (!stops) continue;
        if (!finding.cause) list.stops.push_back(stop_words(finding));
        add_caution(finding.caution);
    }
    list.sheets = fill_sheets(loaded->model, rules);
    for (Question& question : request_model(loaded->model, rules, sources).questions)
        if (question.answered_by == model::AnsweredBy::bench) list.measure.push_back(std::move(question));
    for (const rules::Worksheet& form : rules.worksheets)
        for (const WorksheetLine& line : form.lines) {
            if (loaded->model.of_kind[line.kind].empty()) continue;
            const rules::Caution* caution = rules.caution(loaded->model.vocabulary->kinds[line.kind].caution);
            if (caution != nullptr) add_caution(caution->text);
        }
    return list;
}

}  // namespace packproof::inspect
