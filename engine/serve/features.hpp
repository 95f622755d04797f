// What an editor may ask at a place in a text: what it means, what could stand there, where it is declared.
// One pair of files for descriptions, one for rule files; here only which of them is asked.
#pragma once

#include <optional>
#include <vector>

#include "engine/serve/workspace.hpp"

namespace packproof::serve {

/// A place in an open text.
struct Asked {
    const OpenText& text;
    std::uint32_t offset = 0;  ///< in bytes
};

[[nodiscard]] std::optional<Hover> hover_description(const Asked& asked, Workspace& workspace);
[[nodiscard]] std::vector<Suggestion> complete_description(const Asked& asked, Workspace& workspace);
[[nodiscard]] std::optional<Location> define_description(const Asked& asked, Workspace& workspace);

[[nodiscard]] std::optional<Hover> hover_rules(const Asked& asked, Workspace& workspace);
[[nodiscard]] std::vector<Suggestion> complete_rules(const Asked& asked, Workspace& workspace);
[[nodiscard]] std::optional<Location> define_rules(const Asked& asked, Workspace& workspace);

}  // namespace packproof::serve
