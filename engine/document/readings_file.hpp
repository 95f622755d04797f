// What stands in files of their own beside a description and is read with it: readings in pack.readings.toml,
// concessions in pack.concessions.toml beside pack.toml.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "engine/document/value.hpp"
#include "engine/text/message.hpp"
#include "engine/text/source.hpp"

namespace packproof::document {

/// True for a name that ends in ".readings.toml": no description, but read with the one beside it.
[[nodiscard]] bool is_readings_file(std::string_view path);

/// "a/pack.readings.toml" of "a/pack.toml"; nothing for standard input, a readings file itself, or a name
/// that does not end in ".toml".
[[nodiscard]] std::optional<std::string> readings_file_of(std::string_view path);

/// The same for ".concessions.toml".
[[nodiscard]] bool is_concessions_file(std::string_view path);
[[nodiscard]] std::optional<std::string> concessions_file_of(std::string_view path);

/// Either of them.
[[nodiscard]] bool is_beside_file(std::string_view path);

/// Puts the items of `readings` after those of `root`, as if they stood there. An item or a key that stands
/// in both is an error with both places.
void join_readings(Node& root, Node&& readings, const text::Sources& sources, text::Messages& messages);

}  // namespace packproof::document
