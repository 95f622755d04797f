// The build sheet: one page to pin above the bench, as HTML that prints on A4 and on US Letter.
#pragma once

#include <string>

#include "engine/inspect/build_sheet.hpp"

namespace packproof::report {

/// Self-contained: no script, nothing to fetch. Needs a page of 190 mm by 259.4 mm within its margins; what
/// does not fit flows to a second one, for no text is below 8 points. The same sheet gives the same bytes.
[[nodiscard]] std::string print_sheet(const inspect::BuildSheet& sheet);

}  // namespace packproof::report
