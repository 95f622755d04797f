// Readings of one field of one item, combined to its measured value. Private to this folder. A kind of role
// measurement has the fields item, field, readings (one value or a list, each written as the field is) and
// instrument, a reference to an item of role instrument; the latter's fields are uncertainty (half width of
// its maker's limits: a text with a unit), uncertainty_share (the same as a share of what it shows) and
// resolution (step of its last digit: a text with a unit).
#pragma once

#include <string_view>

#include "engine/model/draft.hpp"

namespace packproof::model {

inline constexpr std::string_view readings_field = "readings";

/// Marks what the readings' node leaves open: "?" or a list of nothing else; "none": nobody will read it.
void mark_open_readings(const document::Node& readings, Slot& into);

/// Reads every reading as the field that it is of, and adds their mean with its expanded uncertainty (95 %,
/// JCGM 100:2008; independent readings, the maker's limits rectangular, the digit a uniform step) to the
/// claims of the draft, cut to the field's own bounds. A field that is no quantity is read once and taken as
/// it is. The measurement's field `taken` (the number of readings of a quantity) is filled in. Errors, each
/// at its reading: what the field itself would refuse; a tolerance, a guess or a rate; a second reading of
/// what is no quantity; an uncertainty that cannot be read in the field's dimension.
void read_measurement(Draft& draft, ItemIndex measurement);

/// Fills in the measurement's field `tolerance_taken`: its uncertainty over the half width of the tolerance
/// that is stated; nothing where none is.
void fill_in_tolerance_taken(Draft& draft, const Claim& measured, const Slot& stated);

}  // namespace packproof::model
