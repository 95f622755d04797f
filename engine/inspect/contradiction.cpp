#include "engine/inspect/contradiction.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "engine/inspect/label.hpp"

namespace packproof::inspect {

namespace {

/// Where the value of the claim, or the readings of the measurement, stand.
text::Span claimed_place(const model::Model& model, model::ItemIndex claim) {
    const bool measured = model.kind_of(claim).role == model::Kind::Role::measurement;
    const auto field = model.kind_of(claim).field(measured ? "readings" : "value");
    const model::Slot* slot = field ? model.slot(claim, *field) : nullptr;
    return slot == nullptr ? text::Span{} : slot->span;
}

bool speaks_of(const model::Conflict& conflict, const text::Span& claimed) {
    return std::any_of(conflict.sides.begin(), conflict.sides.end(), [&](const model::Slot& side) {
        return side.span.source == claimed.source && side.span.begin == claimed.begin;
    });
}

/// Who says it.
std::string speaker(const model::Model& model, const model::Slot& side) {
    if (side.measurement != model::no_item) return measured_label(model, side);
    return side.source == model::no_item ? std::string("no paper") : item_label(model, side.source);
}

}  // namespace

bool tell_contradiction(Finding& finding, const model::Model& model) {
    const model::Kind::Role role = model.kind_of(finding.item).role;
    const bool measured = role == model::Kind::Role::measurement;
    if (!measured && role != model::Kind::Role::claim) return false;
    const text::Span claimed = claimed_place(model, finding.item);
    for (const model::Conflict& conflict : model.conflicts) {
        if (conflict.agree || !speaks_of(conflict, claimed)) continue;
        const model::Type type = model.kind_of(conflict.item).fields[conflict.field].type();
        for (const model::Slot& side : conflict.sides) {
            const std::string says =
                fmt::format("{} ({})", show(model, side.value, type, side.unit).text, speaker(model, side));
            finding.has.text += (finding.has.text.empty() ? "" : " against ") + says;
            if (side.span.source != text::no_source) finding.elsewhere.push_back({says, side.span});
        }
        finding.subject = input_label(model, {conflict.item, conflict.field});
        finding.origin = measured ? "measured" : "stated";
        const bool any_measured =
            std::any_of(conflict.sides.begin(), conflict.sides.end(),
                        [](const model::Slot& side) { return side.measurement != model::no_item; });
        finding.needs_text = any_measured
                                 ? "one value; until then what was measured counts"
                                 : "one value; until then the better grade counts, equal grades as a span";
        return true;
    }
    return false;
}

}  // namespace packproof::inspect
