// The inspection of one or several descriptions as one page: for a screen, with a filter, and for paper. It
// asks nothing of a network, and without its script everything is shown.
#pragma once

#include <span>
#include <string>

#include "engine/inspect/finding.hpp"
#include "engine/report/options.hpp"
#include "engine/text/source.hpp"

namespace packproof::report {

/// For each description: the verdict, what can hurt, what stops the work, what is not known and who can
/// settle it, how much could be checked; then every finding with its working, what was assumed, and the
/// cautions. What conforms is listed only with `all`, and so are the steps inside a solved network.
[[nodiscard]] std::string print_inspection_html(std::span<const inspect::Report> reports,
                                                const text::Sources& sources, const Options& options);

}  // namespace packproof::report
