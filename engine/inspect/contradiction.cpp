#include "engine/inspect/contradiction.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "engine/inspect/label.hpp"

namespace packproof::inspect {

namespace {

/// Where the claim's value stands.
text::Span claimed_place(const model::Model& model, model::ItemIndex claim) {
    const auto field = model.kind_of(claim).field("value");
    const model::Slot* slot = field ? model.slot(claim, *field) : nullptr;
    return slot == nullptr ? text::Span{} : slot->span;
}

bool speaks_of(const model::Conflict& conflict, const text::Span& claimed) {
    return std::any_of(conflict.sides.begin(), conflict.sides.end(), [&](const model::Slot& side) {
        return side.span.source == claimed.source && side.span.begin == claimed.begin;
    });
}

}  // namespace

bool tell_contradiction(Finding& finding, const model::Model& model) {
    if (model.kind_of(finding.item).role != model::Kind::Role::claim) return false;
    const text::Span claimed = claimed_place(model, finding.item);
    for (const model::Conflict& conflict : model.conflicts) {
        if (conflict.agree || !speaks_of(conflict, claimed)) continue;
        const model::Type type = model.kind_of(conflict.item).fields[conflict.field].type();
        for (const model::Slot& side : conflict.sides) {
            const std::string paper =
                side.source == model::no_item ? std::string("no paper") : item_label(model, side.source);
            const std::string says =
                fmt::format("{} ({})", show(model, side.value, type, side.unit).text, paper);
            finding.has.text += (finding.has.text.empty() ? "" : " against ") + says;
            if (side.span.source != text::no_source) finding.elsewhere.push_back({says, side.span});
        }
        finding.subject = input_label(model, {conflict.item, conflict.field});
        finding.origin = "stated";
        finding.needs_text = "one value; until then the better grade counts, equal grades as a span";
        return true;
    }
    return false;
}

}  // namespace packproof::inspect
