#include <algorithm>

#include "engine/model/bounds.hpp"
#include "engine/model/draft.hpp"

namespace packproof::model {
namespace {

bool recalled(const Field& field) {
    return std::any_of(field.assume_basis.begin(), field.assume_basis.end(), [](const Authority& authority) {
        return authority.status == Authority::Status::recalled;
    });
}

Slot assumed_slot(FieldIndex index, const Field& field) {
    Slot slot;
    slot.field = index;
    slot.origin = Origin::assumed;
    slot.written = field.assume;
    slot.value.basis.assumed = true;
    slot.value.basis.recalled = recalled(field);
    return slot;
}

void set_content(Slot& slot, const Value& value, const units::Unit& unit) {
    slot.value.content = value.content;
    slot.value.basis.guess = value.basis.guess;
    slot.unit = unit;
}

// Empty where the field has no default.
std::optional<Slot> default_of(FieldIndex index, const Field& field) {
    if (field.assume.empty()) {
        if (!field.each_choice || field.choices.empty()) return std::nullopt;
        Slot slot = assumed_slot(index, field);
        Text text{field.choices.front(), {}};
        if (field.choices.size() > 1) text.alternatives.assign(field.choices.begin(), field.choices.end());
        slot.value.content = std::move(text);
        return slot;
    }
    Slot slot = assumed_slot(index, field);
    if (field.assumed) {
        set_content(slot, field.assumed->value, field.assumed->unit);
        return slot;
    }
    auto read = read_text(field.assume, field);
    auto* reading = std::get_if<Reading>(&read);
    if (reading == nullptr) return std::nullopt;  // prepare() has said why
    // An open end finds its bound; a default beyond its bounds is the vocabulary's mistake, not this file's.
    if (!is_rate(reading->value, reading->unit, field) &&
        !keep_within_bounds(reading->value, reading->unit, field, field.assume).empty())
        return std::nullopt;
    set_content(slot, reading->value, reading->unit);
    return slot;
}

// Defaults of fields that take a rate, or of all others; true where defaults of the other sort are left.
bool fill(Draft& draft, ItemIndex index, bool rates) {
    Item& item = draft.model.items[index];
    const Kind& kind = draft.kind_of(index);
    bool left = false;
    for (std::size_t i = 0; i < kind.fields.size(); ++i) {
        const Field& field = kind.fields[i];
        if (field.assume.empty() && !field.each_choice) continue;
        const bool due = field.rate_of.empty() != rates;
        left = left || !due;
        const auto place = static_cast<FieldIndex>(i);
        if (!due || find_slot(item, place) != nullptr) continue;
        std::optional<Slot> slot = default_of(place, field);
        if (slot && draft.spend(1, item.span)) item.slots.push_back(std::move(*slot));
    }
    return left;
}

void multiply_rates(Draft& draft, ItemIndex index) {
    Item& item = draft.model.items[index];
    const Kind& kind = draft.kind_of(index);
    for (Slot& slot : item.slots) {
        const Field& field = kind.fields[slot.field];
        if (!is_rate(slot.value, slot.unit, field)) continue;
        const auto base = kind.field(field.rate_of);
        multiply_rate(slot, field, base ? item.slot(*base) : nullptr);
        if (slot.origin == Origin::assumed) continue;
        std::string beyond = keep_within_bounds(slot.value, slot.unit, field, slot.written);
        if (!beyond.empty()) draft.messages.error(slot.span, std::move(beyond));
    }
}

}  // namespace

void multiply_rate(Slot& slot, const Field& field, const Slot* base) {
    if (!is_rate(slot.value, slot.unit, field)) return;
    const Number* factor = base == nullptr ? nullptr : base->value.number();
    slot.unit = field.unit;
    if (factor == nullptr) {
        slot.value.content = Missing{};
        return;
    }
    slot.value.basis = slot.value.basis | base->value.basis;
    if (auto* number = std::get_if<Number>(&slot.value.content)) {
        number->range = number->range * factor->range;
        number->nominal *= factor->nominal;
    } else if (auto* range = std::get_if<Range>(&slot.value.content)) {
        range->lower = range->lower * factor->range;
        range->upper = range->upper * factor->range;
    }
}

void fill_defaults(Draft& draft) {
    for (std::size_t i = 0; i < draft.model.items.size(); ++i) {
        const auto index = static_cast<ItemIndex>(i);
        const bool active = draft.model.items[i].active;
        if (active && fill(draft, index, false)) fill(draft, index, true);
        multiply_rates(draft, index);
        join_claims(draft, index, true);
    }
}

}  // namespace packproof::model
