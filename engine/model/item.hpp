// The items of one description with their typed values, each with its place and origin.
#pragma once

#include <deque>
#include <string>
#include <string_view>
#include <vector>

#include "engine/document/parts.hpp"
#include "engine/model/value.hpp"
#include "engine/model/vocabulary.hpp"

namespace packproof::model {

enum class Origin : std::uint8_t { stated, measured, assumed };

/// One field of one item that something is known about.
struct Slot {
    FieldIndex field = 0;
    enum class State : std::uint8_t { asked, none, stated } state = State::stated;  ///< asked: "?"
    Origin origin = Origin::stated;
    Value value;                      ///< Missing when asked, KnownNone when none
    units::Unit unit;                 ///< as written
    text::Span span;                  ///< the value in its file; nowhere for an assumed one
    ItemIndex source = no_item;       ///< the document that states it
    ItemIndex measurement = no_item;  ///< whose readings gave the value
    std::string_view
        written;  ///< as written, "50 mm²"; of an assumed one the default, of readings their mean
};

struct Item {
    KindIndex kind = 0;
    std::string id;              ///< "main-breaker"; of a single or unnamed item the kind's name
    text::Span span;             ///< its header's id (or the kind's name)
    bool stated = true;          ///< false: of a single kind that the description does not mention
    bool active = true;          ///< false: a part that nothing in the pack uses; not inspected
    std::uint32_t position = 0;  ///< order among the items of its kind, from 0
    std::vector<Slot> slots;     ///< as stated, then copied, then assumed; each field once

    [[nodiscard]] const Slot* slot(FieldIndex field) const;
};

/// Papers, or papers and readings, that give different values of one field.
struct Conflict {
    ItemIndex item = no_item;
    FieldIndex field = 0;
    std::vector<Slot> sides;   ///< at least two, readings first, then by grade, each with span and source
    std::vector<bool> speaks;  ///< of each side: the field's value is the hull of those that do
    bool agree = false;        ///< the same within tolerance
};

/// What the readings of one measurement gave, beside the value itself in its slot.
struct Measured {
    ItemIndex measurement = no_item;
    std::size_t readings = 0;
    ItemIndex instrument = no_item;
};

/// Values point into the sources, the vocabulary and `texts`: the model may be moved, not copied.
class Model {
  public:
    Model() = default;
    Model(Model&&) = default;
    Model& operator=(Model&&) = default;
    Model(const Model&) = delete;
    Model& operator=(const Model&) = delete;

    const Vocabulary* vocabulary = nullptr;
    std::vector<Item> items;                      ///< in source order: the description's own, then parts
    std::vector<std::vector<ItemIndex>> of_kind;  ///< active items by kind, source order
    std::vector<Conflict> conflicts;
    std::vector<Measured> measured;  ///< by measurement
    std::deque<std::string> texts;   ///< owns what string_views of values point to where a source does not

    /// The slot's value; Missing if absent or asked.
    [[nodiscard]] const Slot* slot(ItemIndex item, FieldIndex field) const { return items[item].slot(field); }
    /// What is known of the readings behind a slot; null where it rests on none.
    [[nodiscard]] const Measured* readings_of(const Slot& slot) const;
    [[nodiscard]] const Kind& kind_of(ItemIndex item) const { return vocabulary->kinds[items[item].kind]; }
};

}  // namespace packproof::model
