#include "engine/model/item.hpp"

#include <algorithm>

namespace packproof::model {

const Slot* Item::slot(FieldIndex field) const {
    for (const Slot& candidate : slots)
        if (candidate.field == field) return &candidate;
    return nullptr;
}

const Measured* Model::readings_of(const Slot& slot) const {
    if (slot.measurement == no_item) return nullptr;
    const auto before = [](const Measured& one, ItemIndex wanted) { return one.measurement < wanted; };
    const auto found = std::lower_bound(measured.begin(), measured.end(), slot.measurement, before);
    return found != measured.end() && found->measurement == slot.measurement ? &*found : nullptr;
}

}  // namespace packproof::model
