// Words of rule data with values of one description in them.
#pragma once

#include <string>

#include "engine/facts/facts.hpp"
#include "engine/rules/worksheet.hpp"

namespace packproof::inspect {

/// "Tap 3 of Cabin store": each blank with its value on the item, {number} with `number`. A text that nobody
/// wrote leaves its place empty, another value is "(not stated)".
[[nodiscard]] std::string words_of(const rules::Wording& wording, model::ItemIndex item, int number,
                                   facts::Facts& facts);

/// A number in doubt as its span: what is expected is a span, not a value with its tolerance.
[[nodiscard]] std::string expected_words(const model::Model& model, const model::Value& expected,
                                         const model::Type& type, const units::Unit& unit);

}  // namespace packproof::inspect
