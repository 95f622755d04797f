#include "engine/cli/explain_item.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "engine/cli/output.hpp"
#include "engine/inspect/inspect.hpp"
#include "engine/inspect/judging_day.hpp"
#include "engine/inspect/label.hpp"
#include "engine/report/finding_block.hpp"
#include "engine/report/page.hpp"
#include "engine/report/words.hpp"
#include "engine/text/nearest_name.hpp"

namespace packproof::cli {

namespace {

using inspect::Finding;
using inspect::Verdict;
using model::Slot;
using report::Ink;
using report::Page;

std::string origin_words(const Slot& slot, const model::Model& model, const text::Sources& sources) {
    if (slot.origin == model::Origin::assumed) return "assumed";
    std::string words =
        slot.origin == model::Origin::measured ? inspect::measured_label(model, slot) : "stated";
    if (slot.source != model::no_item) words += " by " + model.items[slot.source].id;
    const std::string place = report::place_words(slot.span, sources);
    return place.empty() ? words : words + ", " + place;
}

/// The papers between which the field's value is a span; null where one paper speaks alone.
const model::Conflict* joined_from(const model::Model& model, model::ItemIndex item,
                                   model::FieldIndex field) {
    for (const model::Conflict& conflict : model.conflicts)
        if (conflict.item == item && conflict.field == field &&
            std::count(conflict.speaks.begin(), conflict.speaks.end(), true) > 1)
            return &conflict;
    return nullptr;
}

/// As inspect counts with it, and every paper that has a part in it.
std::string joined_words(const model::Conflict& conflict, const Slot& slot, const model::Model& model,
                         const text::Sources& sources) {
    const model::Type type = model.kind_of(conflict.item).fields[conflict.field].type();
    std::string papers;
    for (std::size_t i = 0; i < conflict.sides.size(); ++i)
        if (conflict.speaks[i])
            papers += (papers.empty() ? "" : "; ") + origin_words(conflict.sides[i], model, sources);
    return fmt::format("{} ({})", inspect::show(model, slot.value, type, slot.unit).text, papers);
}

std::string value_words(const Slot& slot) {
    if (slot.state == Slot::State::asked) return "asked, no answer yet";
    if (slot.state == Slot::State::none) return "none";
    return std::string(slot.written);
}

void write_fields(Page& page, const model::Model& model, model::ItemIndex item,
                  const text::Sources& sources) {
    std::string not_stated;
    const model::Kind& kind = model.kind_of(item);
    for (std::size_t i = 0; i < kind.fields.size(); ++i) {
        const Slot* slot = model.slot(item, static_cast<model::FieldIndex>(i));
        if (slot == nullptr) {
            not_stated += (not_stated.empty() ? "" : ", ") + kind.fields[i].name;
            continue;
        }
        const auto* conflict = joined_from(model, item, slot->field);
        const std::string words = conflict != nullptr ? joined_words(*conflict, *slot, model, sources)
                                                      : fmt::format("{} ({})", value_words(*slot),
                                                                    origin_words(*slot, model, sources));
        page.paragraph(fmt::format("{} = {}", kind.fields[i].name, words), 4, 2);
    }
    if (!not_stated.empty()) page.paragraph("not stated: " + not_stated, 4, 2);
}

void write_short(Page& page, const Finding& finding) {
    page.paragraph(finding.rule_name + ", " + std::string(rules::class_name(finding.rule_class)), 4, 2);
    page.labelled_if("has", report::has_words(finding));
    page.labelled_if("needs", report::needs_words(finding));
    for (const auto& wanted : finding.wanted)
        page.labelled("waits for", wanted.text, 2);
}

void write_verdicts(Page& page, const inspect::Report& report, const text::Sources& sources) {
    std::size_t number = 0;
    for (const Finding& finding : report.findings) {
        if (finding.verdict != Verdict::fails && finding.verdict != Verdict::undecided) continue;
        page.blank();
        report::write_finding(page, finding, report.findings, sources,
                              {++number, 0, false, &report.concessions});
        page.labelled_if("caution", finding.caution);
    }
    for (const Verdict verdict : {Verdict::not_stated, Verdict::conforms}) {
        bool any = false;
        for (const Finding& finding : report.findings) {
            if (finding.verdict != verdict) continue;
            if (!any) page.blank();
            if (!any)
                page.headline(verdict == Verdict::conforms ? "CONFORMS" : "NOT STATED", Ink::strong, "", "");
            any = true;
            write_short(page, finding);
        }
    }
}

int unknown_item(const std::string& name, const model::Model& model, Surroundings& around) {
    std::vector<std::string_view> names;
    for (const model::Item& item : model.items)
        names.push_back(item.id);
    const std::string_view nearest = text::nearest_name(name, names);
    print_trouble("the description has no item named " + name,
                  nearest.empty() ? std::string() : fmt::format("did you mean {}", nearest), around);
    return exit_trouble;
}

}  // namespace

int explain_item(const std::string& file, const std::string& item, const ExplainCall& call,
                 Surroundings& around, Workspace& workspace) {
    text::Messages messages;
    inspect::Options options;
    options.folders.libraries = call.libraries;
    inspect::set_day(call.day, options);
    const auto loaded = inspect::load(file, workspace.rules, workspace.sources, messages, options);
    print_messages(messages, workspace.sources, around);
    if (!loaded) return exit_trouble;
    const model::Model* model = &loaded->model;
    model::ItemIndex index = 0;
    while (index < model->items.size() && model->items[index].id != item)
        ++index;
    if (index == model->items.size()) return unknown_item(item, *model, around);

    options.item = item;
    options.conforming = true;
    const inspect::Report report =
        inspect::inspect_model(*model, workspace.rules, workspace.sources, options);
    Page page(call.width, colour_wanted(call.colour, around));
    page.headline(item, Ink::strong, "  " + model->kind_of(index).about,
                  report::place_words(model->items[index].span, workspace.sources));
    write_fields(page, *model, index, workspace.sources);
    write_verdicts(page, report, workspace.sources);
    page.blank();
    page.paragraph(inspect::general_caution(), 4);
    return put_out(page.take(), exit_nothing, around);
}

}  // namespace packproof::cli
