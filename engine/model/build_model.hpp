// A located tree becomes typed items. All mistakes are reported, each with its place and a suggestion.
#pragma once

#include <optional>

#include "engine/model/item.hpp"
#include "engine/text/message.hpp"

namespace packproof::model {

/// `[kind.id]` tables, `[kind]` for a single or the sole item of its kind. Item keys reserved on every kind:
/// `like` (another item of the same kind: copies its fields), `part` (an item of the parts files, likewise),
/// `source` (a document's id, for the whole item, or a table `source = { torque = "chat" }` for single keys).
/// Fields with a default are filled in as assumed. Claims (role claim: fields item, field, value, source)
/// join the value they speak of: the highest grade wins, equal grades give their hull, and so does what has
/// no grade; every difference becomes a Conflict, and a claim's field `agrees`, if its kind has one, is
/// filled in. Measurements (role measurement: fields item, field, readings, instrument; see measurements.hpp)
/// stand above every grade: their readings' mean with its expanded uncertainty is the value, what is stated
/// is kept as the other side of a Conflict. A document's grade is its field `grade`, whose choices are listed
/// best first; a value from a document of grade `measured` is a measured one, from one of grade `guess` a
/// guess. `least`/`most` bound one-sided values. Errors: unknown kind or field (nearest name), wrong form,
/// bare number where a quantity
/// is due (unit that would fit), wrong dimension, unknown reference (nearest id), wrong kind of reference,
/// unknown point, duplicate id, a circle of `like`, more than one of a single kind, a value beyond physical
/// sense, a choice that is not one of the choices (nearest), more than 2 000 items. A single kind that is not
/// mentioned becomes an item of which nothing is stated; `kind = "none"` says that there is none.
/// `vocabulary` and `sources` must outlive the model; `description` need not. Empty result when there is an
/// error. Single fields, as rule examples state them: see read_field.hpp.
[[nodiscard]] std::optional<Model> build_model(const document::Description& description,
                                               const Vocabulary& vocabulary, const text::Sources& sources,
                                               text::Messages& messages);

}  // namespace packproof::model
