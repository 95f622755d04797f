// The value of one field from its text or its node: form, unit, dimension, choices and bounds are checked.
// References are not resolved here: they need the items.
#pragma once

#include <deque>
#include <string>
#include <variant>

#include "engine/document/value.hpp"
#include "engine/model/item.hpp"
#include "engine/text/message.hpp"
#include "engine/units/read_quantity.hpp"

namespace packproof::model {

struct Reading {
    Slot::State state = Slot::State::stated;
    Value value;
    units::Unit unit;
};

/// From text as a default states it: also counts ("4") and truths ("true"). Bounds are not looked at. A
/// choice or text points into `text`, a choice into the field's own choices.
[[nodiscard]] std::variant<Reading, units::ReadError> read_text(std::string_view text, const Field& field,
                                                                units::UnitMemory* memory = nullptr);

/// Where the texts of values are kept: in the source where the value stands as written, else in `texts`.
struct TextKeeper {
    const text::Sources& sources;
    std::deque<std::string>& texts;
    units::UnitMemory* units = nullptr;  ///< those of the values read before; may be null

    /// A string node's value.
    [[nodiscard]] std::string_view value(const document::Node& string_node);
    /// A node as it stands in its file, without quotes.
    [[nodiscard]] std::string_view written(const document::Node& node);
};

/// Fills a new slot; its field and source are left to the caller, and the value of a reference stays Missing.
/// False when messages were added.
[[nodiscard]] bool read_field(const Field& field, const document::Node& node, TextKeeper keeper,
                              text::Messages& messages, Slot& into);

/// "a quantity such as \"1 mm\"", "a whole number" …: what a field wants.
[[nodiscard]] std::string wanted(const Field& field);

}  // namespace packproof::model
