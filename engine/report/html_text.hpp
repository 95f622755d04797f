// Words made harmless in HTML, as text and inside quoted attributes.
#pragma once

#include <string>
#include <string_view>

namespace packproof::report {

/// Control, bidirectional and invisible characters become visible; `& < > " '` become references.
[[nodiscard]] std::string html_text(std::string_view untrusted);

}  // namespace packproof::report
