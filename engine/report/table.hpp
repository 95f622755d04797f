// Many reports at a glance: a row each, a matrix where two sets of overlays were combined, and why they fail.
#pragma once

#include <span>
#include <string>

#include "engine/inspect/finding.hpp"
#include "engine/report/options.hpp"
#include "engine/report/page.hpp"

namespace packproof::report {

/// One row a report: failing by class (consequences are not counted), undecided, not stated, conforming.
void write_summary(Page& page, std::span<const inspect::Report> reports, const Options& options);

/// The summary; the gravest class that fails at each crossing, where all reports are of one description with
/// two overlays; and the rules that fail, gravest first, each with its items and the reports in which it
/// fails.
[[nodiscard]] std::string print_table(std::span<const inspect::Report> reports, const Options& options);

}  // namespace packproof::report
