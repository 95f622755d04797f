// What goes on the page above the bench: the list to work by, the drawings, and the report behind both.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/inspect/drawing.hpp"
#include "engine/inspect/worksheet.hpp"

namespace packproof::inspect {

struct BuildSheet {
    BenchList list;
    Report report;
    std::vector<Figure> figures;
    std::vector<std::string> cautions;  ///< those of the list, in brief
};

/// Empty when the description has errors: `messages` says which.
[[nodiscard]] std::optional<BuildSheet> build_sheet(const std::string& path, const rules::RuleSet& rules,
                                                    text::Sources& sources, text::Messages& messages,
                                                    const Options& options = {});

}  // namespace packproof::inspect
