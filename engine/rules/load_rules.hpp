// Rule data from TOML, with every mistake found before any description is read, at its line and column,
// inside expressions too.
#pragma once

#include <optional>
#include <span>

#include "engine/rules/rule_set.hpp"
#include "engine/text/message.hpp"

namespace packproof::rules {

/// Reads rule files on top of `base` (may be null: an empty set). The files are sources already read.
/// Mistakes: unknown tables, keys, forms; unknown names in expressions; wrong dimensions; a rule without
/// asks, because, basis, class, or without an example that conforms and one that fails; a circle among
/// quantities; duplicate names; unsorted or repeated table keys; a change without a reason or of an unknown
/// rule; a field that changes an existing one. Empty result when there is an error.
[[nodiscard]] std::optional<RuleSet> load_rules(std::span<const text::SourceIndex> files,
                                                const text::Sources& sources, text::Messages& messages,
                                                const RuleSet* base);

/// All *.toml below a folder, sorted by path, read into sources, also those that `sources` only holds as
/// replacements. Links out of the folder are refused.
[[nodiscard]] std::vector<text::SourceIndex> read_rule_folder(const std::string& folder,
                                                              text::Sources& sources,
                                                              text::Messages& messages);

}  // namespace packproof::rules
