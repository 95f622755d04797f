// A place in a description in terms of the vocabulary: which kind, item and field it belongs to.
#pragma once

#include <string>

#include "engine/model/item.hpp"
#include "engine/serve/cursor.hpp"

namespace packproof::serve {

struct Spot {
    Cursor cursor;
    const model::Kind* kind = nullptr;
    std::string id;  ///< of the item; the kind's name for an item without one
    const model::Field* field = nullptr;
    bool on_item = false;  ///< on the item's own name
};

[[nodiscard]] Spot spot_at(std::string_view bytes, std::uint32_t offset, const model::Vocabulary& vocabulary);

/// The item of a model that a spot belongs to; no_item if the model does not have it.
[[nodiscard]] model::ItemIndex item_at(const Spot& spot, const model::Model& model);

}  // namespace packproof::serve
