// Descriptions of any size, made from a vocabulary alone: valid input for measuring, without sense as a pack.
#pragma once

#include <cstddef>
#include <string>

#include "engine/model/vocabulary.hpp"

namespace packproof::benchmarks {

/// TOML text with one item of each single kind and `items` items of every other plain kind, each with at most
/// `fields` stated fields. A reference names the item of the same number, so that twice the items are twice
/// the text and everything in it twice as often.
[[nodiscard]] std::string generate_description(const model::Vocabulary& vocabulary, std::size_t items,
                                               std::size_t fields);

/// The number of fields an item at which one round of items (`items` = 1) comes nearest to `lines` lines.
[[nodiscard]] std::size_t fields_for(const model::Vocabulary& vocabulary, std::size_t lines);

[[nodiscard]] std::size_t count_lines(const std::string& text);

}  // namespace packproof::benchmarks
