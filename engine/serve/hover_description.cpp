#include <fmt/format.h>

#include <algorithm>

#include "engine/facts/facts.hpp"
#include "engine/inspect/label.hpp"
#include "engine/report/markdown_text.hpp"
#include "engine/report/words.hpp"
#include "engine/serve/features.hpp"
#include "engine/serve/field_words.hpp"
#include "engine/serve/spot.hpp"

namespace packproof::serve {

namespace {

using inspect::Finding;
using inspect::Verdict;
using model::ItemIndex;
using model::Slot;
using report::markdown_text;

constexpr std::size_t most_derived = 60;

bool is_told(const Finding& finding) {
    return finding.verdict == Verdict::fails || finding.verdict == Verdict::undecided;
}

std::string step_words(const inspect::Step& step) {
    std::string words = step.name;
    for (const std::string* part : {&step.formula, &step.numbers, &step.result})
        if (!part->empty()) words += " = " + *part;
    return words;
}

void add_finding(const Finding& finding, std::string& words) {
    words += fmt::format("\n\n**{} {}**: {}", rules::class_name(finding.rule_class),
                         finding.verdict == Verdict::undecided ? "undecided" : "fails",
                         markdown_text(finding.asks));
    const auto line = [&words](std::string_view label, const std::string& what) {
        if (!what.empty()) words += fmt::format("\n- {} {}", label, markdown_text(what));
    };
    line("has", report::has_words(finding));
    line("needs", report::needs_words(finding));
    line("by", finding.by);
    for (const auto& remedy : finding.clears)
        line("clears it:", remedy.text);
    line("why:", finding.because);
    for (const auto& step : finding.working)
        if (!step.detail) line("working:", step_words(step));
    for (const auto& authority : finding.basis)
        line("basis:", rules::print_authority(authority));
    line("caution:", finding.caution);
}

void add_findings(const Inspected& of, ItemIndex item, std::string& words) {
    for (const Finding& finding : of.report->findings)
        if (is_told(finding) && finding.item == item) add_finding(finding, words);
}

// Findings at this very value, or that it would clear.
void add_findings_at(const Inspected& of, const Slot& slot, language::Input input, std::string& words) {
    for (const Finding& finding : of.report->findings) {
        if (!is_told(finding)) continue;
        const bool clears = std::any_of(finding.clears.begin(), finding.clears.end(),
                                        [&](const inspect::Remedy& remedy) { return remedy.input == input; });
        if (finding.place == slot.span || clears) add_finding(finding, words);
    }
}

std::string origin_words(const Slot& slot, const model::Model& model, const text::Sources& sources) {
    if (slot.origin == model::Origin::assumed) return "assumed";
    std::string words =
        slot.origin == model::Origin::measured ? inspect::measured_label(model, slot) : "stated";
    if (slot.source != model::no_item) words += " by " + model.items[slot.source].id;
    const std::string place = inspect::place_label(sources, slot.span);
    return place.empty() ? words : words + ", " + place;
}

void add_value(const Inspected& of, const Spot& spot, std::string& words) {
    const model::Model& model = of.loaded->model;
    const ItemIndex item = item_at(spot, model);
    if (item == model::no_item) return;
    const model::Kind& kind = model.kind_of(item);
    const auto index = kind.field(spot.field->name);
    const Slot* slot = index ? model.slot(item, *index) : nullptr;
    if (slot == nullptr) {
        words += "\n- not stated here";
        return;
    }
    if (slot->state == Slot::State::asked) {
        words += "\n- asked, no answer yet";
    } else {
        const auto shown = inspect::show(model, slot->value, kind.fields[*index].type(), slot->unit);
        const std::string value = slot->state == Slot::State::none ? "none" : shown.text;
        words += fmt::format("\n- read as: {} ({})",
                             markdown_text(value.empty() ? std::string(slot->written) : value),
                             markdown_text(origin_words(*slot, model, of.sources)));
        if (shown.is_number && !shown.si_unit.empty() && shown.low <= shown.high)
            words +=
                markdown_text(fmt::format("; {:.6g} to {:.6g} {}", shown.low, shown.high, shown.si_unit));
    }
    add_findings_at(of, *slot, {item, *index}, words);
}

void add_derived(const Inspected& of, ItemIndex item, const rules::RuleSet& rules, std::string& words) {
    const model::Model& model = of.loaded->model;
    facts::Facts facts(model, rules);
    const language::Context context = facts.context();
    std::string list;
    std::size_t count = 0;
    for (std::size_t i = 0; i < rules.quantities.size(); ++i) {
        const auto& quantity = rules.quantities[i];
        if (quantity.kind != model.items[item].kind) continue;
        const model::Value value = context.quantity(static_cast<std::uint16_t>(i), item, context);
        if (value.missing()) continue;
        const auto shown = inspect::show(model, value, quantity.type, quantity.unit);
        if (shown.text.empty() || ++count > most_derived) continue;
        list += fmt::format("\n- {} = {}: {}", markdown_text(quantity.name), markdown_text(shown.text),
                            markdown_text(quantity.about));
    }
    if (count > 0) words += "\n\nDerived:\n" + list;
    if (count > most_derived) words += fmt::format("\n- and {} more", count - most_derived);
}

std::string item_markdown(const Spot& spot, const Asked& asked, Workspace& workspace) {
    std::string words =
        spot.id == spot.kind->name
            ? fmt::format("**{}**: {}", markdown_text(spot.id), markdown_text(spot.kind->about))
            : fmt::format("**{}**, {}: {}", markdown_text(spot.id), markdown_text(spot.kind->name),
                          markdown_text(spot.kind->about));
    if (!spot.kind->points.empty())
        words += fmt::format("\n\npoints: {}",
                             markdown_text(fmt::format("{}", fmt::join(spot.kind->points, ", "))));
    const Inspected* of = workspace.inspected(asked.text);
    if (of == nullptr || !of->report) return words;
    const ItemIndex item = item_at(spot, of->loaded->model);
    if (item == model::no_item) return words;
    if (!of->loaded->model.items[item].active) words += "\n\nnothing uses this part: it is not inspected";
    add_findings(*of, item, words);
    add_derived(*of, item, workspace.rules_of(nullptr).set, words);
    return words;
}

}  // namespace

std::optional<Hover> hover_description(const Asked& asked, Workspace& workspace) {
    const auto& vocabulary = workspace.rules_of(nullptr).set.vocabulary;
    const Spot spot = spot_at(asked.text.text, asked.offset, vocabulary);
    if (spot.kind == nullptr) return std::nullopt;
    Hover hover;
    hover.extent = extent_of(asked.text.text, spot.cursor.begin, spot.cursor.end, workspace.encoding());
    if (spot.field != nullptr) {
        hover.markdown = field_markdown(*spot.kind, *spot.field, vocabulary);
        const Inspected* of = workspace.inspected(asked.text);
        if (of != nullptr && of->report) add_value(*of, spot, hover.markdown);
        return hover;
    }
    if (!spot.on_item) return std::nullopt;
    hover.markdown = item_markdown(spot, asked, workspace);
    return hover;
}

}  // namespace packproof::serve
