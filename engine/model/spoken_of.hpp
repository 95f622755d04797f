// What claims and measurements have in common: each speaks of one field of one item. Private to this folder.
#pragma once

#include <optional>
#include <string_view>

#include "engine/model/draft.hpp"

namespace packproof::model {

// The names that the format itself gives to claims and measurements.
inline constexpr std::string_view item_field = "item";
inline constexpr std::string_view field_field = "field";

struct SpokenOf {
    ItemIndex item = no_item;
    FieldIndex index = 0;
    const Field* field = nullptr;
};

/// Of which field of which item `speaker` speaks; nothing after a message. `value_name`: the name of its
/// field that holds what it says.
[[nodiscard]] std::optional<SpokenOf> spoken_of(Draft& draft, ItemIndex speaker, std::string_view value_name);

/// What it says, read as that field, with the value's reference resolved: a text where the field wants a
/// whole number or a truth is taken as written. False after messages, also for a list of references, which
/// cannot be `verb` ("claimed", "measured").
[[nodiscard]] bool read_as(Draft& draft, const Field& field, const document::Node& value,
                           std::string_view verb, Slot& into);

/// The slot of the item's field of that name; null if it has no such field or nothing is said.
[[nodiscard]] const Slot* named_slot(const Draft& draft, ItemIndex item, std::string_view name);

/// Fills in a field that the format fills in by itself; nothing if the kind has none of that name.
void fill_in(Draft& draft, ItemIndex item, std::string_view name, Value value, std::string_view written,
             text::Span span);

}  // namespace packproof::model
