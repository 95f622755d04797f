#include <fmt/core.h>

#include "engine/document/shown.hpp"
#include "engine/model/draft.hpp"
#include "engine/model/measurements.hpp"

namespace packproof::model {
namespace {

using document::in_quotes;
using document::Node;

class ItemReader {
  public:
    ItemReader(Draft& draft, ItemIndex index)
        : draft_(draft),
          item_(draft.model.items[index]),
          written_(draft.written[index]),
          kind_(draft.kind_of(index)) {}

    void read() {
        item_.slots.reserve(written_.table->children.size());
        const Node* source = nullptr;
        for (const Node& child : written_.table->children) {
            const std::string_view key = child.key;
            if (key == "source")
                source = &child;
            else if (key == "like" || key == "part")
                origin(child);
            else if (!(written_.sole && child.is_table()))
                field(child);
        }
        if (source != nullptr) sources(*source);
    }

  private:
    void field(const Node& node) {
        const auto index = kind_.field(node.key);
        if (!index) return unknown_field(node);
        const Field& field = kind_.fields[*index];
        if (kind_.role == Kind::Role::claim && field.name == "value") return claimed(node, *index);
        if (kind_.role == Kind::Role::measurement && field.name == readings_field)
            return claimed(node, *index);
        Slot& slot = item_.slots.emplace_back();
        slot.field = *index;
        if (!read_field(field, node, draft_.keeper(), draft_.messages, slot) || !refer(node, field, slot))
            item_.slots.pop_back();
    }

    bool refer(const Node& node, const Field& field, Slot& slot) {
        const bool refers = field.form == Field::Form::reference || field.form == Field::Form::references;
        return !refers || slot.state != Slot::State::stated || resolve_all(node, field, slot);
    }

    bool resolve_all(const Node& node, const Field& field, Slot& slot) {
        if (field.form == Field::Form::reference) {
            Reference one;
            if (!resolve(draft_, node, field, one)) return false;
            slot.value.content = one;
            return true;
        }
        std::vector<Reference> many;
        bool good = true;
        const auto add = [&](const Node& element) {
            Reference one;
            if (resolve(draft_, element, field, one))
                many.push_back(one);
            else
                good = false;
        };
        if (node.is_string()) add(node);
        for (const Node& element : node.children)
            add(element);
        slot.value.content = std::move(many);
        return good;
    }

    // What a claim or a measurement says is read as the field that it speaks of, once that is known.
    void claimed(const Node& node, FieldIndex index) {
        written_.claimed = &node;
        Slot slot;
        slot.field = index;
        slot.span = node.span;
        slot.written = draft_.keeper().written(node);
        slot.value.content = Text{slot.written, {}};
        if (kind_.role == Kind::Role::measurement) mark_open_readings(node, slot);
        item_.slots.push_back(std::move(slot));
    }

    void unknown_field(const Node& node) {
        if (node.is_array() && !node.children.empty() && node.children.front().is_table()) {
            draft_.messages.error(node.key_span,
                                  fmt::format("{} stands in double brackets", in_quotes(node.key)),
                                  "items stand in single brackets, each with an id of its own: [kind.NAME]");
            return;
        }
        std::vector<std::string_view> names;
        if (draft_.may_suggest()) {
            for (const Field& field : kind_.fields)
                names.push_back(field.name);
            names.insert(names.end(), {"like", "part", "source"});
        }
        draft_.messages.error(node.key_span,
                              fmt::format("{} has no field {}", kind_.name, in_quotes(node.key)),
                              draft_.suggest(node.key, names));
    }

    void origin(const Node& node) {
        if (kind_.role == Kind::Role::claim || kind_.role == Kind::Role::measurement) {
            draft_.messages.error(node.key_span,
                                  fmt::format("{} is written out whole, without {}", kind_.name, node.key));
            return;
        }
        if (!node.is_string()) {
            draft_.messages.error(
                node.span, fmt::format("{} names one item, not {}", node.key, document::kind_name(node.kind)),
                fmt::format("write {} = \"ID\"", node.key));
            return;
        }
        if (written_.origin != no_item) {
            draft_.messages.error(node.key_span, "an item starts from one other: like or part, not both");
            return;
        }
        Field any;
        any.name = node.key;
        any.form = Field::Form::reference;
        any.kinds = {item_.kind};
        Reference found;
        if (!resolve(draft_, node, any, found)) return;
        if (!found.point.empty()) {
            draft_.messages.error(node.span,
                                  fmt::format("{} names a whole item, not a point on it", node.key));
            return;
        }
        if (node.key == "part" && !draft_.written[found.item].in_parts) {
            draft_.messages.error(
                node.span,
                fmt::format("{} is an item of this description, not of a parts file", in_quotes(node.text)),
                fmt::format("write like = {}", in_quotes(node.text)));
            return;
        }
        written_.origin = found.item;
        written_.origin_span = node.span;
    }

    void sources(const Node& node) {
        if (!node.is_table()) {
            const ItemIndex document = resolve_document(draft_, node);
            if (document == no_item) return;
            for (Slot& slot : item_.slots)
                slot.source = document;
            source_field(node, document);
            return;
        }
        for (const Node& child : node.children) {
            const auto field = kind_.field(child.key);
            if (!field) {
                unknown_field(child);
                continue;
            }
            const ItemIndex document = resolve_document(draft_, child);
            Slot* slot = find_slot(item_, *field);
            if (slot != nullptr)
                slot->source = document;
            else if (document != no_item)
                draft_.messages.warning(
                    child.key_span, fmt::format("source speaks of {}, which is not stated here", child.key),
                    "state the value beside its source");
        }
    }

    // A kind may have `source` among its fields, so that rules can ask for it.
    void source_field(const Node& node, ItemIndex document) {
        const auto field = kind_.field("source");
        if (!field) return;
        Slot slot;
        slot.field = *field;
        slot.span = node.span;
        slot.written = draft_.keeper().written(node);
        const Field::Form form = kind_.fields[*field].form;
        if (form == Field::Form::reference)
            slot.value.content = Reference{document, {}};
        else
            slot.value.content = Text{slot.written, {}};
        item_.slots.push_back(std::move(slot));
    }

    Draft& draft_;
    Item& item_;
    Written& written_;
    const Kind& kind_;
};

}  // namespace

void read_items(Draft& draft) {
    for (std::size_t i = 0; i < draft.model.items.size(); ++i)
        ItemReader(draft, static_cast<ItemIndex>(i)).read();
}

}  // namespace packproof::model
