// The report as a SARIF 2.1.0 log (OASIS), for editors, code-hosting services and tools that compare runs.
#pragma once

#include <span>
#include <string>

#include "engine/inspect/finding.hpp"
#include "engine/report/options.hpp"
#include "engine/text/source.hpp"

namespace packproof::report {

/// One log with one run, for all reports. What fails has the kind `fail` and a level: critical and major
/// error, minor warning, observation note. Undecided is `review`, not stated `open`, what conforms (only with
/// `all`) `pass`; these have the level none. With the profile `alerts` only what fails is told. Lines and
/// columns from 1, in code points. A fingerprint rests on the description's name, rule, kind, item and
/// subject, not on lines; a second finding of the same gets a number. A fix is given where a remedy is one
/// value in place of another. Files that were not inspected are notifications, the run then did not succeed,
/// and without any report it has no `results`. Nothing depends on time, machine or user; the same reports
/// give the same bytes.
[[nodiscard]] std::string print_sarif(std::span<const inspect::Report> reports, const text::Sources& sources,
                                      const Options& options);

}  // namespace packproof::report
