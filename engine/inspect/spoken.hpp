// Items and fields in the words of a letter: for readers who never see a description.
#pragma once

#include <string>
#include <vector>

#include "engine/model/item.hpp"

namespace packproof::inspect {

/// "rated voltage" of "rated_voltage".
[[nodiscard]] std::string spoken(std::string name);

/// "main-breaker (device)"; "the cell" for what there is only one of.
[[nodiscard]] std::string item_spoken(const model::Model& model, model::ItemIndex item);

/// "a, b (device)": items of one kind, at least one.
[[nodiscard]] std::string items_spoken(const model::Model& model, const std::vector<model::ItemIndex>& items);

/// What a field holds, without what is said of how to write it.
[[nodiscard]] std::string about_spoken(const model::Field& field);

/// "Please state its rated voltage: ..."; of a truth "Please say whether ...".
[[nodiscard]] std::string value_question(const model::Field& field, std::size_t items);

}  // namespace packproof::inspect
