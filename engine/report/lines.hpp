// One line a finding for editors and for grep: `FILE:LINE:COLUMN: error|warning|note: message` (GNU coding
// standards, 4.4). Columns count code points.
#pragma once

#include <span>
#include <string>

#include "engine/inspect/finding.hpp"
#include "engine/report/options.hpp"
#include "engine/text/source.hpp"

namespace packproof::report {

/// Critical and major are errors; minor and undecided are warnings; observations, and what only follows from
/// another finding, are notes. What conforms or is not stated shows, as notes, only with `all`.
[[nodiscard]] std::string print_lines(std::span<const inspect::Report> reports, const text::Sources& sources,
                                      const Options& options);

}  // namespace packproof::report
