#include "engine/inspect/concession.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>

#include "engine/inspect/describe.hpp"
#include "engine/rules/person_name.hpp"
#include "engine/text/nearest_name.hpp"
#include "engine/text/safe_print.hpp"
#include "engine/units/read_printed.hpp"

namespace packproof::inspect {

using model::ItemIndex;
using model::Slot;

namespace {

constexpr double seconds_a_day = 86400.0;
constexpr std::array<std::string_view, 6> own_fields{"names_one",  "is_used",   "class",
                                                     "two_people", "not_worse", "days_left"};

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

/// What the engine found out by looking at the field `from`; `from` may be absent.
void fill_in(model::Model& model, ItemIndex item, std::string_view name, std::string_view from,
             model::Value value, std::string_view written) {
    const auto field = model.kind_of(item).field(name);
    if (!field) return;
    const Slot* looked_at = slot_of(model, item, from);
    Slot slot;
    slot.field = *field;
    slot.span = looked_at == nullptr ? model.items[item].span : looked_at->span;
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

void fill_in(model::Model& model, ItemIndex item, std::string_view name, std::string_view from, bool yes) {
    model::Value value;
    value.content = yes ? model::Truth::yes : model::Truth::no;
    fill_in(model, item, name, from, std::move(value), yes ? "true" : "false");
}

/// A list, a pattern or nothing at all is no one name.
bool is_one_name(std::string_view name) {
    return !name.empty() && name.find_first_of("*?,; ") == std::string_view::npos;
}

bool not_above(double x, double limit) {
    return x <= limit || units::same_number(x, limit);
}

class Weighing {
  public:
    Weighing(model::Model& model, const rules::RuleSet& rules, const text::Sources& sources,
             const std::optional<text::Day>& day, text::Messages& messages, facts::SolverMemory* memory)
        : model_(model), rules_(rules), sources_(sources), day_(day), messages_(messages), memory_(memory) {}

    /// What can be told without judging anything: whether it names a finding, who permits it, until when.
    void read(ItemIndex concession) {
        refuse_own_fields(concession);
        fill_in_days(concession);
        fill_in_people(concession);
        const std::string_view rule_name = words_of(model_, concession, "rule");
        const std::string_view item_name = words_of(model_, concession, "item");
        const bool one = is_one_name(rule_name) && is_one_name(item_name);
        fill_in(model_, concession, "names_one", is_one_name(rule_name) ? "item" : "rule", one);
        fill_in(model_, concession, "is_used", "item", false);
        Named named{concession};
        if (is_one_name(rule_name)) find_rule(named, rule_name);
        if (is_one_name(item_name)) find_item(named, item_name);
        if (one && named.rule && named.item != model::no_item) named_.push_back(named);
    }

    /// Judges the findings that were named, all on the same facts.
    void judge_named() {
        facts::Facts facts(model_, rules_, memory_);
        KnownSteps known;
        std::vector<Judged> judged;
        for (const Named& named : named_)
            judge_finding(named, facts, known, judged);
        for (const Judged& one : judged) {  // only now, for facts rest on what the model says
            fill_in(model_, one.concession, "is_used", "item", true);
            if (one.not_worse) {
                const bool has_value = slot_of(model_, one.concession, "has") != nullptr;
                fill_in(model_, one.concession, "not_worse", has_value ? "has" : "needs", *one.not_worse);
            }
        }
    }

  private:
    /// The finding that a concession is for.
    struct Named {
        ItemIndex concession;
        std::optional<std::uint32_t> rule = {};
        ItemIndex item = model::no_item;
    };
    /// Of a finding that is there.
    struct Judged {
        ItemIndex concession;
        std::optional<bool> not_worse;
    };

    /// Whoever states what the engine finds out would be believed to have found it out.
    void refuse_own_fields(ItemIndex concession) {
        for (const std::string_view name : own_fields) {
            const Slot* slot = slot_of(model_, concession, name);
            if (slot == nullptr) continue;
            messages_.error(slot->span, fmt::format("{} of a concession is found out, not stated", name),
                            "take it out");
            std::erase_if(model_.items[concession].slots,
                          [field = slot->field](const Slot& one) { return one.field == field; });
        }
    }

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
        fill_in(model_, concession, "days_left", "until", std::move(value),
                model_.texts.emplace_back(fmt::format("{} d", (*until - *day_).count())));
    }

    void fill_in_people(ItemIndex concession) {
        const std::string_view by = words_of(model_, concession, "by");
        const std::string_view second = words_of(model_, concession, "second");
        const bool two = rules::is_person_name(by) && rules::is_person_name(second) &&
                         !rules::may_be_one_person(by, second);
        const bool by_alone = slot_of(model_, concession, "second") == nullptr;
        fill_in(model_, concession, "two_people", by_alone ? "by" : "second", two);
    }

    void find_rule(Named& named, std::string_view name) {
        const auto rule = std::find_if(rules_.rules.begin(), rules_.rules.end(),
                                       [name](const rules::Rule& one) { return one.name == name; });
        if (rule == rules_.rules.end()) {
            std::vector<std::string_view> names;
            for (const rules::Rule& one : rules_.rules)
                names.emplace_back(one.name);
            unknown(place(named.concession, "rule"), "rule", name, names);
            return;
        }
        named.rule = static_cast<std::uint32_t>(rule - rules_.rules.begin());
        const std::string_view class_name = rules::class_name(rule->rule_class);
        model::Value value;
        value.content = model::Text{class_name, {}};
        fill_in(model_, named.concession, "class", "rule", std::move(value), class_name);
    }

    void find_item(Named& named, std::string_view name) {
        const text::Span at = place(named.concession, "item");
        const auto item = std::find_if(model_.items.begin(), model_.items.end(),
                                       [name](const model::Item& one) { return one.id == name; });
        if (item == model_.items.end()) {
            std::vector<std::string_view> names;
            for (const model::Item& one : model_.items)
                names.emplace_back(one.id);
            unknown(at, "item", name, names);
            return;
        }
        const auto found = static_cast<ItemIndex>(item - model_.items.begin());
        if (is_concession(model_, found))
            messages_.error(at, "a finding on a concession cannot be conceded",
                            "put the concession in order");
        else
            named.item = found;
    }

    void unknown(text::Span span, std::string_view what, std::string_view name,
                 const std::vector<std::string_view>& names) {
        const std::string_view near = text::nearest_name(name, names);
        messages_.error(
            span, fmt::format("no {} is named \"{}\"", what, text::safe_print(name)),
            near.empty() ? std::string{} : fmt::format("did you mean \"{}\"?", text::safe_print(near)));
    }

    void judge_finding(const Named& named, facts::Facts& facts, KnownSteps& known,
                       std::vector<Judged>& judged) {
        const rules::Rule& rule = rules_.rules[*named.rule];
        if (!rule.active || !model_.items[named.item].active) return;
        language::Context context = facts.context();
        for (std::uint32_t a = 0; a < rule.applications.size(); ++a) {
            if (rule.applications[a].kind != model_.items[named.item].kind) continue;
            Verdicted one{*named.rule, a, named.item, judge(rule, rule.applications[a], named.item, context)};
            const Verdict verdict = one.judgement.verdict;
            if (verdict != Verdict::fails && verdict != Verdict::undecided) return;
            Judged& found = judged.emplace_back(Judged{named.concession, {}});
            const std::string_view has = words_of(model_, named.concession, "has");
            const std::string_view needs = words_of(model_, named.concession, "needs");
            if (has.empty() && needs.empty()) return;
            const Finding finding = finding_of(one, facts, sources_, known);
            const bool value = has.empty() || value_holds(named.concession, has, finding);
            const bool limit = needs.empty() || limit_holds(named.concession, needs, finding);
            found.not_worse = value && limit;
        }
    }

    /// Whether the finding's value is still what the concession was granted for, or better.
    bool value_holds(ItemIndex concession, std::string_view granted, const Finding& finding) {
        const std::string label = finding.subject + ": ";
        if (!finding.subject.empty() && granted.starts_with(label)) granted.remove_prefix(label.size());
        for (const std::string_view origin : {", stated", ", measured", ", assumed", ", computed"})
            if (granted.ends_with(origin)) granted.remove_suffix(origin.size());
        const Shown& now = finding.has;
        if (granted == now.text) return true;
        const auto then = read(concession, "has", granted, now);
        if (!then) return false;
        const bool below = finding.bound == Bound::at_least || not_above(now.high, then->widest.high);
        const bool above = finding.bound == Bound::at_most || not_above(then->widest.low, now.low);
        return below && above;
    }

    /// Whether the finding's limit is still that against which the concession was granted, or less strict.
    bool limit_holds(ItemIndex concession, std::string_view granted, const Finding& finding) {
        const Shown& now = finding.needs;
        if (granted == now.text || granted == finding.needs_text) return true;
        // "at most " before a limit is the relation, which is the rule's and stays.
        const std::string relation = finding.needs_text.substr(0, finding.needs_text.find(now.text));
        if (granted.starts_with(relation)) granted.remove_prefix(relation.size());
        const auto then = read(concession, "needs", granted, now);
        if (!then) return false;
        if (finding.bound == Bound::at_most) return not_above(then->widest.low, now.low);
        if (finding.bound == Bound::at_least) return not_above(now.high, then->widest.high);
        return not_above(now.low, then->narrowest.low) && not_above(then->narrowest.high, now.high);
    }

    /// Empty where it is no value that can be compared with the finding's.
    std::optional<units::Printed> read(ItemIndex concession, std::string_view name, std::string_view granted,
                                       const Shown& now) {
        const auto unit = units::read_unit(now.si_unit);
        if (!now.is_number || !unit) return std::nullopt;
        // °C is a temperature, K a difference of two: so the report prints them too.
        const bool absolute = now.si_unit == "K" && granted.find("°") != std::string_view::npos;
        const auto read = units::read_printed(granted, {unit->dimension, absolute});
        if (const auto* printed = std::get_if<units::Printed>(&read)) return *printed;
        // A number that cannot be read is a slip of the pen; words were true of a finding that has changed.
        const auto& error = std::get<units::ReadError>(read);
        if (granted.find_first_of("0123456789") == 0)
            messages_.error(place(concession, name), error.text, error.hint);
        return std::nullopt;
    }

    model::Model& model_;
    const rules::RuleSet& rules_;
    const text::Sources& sources_;
    const std::optional<text::Day>& day_;
    text::Messages& messages_;
    facts::SolverMemory* memory_;
    std::vector<Named> named_;
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
    if (words_of(model, item, "class") == rules::class_name(Class::critical) &&
        !is_true(model, item, "two_people", false))
        reasons.emplace_back("what is critical needs two people");
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

bool is_found_out(const model::Kind& kind, std::string_view field) {
    return kind.role == model::Kind::Role::concession &&
           std::find(own_fields.begin(), own_fields.end(), field) != own_fields.end();
}

void weigh_concessions(model::Model& model, const rules::RuleSet& rules, const text::Sources& sources,
                       const std::optional<text::Day>& day, text::Messages& messages,
                       facts::SolverMemory* memory) {
    Weighing weighing(model, rules, sources, day, messages, memory);
    for (ItemIndex item = 0; item < model.items.size(); ++item)
        if (model.items[item].active && model.items[item].stated && is_concession(model, item))
            weighing.read(item);
    weighing.judge_named();
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
    std::string words = concession.by.empty() ? "nobody named" : concession.by;
    if (!concession.second.empty()) words += " and " + concession.second;
    words += concession.until.empty() ? ", no last day" : ", until " + concession.until;
    words += ": " + (concession.reason.empty() ? "no reason" : concession.reason);
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
