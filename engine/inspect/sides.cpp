#include "engine/inspect/sides.hpp"

#include <fmt/format.h>

#include "engine/inspect/label.hpp"

namespace packproof::inspect {

namespace {

/// "wiring drawing of the box, issue B (pack.toml:49)".
std::string paper_of(const model::Slot& side, const model::Model& model, const text::Sources& sources) {
    std::string words;
    const std::string place = place_label(sources, side.span);
    if (side.source == model::no_item) {
        words = "no paper named";
    } else {
        words = item_label(model, side.source);
        for (const std::string_view name : {"title", "issue", "date"}) {
            const auto field = model.kind_of(side.source).field(name);
            const model::Slot* slot = field ? model.slot(side.source, *field) : nullptr;
            const model::Text* text = slot == nullptr ? nullptr : slot->value.text();
            if (text == nullptr) continue;
            words += name == "title" ? fmt::format(", \"{}\"", text->value)
                                     : fmt::format(", {} {}", name, text->value);
        }
    }
    return place.empty() ? words : fmt::format("{} ({})", words, place);
}

}  // namespace

void tell_sides(Question& question, const model::Conflict& conflict, const model::Model& model,
                const text::Sources& sources) {
    const model::Field& field = model.kind_of(conflict.item).fields[conflict.field];
    std::string found;
    for (const model::Slot& side : conflict.sides) {
        const std::string value = show(model, side.value, field.type(), side.unit).text;
        if (side.measurement == model::no_item)
            question.sides.push_back(fmt::format("{}: {}", value, paper_of(side, model, sources)));
        else
            found += fmt::format("{}{} ({}, {})", found.empty() ? "" : " and ", value,
                                 measured_label(model, side), place_label(sources, side.span));
    }
    if (found.empty())
        question.text =
            fmt::format("The papers state different values: {}. Which one holds for the parts as delivered?",
                        field.about);
    else if (question.sides.empty())
        question.text =
            fmt::format("The measurements differ: {}. We find {}. Please measure again.", field.about, found);
    else
        question.text = fmt::format(
            "What was delivered does not agree with the papers: {}. We find {}. Is it what was ordered, and "
            "which value holds?",
            field.about, found);
    if (!question.sides.empty()) return;
    question.answered_by = model::AnsweredBy::bench;
    question.acceptable = "every reading, and what it was read with";
}

}  // namespace packproof::inspect
