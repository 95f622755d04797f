// Names under which people answer for something. No register is asked: what is told apart is told apart by
// letters.
#pragma once

#include <string_view>

namespace packproof::rules {

/// True if a text can be somebody's name: at least one letter, letters of one alphabet (of Latin, Greek and
/// Cyrillic ones many look alike), no word for nobody, at most 200 bytes.
/// UTF-8.
[[nodiscard]] bool is_person_name(std::string_view text);

/// True if two texts may be one person's name: the same words in any order, or the same letters in a row,
/// whatever the case, marks on letters, and signs between and in them. To be asked of names
/// only.
[[nodiscard]] bool may_be_one_person(std::string_view one, std::string_view other);

}  // namespace packproof::rules
