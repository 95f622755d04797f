#include "engine/model/spoken_of.hpp"

#include <fmt/core.h>

#include <charconv>

#include "engine/document/shown.hpp"

namespace packproof::model {
namespace {

using document::in_quotes;
using document::Node;

// The item, which a vocabulary may declare as a reference or as text.
ItemIndex target(Draft& draft, ItemIndex speaker) {
    const Slot* slot = named_slot(draft, speaker, item_field);
    if (slot == nullptr) return no_item;
    if (const Reference* reference = slot->value.reference()) return reference->item;
    const Node* node = draft.written[speaker].table->find(item_field);
    Field any;
    any.name = item_field;
    any.form = Field::Form::reference;
    Reference found;
    if (node == nullptr || !node->is_string() || slot->state != Slot::State::stated) return no_item;
    return resolve(draft, *node, any, found) ? found.item : no_item;
}

// A field that is there but could not be read has its own message.
void incomplete(Draft& draft, ItemIndex speaker, std::string_view value_name) {
    const Node& table = *draft.written[speaker].table;
    std::string absent;
    for (std::string_view name : {item_field, field_field, value_name})
        if (table.find(name) == nullptr) absent += (absent.empty() ? "" : " and ") + std::string(name);
    const bool copies = table.find("like") != nullptr || table.find("part") != nullptr;
    if (absent.empty() || copies) return;
    draft.messages.error(table.key_span,
                         fmt::format("this {} does not say its {}", draft.kind_of(speaker).name, absent),
                         fmt::format("it needs item, field and {}", value_name));
}

void unknown_field(Draft& draft, const Slot& slot, const Text& name, const Kind& kind) {
    std::vector<std::string_view> names;
    for (const Field& field : kind.fields)
        names.push_back(field.name);
    draft.messages.error(slot.span, fmt::format("{} has no field {}", kind.name, in_quotes(name.value)),
                         draft.suggest(name.value, names));
}

// The value is text; where the field wants a number or a truth, it is taken as written.
Node as_stated(const Node& node, const Field& field) {
    Node result = node;
    if (!node.is_string()) return result;
    if (field.form == Field::Form::truth && (node.text == "true" || node.text == "false")) {
        result.kind = Node::Kind::boolean;
        result.boolean = node.text == "true";
    }
    if (field.form == Field::Form::count) {
        const char* end = node.text.data() + node.text.size();
        const auto [stop, code] = std::from_chars(node.text.data(), end, result.integer);
        if (code == std::errc() && stop == end) result.kind = Node::Kind::integer;
    }
    return result;
}

}  // namespace

const Slot* named_slot(const Draft& draft, ItemIndex item, std::string_view name) {
    const auto field = draft.kind_of(item).field(name);
    return field ? draft.model.items[item].slot(*field) : nullptr;
}

std::optional<SpokenOf> spoken_of(Draft& draft, ItemIndex speaker, std::string_view value_name) {
    const Slot* field = named_slot(draft, speaker, field_field);
    const Text* name = field == nullptr ? nullptr : field->value.text();
    const ItemIndex item = target(draft, speaker);
    if (item == no_item || name == nullptr || draft.written[speaker].claimed == nullptr) {
        incomplete(draft, speaker, value_name);
        return std::nullopt;
    }
    const Kind& kind = draft.kind_of(item);
    const auto index = kind.field(name->value);
    if (!index) {
        unknown_field(draft, *field, *name, kind);
        return std::nullopt;
    }
    return SpokenOf{item, *index, &kind.fields[*index]};
}

bool read_as(Draft& draft, const Field& field, const Node& value, std::string_view verb, Slot& into) {
    if (!read_field(field, as_stated(value, field), draft.keeper(), draft.messages, into)) return false;
    if (field.form == Field::Form::reference && into.state == Slot::State::stated) {
        Reference one;
        if (!resolve(draft, value, field, one)) return false;
        into.value.content = one;
    }
    if (field.form == Field::Form::references) {
        draft.messages.error(value.span, fmt::format("{} is a list and cannot be {}", field.name, verb));
        return false;
    }
    return true;
}

void fill_in(Draft& draft, ItemIndex index, std::string_view name, Value value, std::string_view written,
             text::Span span) {
    const auto field = draft.kind_of(index).field(name);
    if (!field) return;
    Slot slot;
    slot.field = *field;
    slot.span = span;
    slot.value = std::move(value);
    slot.written = written;
    Item& item = draft.model.items[index];
    if (Slot* old = find_slot(item, *field))
        *old = std::move(slot);
    else
        item.slots.push_back(std::move(slot));
}

}  // namespace packproof::model
