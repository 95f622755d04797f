#include "engine/serve/spot.hpp"

namespace packproof::serve {

Spot spot_at(std::string_view bytes, std::uint32_t offset, const model::Vocabulary& vocabulary) {
    Spot spot;
    spot.cursor = cursor_at(bytes, offset);
    const auto& path = spot.cursor.path;
    if (path.empty()) return spot;
    const auto kind = vocabulary.kind(path[0]);
    if (!kind) return spot;
    spot.kind = &vocabulary.kinds[*kind];
    spot.id = spot.kind->name;
    if (path.size() == 1) {
        spot.on_item = spot.cursor.where != Cursor::Where::value;
        return spot;
    }
    const bool header = spot.cursor.where == Cursor::Where::header;
    const auto own_field = spot.kind->field(path[1]);
    if (!header && path.size() == 2 && (own_field || spot.kind->single)) {
        if (own_field) spot.field = &spot.kind->fields[*own_field];
        return spot;
    }
    spot.id = path[1];
    if (path.size() == 2) {
        spot.on_item = true;
        return spot;
    }
    if (const auto field = spot.kind->field(path[2])) spot.field = &spot.kind->fields[*field];
    return spot;
}

model::ItemIndex item_at(const Spot& spot, const model::Model& model) {
    if (spot.kind == nullptr) return model::no_item;
    for (std::size_t i = 0; i < model.items.size(); ++i) {
        const auto index = static_cast<model::ItemIndex>(i);
        if (model.items[i].id == spot.id && model.kind_of(index).name == spot.kind->name) return index;
    }
    return model::no_item;
}

}  // namespace packproof::serve
