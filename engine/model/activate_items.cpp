#include <fmt/core.h>

#include <algorithm>

#include "engine/document/shown.hpp"
#include "engine/model/spoken_of.hpp"

namespace packproof::model {
namespace {

class Activation {
  public:
    explicit Activation(Draft& draft) : draft_(draft) {}

    void run() {
        const auto count = static_cast<ItemIndex>(draft_.model.items.size());
        for (ItemIndex i = 0; i < count; ++i)
            if (draft_.model.items[i].active) waiting_.push_back(i);
        spread();
        // A claim stands or falls with the item that it speaks of.
        for (const Claim& claim : draft_.claims)
            if (draft_.model.items[claim.item].active) use(claim.claim);
        spread();
    }

  private:
    void spread() {
        while (!waiting_.empty()) {
            const ItemIndex item = waiting_.back();
            waiting_.pop_back();
            const Kind::Role role = draft_.kind_of(item).role;
            const bool speaks_only = role == Kind::Role::claim || role == Kind::Role::concession;
            for (const Slot& slot : draft_.model.items[item].slots) {
                use(slot.source);
                const bool only_spoken_of = speaks_only || (role == Kind::Role::measurement &&
                                                            draft_.field(item, slot).name == item_field);
                if (!only_spoken_of) use_value(slot.value);
            }
        }
    }

    void use_value(const Value& value) {
        if (const Reference* one = value.reference()) use(one->item);
        if (const auto* many = value.references())
            for (const Reference& one : *many)
                use(one.item);
    }

    void use(ItemIndex item) {
        if (item == no_item || draft_.model.items[item].active) return;
        draft_.model.items[item].active = true;
        waiting_.push_back(item);
    }

    Draft& draft_;
    std::vector<ItemIndex> waiting_;
};

// A single kind that the description does not mention is an item of which nothing is stated, so that what its
// rules lack is counted and asked for rather than passed over.
void imply_singles(Draft& draft) {
    static const document::Node nothing;
    Model& model = draft.model;
    std::vector<bool> met(draft.vocabulary.kinds.size(), false);
    for (const Item& item : model.items)
        if (item.active) met[item.kind] = true;
    for (const KindIndex kind : draft.absent_kinds)
        met[kind] = true;
    for (std::size_t kind = 0; kind < met.size(); ++kind) {
        if (met[kind] || !draft.vocabulary.kinds[kind].single) continue;
        Item& item = model.items.emplace_back();
        item.kind = static_cast<KindIndex>(kind);
        item.id = draft.vocabulary.kinds[kind].name;
        item.span = {draft.description.source, 0, 0};
        item.stated = false;
        draft.written.emplace_back().table = &nothing;
    }
}

void order_by_kind(Draft& draft) {
    Model& model = draft.model;
    model.of_kind.assign(draft.vocabulary.kinds.size(), {});
    for (std::size_t i = 0; i < model.items.size(); ++i) {
        Item& item = model.items[i];
        if (!item.active) continue;
        auto& same_kind = model.of_kind[item.kind];
        item.position = static_cast<std::uint32_t>(same_kind.size());
        same_kind.push_back(static_cast<ItemIndex>(i));
    }
}

// In one description the collector has looked; here parts are counted in.
void check_singles(Draft& draft) {
    for (std::size_t kind = 0; kind < draft.vocabulary.kinds.size(); ++kind) {
        const auto& items = draft.model.of_kind[kind];
        if (!draft.vocabulary.kinds[kind].single || items.size() < 2) continue;
        const Item& first = draft.model.items[items[0]];
        for (std::size_t i = 1; i < items.size(); ++i) {
            const Item& item = draft.model.items[items[i]];
            if (!draft.written[items[i]].in_parts) continue;
            draft.messages.error(
                item.span,
                fmt::format("there can be only one {}; {} is one already", draft.vocabulary.kinds[kind].name,
                            document::in_quotes(first.id)),
                "start the one from the other: part = \"ID\"");
        }
    }
}

// The only active item of the permitted kinds, other than the asking one.
ItemIndex only_item(const Model& model, const Field& field, ItemIndex asking) {
    ItemIndex found = no_item;
    for (KindIndex kind : field.kinds)
        for (ItemIndex item : model.of_kind[kind]) {
            if (item == asking || !model.items[item].stated) continue;
            if (found != no_item) return no_item;
            found = item;
        }
    return found;
}

void assume_only_items(Draft& draft) {
    for (std::size_t i = 0; i < draft.model.items.size(); ++i) {
        Item& item = draft.model.items[i];
        const auto index = static_cast<ItemIndex>(i);
        const Kind& kind = draft.kind_of(index);
        if (!item.active) continue;
        for (std::size_t f = 0; f < kind.fields.size(); ++f) {
            const Field& field = kind.fields[f];
            const auto place = static_cast<FieldIndex>(f);
            if (!field.the_only_one || field.form != Field::Form::reference) continue;
            if (find_slot(item, place) != nullptr) continue;
            const ItemIndex only = only_item(draft.model, field, index);
            if (only == no_item) continue;
            Slot slot;
            slot.field = place;
            slot.origin = Origin::assumed;
            slot.value.basis.assumed = true;
            slot.value.content = Reference{only, {}};
            slot.written = draft.model.texts.emplace_back(draft.model.items[only].id);
            if (draft.spend(1, item.span)) item.slots.push_back(std::move(slot));
        }
    }
}

}  // namespace

void activate_items(Draft& draft) {
    Activation(draft).run();
    imply_singles(draft);
    order_by_kind(draft);
    check_singles(draft);
    assume_only_items(draft);
}

}  // namespace packproof::model
