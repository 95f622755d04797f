#include "engine/inspect/worksheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/inspect/concession.hpp"
#include "engine/inspect/label.hpp"
#include "engine/inspect/relaxed.hpp"
#include "engine/inspect/wording.hpp"

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
    Filling(const model::Model& model, const Report& report, facts::Facts& facts)
        : model_(model), report_(report), facts_(facts) {}

    Sheet fill(const rules::Worksheet& form) {
        Sheet sheet{form.name, form.title, form.about, {}, form.brief, form.layout};
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
        const double left = std::round(times.number()->nominal) - count;
        if (!(left > 0.0)) return;
        SheetLine rest;
        rest.item = item_label(model_, item);
        rest.text = fmt::format("{:.0f} more lines of this kind are not on this list", left);
        rest.hold = true;
        sheet.lines.push_back(std::move(rest));
    }

    void add_line(const WorksheetLine& line, ItemIndex item, int number, Sheet& sheet) {
        SheetLine made;
        made.item = item_label(model_, item);
        made.text = words_of(line.does, item, number, facts_);
        made.detail = words_of(line.detail, item, number, facts_);
        made.brief = words_of(line.brief, item, number, facts_);
        made.number = number;
        made.hold = !line.hold.empty() && holds(line.hold, item);
        made.stop = line.stop;
        Value expected;
        units::Unit unit;
        if (!line.expects.empty()) {
            expected = evaluate(line.expects, item);
            if (line.adds_up) multiply(expected, number);
            unit = node_unit(line.expects, line.expects.root, item, {}, facts_);
            made.expects = expected.missing() || expected.none()
                               ? std::string("(not stated)")
                               : expected_words(model_, expected, line.expects.type(), unit);
            made.doubt = doubt_about(line.expects, item);
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
                if (read != item || line.expects.empty()) made.state = with_checks(made.state, read);
                if (!line.good.empty() && !holds(line.good, item)) made.state = SheetLine::State::outside;
            }
        }
        made.measured = takes_reading;
        sheet.lines.push_back(std::move(made));
    }

    /// The state by what the checks on the item that was read say of it.
    SheetLine::State with_checks(SheetLine::State state, ItemIndex read) const {
        using State = SheetLine::State;
        for (const Finding& finding : report_.findings) {
            if (finding.item != read || finding.rule_class == Class::observation) continue;
            if (finding.verdict == Verdict::fails) return State::outside;
            const bool unsettled =
                finding.verdict == Verdict::undecided || finding.verdict == Verdict::not_stated;
            if (unsettled && state != State::outside) state = State::uncertain;
        }
        return state;
    }

    /// Why a value that is expected does not hold yet: papers that differ on it, or a grave check that points
    /// to it and does not conform.
    std::string doubt_about(const Expression& expects, ItemIndex item) {
        const auto inputs = facts_.inputs_of(
            [&](const language::Context& context) { return language::evaluate(expects, item, context); });
        for (const language::Input& input : inputs) {
            for (const model::Conflict& conflict : model_.conflicts)
                if (!conflict.agree && conflict.item == input.item && conflict.field == input.field)
                    return "papers differ on " + input_label(model_, input);
            const model::Slot* slot = model_.slot(input.item, input.field);
            if (slot == nullptr || slot->span.source == text::no_source) continue;
            for (const Finding& finding : report_.findings) {
                const bool speaks =
                    finding.place.source == slot->span.source && finding.place.begin == slot->span.begin &&
                    (finding.verdict == Verdict::fails || finding.verdict == Verdict::undecided);
                if (speaks && finding.rule_class <= Class::major)
                    return fmt::format(
                        "{} {}: {}", finding.rule_name, rules::verdict_name(finding.verdict),
                        finding.needs_text.empty() ? finding.asks : "needs " + finding.needs_text);
            }
        }
        return {};
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
    const Report& report_;
    facts::Facts& facts_;
};

/// What was found of one item that stops the work: no formula stands in it, for that is in the report.
std::vector<std::string> found_words(const Finding& finding) {
    std::vector<std::string> words;
    const bool its_own = finding.subject.ends_with(" of " + finding.item_name);
    if (its_own && !finding.has.text.empty() && finding.has.text != "no")
        words.push_back("Found: " + finding.has.text);
    words.insert(words.end(), finding.shows.begin(), finding.shows.end());
    return words;
}

/// Findings for which the same is asked, advised and conceded: one line, in which every item is named.
struct Stop {
    std::uint32_t rule = 0;
    std::string advice;
    std::string conceded;  ///< may be empty
    std::vector<const Finding*> findings;
};

std::string stop_words(const Stop& stop) {
    const Finding& first = *stop.findings.front();
    const std::vector<std::string> found = found_words(first);
    const bool alike = std::all_of(stop.findings.begin(), stop.findings.end(),
                                   [&](const Finding* one) { return found_words(*one) == found; });
    std::string words;
    for (const Finding* one : stop.findings) {
        words += (words.empty() ? "" : ", ") + one->item_name;
        if (!alike) words += fmt::format(" ({})", fmt::join(found_words(*one), "; "));
    }
    words += ": " + first.asks;
    if (alike)
        for (const std::string& one : found)
            words += fmt::format(" {}.", one);
    if (!stop.advice.empty()) words += " " + stop.advice;
    if (!stop.conceded.empty())
        words += fmt::format(" {} all the same, conceded by {}.",
                             stop.findings.size() == 1 ? "It fails" : "They fail", stop.conceded);
    return words;
}

/// Whatever is critical and fails, also what follows from something else: who clears the one on top at the
/// bench does not see whether that cleared the rest. A concession lets the gate pass, not the hand.
std::vector<std::string> stops_of(const Report& report) {
    std::vector<Stop> stops;
    for (const Finding& finding : report.findings) {
        if (finding.verdict != Verdict::fails || finding.rule_class != Class::critical) continue;
        const std::string conceded =
            finding.conceded ? conceded_words(report.concessions[*finding.concession]) : std::string();
        const auto like = std::find_if(stops.begin(), stops.end(), [&](const Stop& stop) {
            return stop.rule == finding.rule && stop.advice == finding.advice && stop.conceded == conceded;
        });
        if (like == stops.end())
            stops.push_back({finding.rule, finding.advice, conceded, {&finding}});
        else
            like->findings.push_back(&finding);
    }
    std::vector<std::string> lines;
    lines.reserve(stops.size());
    for (const Stop& stop : stops)
        lines.push_back(stop_words(stop));
    return lines;
}

}  // namespace

std::vector<Sheet> fill_sheets(const model::Model& model, const rules::RuleSet& rules, const Report& report) {
    facts::Facts facts(model, rules);
    Filling filling(model, report, facts);
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
    Options own;
    own.day = options.day;
    return bench_list_of(*loaded, rules, sources, inspect_model(loaded->model, rules, sources, own));
}

BenchList bench_list_of(const Loaded& loaded, const rules::RuleSet& rules, const text::Sources& sources,
                        const Report& report) {
    BenchList list;
    list.file = loaded.name;
    list.title = title_of(loaded.model);
    list.input_digest = loaded.digest;
    list.rules_version = rule_set_version();
    list.rules_digest = rules.digest;
    const auto add_caution = [&](const std::string& text) {
        if (!text.empty() &&
            std::find(list.cautions.begin(), list.cautions.end(), text) == list.cautions.end())
            list.cautions.push_back(text);
    };
    for (const Relaxed& one : report.relaxed)
        add_caution("A rule that guards people was relaxed: " + relaxed_words(one));
    list.stops = stops_of(report);
    for (const Finding& finding : report.findings)
        if (finding.verdict == Verdict::fails && finding.rule_class == Class::critical)
            add_caution(finding.caution);
    list.sheets = fill_sheets(loaded.model, rules, report);
    for (Question& question : request_model(loaded.model, rules, sources).questions)
        if (question.answered_by == model::AnsweredBy::bench) list.measure.push_back(std::move(question));
    for (const rules::Worksheet& form : rules.worksheets)
        for (const WorksheetLine& line : form.lines) {
            if (loaded.model.of_kind[line.kind].empty()) continue;
            const rules::Caution* caution = rules.caution(loaded.model.vocabulary->kinds[line.kind].caution);
            if (caution != nullptr) add_caution(caution->text);
        }
    return list;
}

}  // namespace packproof::inspect
