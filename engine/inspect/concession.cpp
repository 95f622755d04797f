#include "engine/inspect/concession.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "engine/inspect/describe.hpp"
#include "engine/text/nearest_name.hpp"
#include "engine/text/safe_print.hpp"
#include "engine/units/read_quantity.hpp"

namespace packproof::inspect {

using model::ItemIndex;
using model::Slot;

namespace {

constexpr double seconds_a_day = 86400.0;

bool is_concession(const model::Model& model, ItemIndex item) {
    return model.kind_of(item).role == model::Kind::Role::concession;
}

const Slot* slot_of(const model::Model& model, ItemIndex item, std::string_view name) {
    const auto field = model.kind_of(item).field(name);
    return field ? model.slot(item, *field) : nullptr;
}

/// Empty where nothing is stated.
std::string_view words_of(const model::Model& model, ItemIndex item, std::string_view name) {
    const Slot* slot = slot_of(model, item, name);
    const model::Text* words = slot == nullptr ? nullptr : slot->value.text();
    return words == nullptr ? std::string_view{} : words->value;
}

void fill_in(model::Model& model, ItemIndex item, std::string_view name, model::Value value,
             std::string_view written) {
    const auto field = model.kind_of(item).field(name);
    if (!field) return;
    Slot slot;
    slot.field = *field;
    slot.span = model.items[item].span;
    slot.value = std::move(value);
    slot.written = written;
    auto& slots = model.items[item].slots;
    const auto old =
        std::find_if(slots.begin(), slots.end(), [&](const Slot& one) { return one.field == *field; });
    if (old != slots.end())
        *old = std::move(slot);
    else
        slots.push_back(std::move(slot));
}

void fill_in(model::Model& model, ItemIndex item, std::string_view name, bool yes) {
    model::Value value;
    value.content = yes ? model::Truth::yes : model::Truth::no;
    fill_in(model, item, name, std::move(value), yes ? "true" : "false");
}

/// What nobody but the engine fills in is forgotten first.
void forget(model::Model& model, ItemIndex item, std::string_view name) {
    const auto field = model.kind_of(item).field(name);
    if (field) std::erase_if(model.items[item].slots, [&](const Slot& one) { return one.field == *field; });
}

/// Names that differ in nothing but case and spaces are one person's.
std::string folded(std::string_view name) {
    std::string letters;
    for (const char c : name)
        if (c != ' ' && c != '\t' && c != '.')
            letters += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    return letters;
}

/// A list, a pattern or nothing at all is no one name.
bool is_one_name(std::string_view name) {
    return !name.empty() && name.find_first_of("*?,; ") == std::string_view::npos;
}

Bound turned(Bound bound) {
    if (bound == Bound::other) return bound;
    return bound == Bound::at_most ? Bound::at_least : Bound::at_most;
}

bool not_above(double x, double limit) {
    return x <= limit || units::same_number(x, limit);
}

class Weighing {
  public:
    Weighing(model::Model& model, const rules::RuleSet& rules, const text::Sources& sources,
             const std::optional<text::Day>& day, text::Messages& messages)
        : model_(model), rules_(rules), sources_(sources), day_(day), messages_(messages) {}

    void weigh(ItemIndex concession) {
        for (const char* name : {"names_one", "is_used", "class", "two_people", "not_worse", "days_left"})
            forget(model_, concession, name);
        fill_in_days(concession);
        fill_in_people(concession);
        const std::string_view rule_name = words_of(model_, concession, "rule");
        const std::string_view item_name = words_of(model_, concession, "item");
        const bool one = is_one_name(rule_name) && is_one_name(item_name);
        fill_in(model_, concession, "names_one", one);
        fill_in(model_, concession, "is_used", false);
        if (is_one_name(rule_name)) find_rule(concession, rule_name);
        if (is_one_name(item_name)) find_item(concession, item_name);
        if (one && rule_ < rules_.rules.size() && item_ != model::no_item) judge_finding(concession);
    }

  private:
    text::Span place(ItemIndex concession, std::string_view name) const {
        const Slot* slot = slot_of(model_, concession, name);
        return slot == nullptr ? model_.items[concession].span : slot->span;
    }

    void fill_in_days(ItemIndex concession) {
        const auto until = text::read_day(words_of(model_, concession, "until"));
        if (!until || !day_) return;
        const auto days = static_cast<double>((*until - *day_).count());
        model::Value value;
        value.content = model::Number{units::Interval::point(days * seconds_a_day), days * seconds_a_day, {}};
        fill_in(model_, concession, "days_left", std::move(value),
                model_.texts.emplace_back(fmt::format("{} d", (*until - *day_).count())));
    }

    void fill_in_people(ItemIndex concession) {
        const std::string by = folded(words_of(model_, concession, "by"));
        const std::string second = folded(words_of(model_, concession, "second"));
        fill_in(model_, concession, "two_people", !by.empty() && !second.empty() && by != second);
    }

    void find_rule(ItemIndex concession, std::string_view name) {
        rule_ = 0;
        while (rule_ < rules_.rules.size() && rules_.rules[rule_].name != name)
            ++rule_;
        if (rule_ == rules_.rules.size()) {
            std::vector<std::string_view> names;
            for (const rules::Rule& rule : rules_.rules)
                names.emplace_back(rule.name);
            unknown(place(concession, "rule"), "rule", name, names);
            return;
        }
        const std::string_view class_name = rules::class_name(rules_.rules[rule_].rule_class);
        model::Value value;
        value.content = model::Text{class_name, {}};
        fill_in(model_, concession, "class", std::move(value), class_name);
    }

    void find_item(ItemIndex concession, std::string_view name) {
        item_ = 0;
        while (item_ < model_.items.size() && model_.items[item_].id != name)
            ++item_;
        if (item_ == model_.items.size()) {
            item_ = model::no_item;
            std::vector<std::string_view> names;
            for (const model::Item& item : model_.items)
                names.emplace_back(item.id);
            unknown(place(concession, "item"), "item", name, names);
        } else if (is_concession(model_, item_)) {
            messages_.error(place(concession, "item"), "a finding on a concession cannot be conceded",
                            "put the concession in order");
            item_ = model::no_item;
        }
    }

    void unknown(text::Span span, std::string_view what, std::string_view name,
                 const std::vector<std::string_view>& names) {
        const std::string_view near = text::nearest_name(name, names);
        messages_.error(
            span, fmt::format("no {} is named \"{}\"", what, text::safe_print(name)),
            near.empty() ? std::string{} : fmt::format("did you mean \"{}\"?", text::safe_print(near)));
    }

    void judge_finding(ItemIndex concession) {
        const rules::Rule& rule = rules_.rules[rule_];
        if (!rule.active || !model_.items[item_].active) return;
        facts::Facts facts(model_, rules_);
        language::Context context = facts.context();
        for (std::uint32_t a = 0; a < rule.applications.size(); ++a) {
            if (rule.applications[a].kind != model_.items[item_].kind) continue;
            Verdicted one{static_cast<std::uint32_t>(rule_), a, item_,
                          judge(rule, rule.applications[a], item_, context)};
            const Verdict verdict = one.judgement.verdict;
            if (verdict != Verdict::fails && verdict != Verdict::undecided) return;
            fill_in(model_, concession, "is_used", true);
            if (words_of(model_, concession, "has").empty() && words_of(model_, concession, "needs").empty())
                return;
            KnownSteps known;
            const Finding finding = finding_of(one, facts, sources_, known);
            const bool has = holds(concession, "has", finding.has, finding.bound);
            const bool needs = holds(concession, "needs", finding.needs, turned(finding.bound));
            fill_in(model_, concession, "not_worse", has && needs);
        }
    }

    /// Whether a value of the finding is still what the concession was granted for, or on the better side of
    /// it.
    bool holds(ItemIndex concession, std::string_view name, const Shown& now, Bound bound) {
        const std::string_view granted = words_of(model_, concession, name);
        if (granted.empty() || granted == now.text) return true;
        const auto unit = units::read_unit(now.si_unit);
        if (!now.is_number || !unit) return false;
        // °C is a temperature, K a difference of two: so the report prints them too.
        const bool absolute = now.si_unit == "K" && granted.find("°") != std::string_view::npos;
        const auto read = units::read_quantity(granted, {unit->dimension, absolute});
        if (const auto* error = std::get_if<units::ReadError>(&read)) {
            messages_.error(place(concession, name), error->text, error->hint);
            return false;
        }
        const units::Interval then = std::get<units::Quantity>(read).range;
        const bool below = bound == Bound::at_least || not_above(now.high, then.high);
        const bool above = bound == Bound::at_most || not_above(then.low, now.low);
        return below && above;
    }

    model::Model& model_;
    const rules::RuleSet& rules_;
    const text::Sources& sources_;
    const std::optional<text::Day>& day_;
    text::Messages& messages_;
    std::size_t rule_ = static_cast<std::size_t>(-1);
    ItemIndex item_ = model::no_item;
};

bool is_true(const model::Model& model, ItemIndex item, std::string_view name, bool absent) {
    const Slot* slot = slot_of(model, item, name);
    const model::Truth* truth = slot == nullptr ? nullptr : slot->value.truth();
    return truth == nullptr ? absent : *truth == model::Truth::yes;
}

/// What the engine asks of a concession whatever the rules say, in words.
void add_own_reasons(const model::Model& model, ItemIndex item, std::vector<std::string>& reasons) {
    if (!is_true(model, item, "is_used", false)) reasons.emplace_back("nothing that it names fails");
    if (!is_true(model, item, "not_worse", true)) reasons.emplace_back("it was granted for another value");
    const Slot* left = slot_of(model, item, "days_left");
    const model::Number* days = left == nullptr ? nullptr : left->value.number();
    if (days == nullptr) reasons.emplace_back("no last day is known");
    if (days != nullptr && days->range.low < 0.0) reasons.emplace_back("it has ended");
}

void add_failed_rules(facts::Facts& facts, ItemIndex item, std::vector<std::string>& reasons) {
    language::Context context = facts.context();
    const model::Model& model = facts.model();
    for (const rules::Rule& rule : facts.rules().rules) {
        if (!rule.active || rule.rule_class == Class::observation) continue;
        for (const rules::Application& application : rule.applications) {
            if (application.kind != model.items[item].kind) continue;
            const Verdict verdict = judge(rule, application, item, context).verdict;
            if (verdict != Verdict::conforms && verdict != Verdict::not_applicable)
                reasons.push_back(rule.name);
        }
    }
}

}  // namespace

void weigh_concessions(model::Model& model, const rules::RuleSet& rules, const text::Sources& sources,
                       const std::optional<text::Day>& day, text::Messages& messages) {
    for (ItemIndex item = 0; item < model.items.size(); ++item)
        if (model.items[item].active && model.items[item].stated && is_concession(model, item))
            Weighing(model, rules, sources, day, messages).weigh(item);
}

std::vector<Concession> concessions_of(facts::Facts& facts) {
    std::vector<Concession> found;
    const model::Model& model = facts.model();
    for (ItemIndex item = 0; item < model.items.size(); ++item) {
        if (!model.items[item].active || !model.items[item].stated || !is_concession(model, item)) continue;
        Concession one;
        one.id = model.items[item].id;
        one.place = model.items[item].span;
        one.rule = words_of(model, item, "rule");
        one.item_name = words_of(model, item, "item");
        one.reason = words_of(model, item, "reason");
        one.by = words_of(model, item, "by");
        one.second = words_of(model, item, "second");
        one.until = words_of(model, item, "until");
        one.limits = words_of(model, item, "limits");
        add_own_reasons(model, item, one.refused_by);
        add_failed_rules(facts, item, one.refused_by);
        one.honoured = one.refused_by.empty();
        found.push_back(std::move(one));
    }
    return found;
}

std::string conceded_words(const Concession& concession) {
    std::string words = concession.by;
    if (!concession.second.empty()) words += " and " + concession.second;
    words += fmt::format(", until {}: {}", concession.until, concession.reason);
    if (!concession.limits.empty()) words += fmt::format(" (limits: {})", concession.limits);
    return words;
}

void mark_conceded(Report& report) {
    for (Finding& finding : report.findings) {
        if (finding.verdict != Verdict::fails && finding.verdict != Verdict::undecided) continue;
        for (std::size_t c = 0; c < report.concessions.size(); ++c) {
            const Concession& one = report.concessions[c];
            if (one.rule != finding.rule_name || one.item_name != finding.item_name) continue;
            if (finding.conceded || (finding.concession && !one.honoured)) continue;
            finding.concession = c;
            finding.conceded = one.honoured;
        }
        if (!finding.conceded) continue;
        --(finding.verdict == Verdict::fails ? report.coverage.failing : report.coverage.undecided);
        ++report.coverage.conceded;
    }
}

}  // namespace packproof::inspect
