// Files that reports of a run are written to besides standard output: what they must not be, and that none of
// an earlier run stays in their place.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "engine/cli/call.hpp"
#include "engine/cli/surroundings.hpp"

namespace packproof::cli {

/// Before anything is read: false, and a message each, where a file is a description or of rules (*.toml,
/// links resolved), a list or report that the call names, or named twice.
[[nodiscard]] bool may_be_written(const InspectCall& call, Surroundings& around);

/// Writes those for which `print` gives something; of the others takes away what an earlier run left there
/// (what a link leads to, not the link), so that no old report looks like one of this run. A file that was
/// read in this run stays as it is. Gives `code`, or `exit_trouble` and a message for each that could not be
/// written.
[[nodiscard]] int write_further(const std::vector<FurtherReport>& reports, const text::Sources& sources,
                                const std::function<std::optional<std::string>(report::Form)>& print,
                                int code, Surroundings& around);

}  // namespace packproof::cli
