#include "engine/model/item.hpp"

namespace packproof::model {

const Slot* Item::slot(FieldIndex field) const {
    for (const Slot& candidate : slots)
        if (candidate.field == field) return &candidate;
    return nullptr;
}

}  // namespace packproof::model
