// The report for people: an inspection sheet of our own layout. The verdict in words stands first, then what
// can hurt, then what stops the build, then what is open and which value would settle it.
#pragma once

#include <span>
#include <string>

#include "engine/inspect/finding.hpp"
#include "engine/report/options.hpp"
#include "engine/text/source.hpp"

namespace packproof::report {

/// Every report, one below the other; of several files also a table that sums them up. All text from files
/// is made harmless for a terminal.
[[nodiscard]] std::string print_text(std::span<const inspect::Report> reports, const text::Sources& sources,
                                     const Options& options);

}  // namespace packproof::report
