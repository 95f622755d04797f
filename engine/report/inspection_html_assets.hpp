// The look of the inspection as a page, and the script that filters it. Both are constants, so that their
// hashes can stand in the page's policy.
#pragma once

#include <string_view>

namespace packproof::report {

/// For screens light and dark, narrow and wide, and for paper. Contrast of words at least 4.5 to 1 and of
/// lines that carry meaning at least 3 to 1 (WCAG 2.2, 1.4.3 and 1.4.11).
[[nodiscard]] std::string_view inspection_style();

/// Shows the filter, hides what it leaves out, says how many are shown, and opens the working on paper.
[[nodiscard]] std::string_view inspection_script();

}  // namespace packproof::report
