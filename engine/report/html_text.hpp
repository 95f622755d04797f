// Words made harmless in HTML, as text and inside quoted attributes.
#pragma once

#include <string>
#include <string_view>

namespace packproof::report {

/// Control, bidirectional and invisible characters become visible; `& < > " '` become references.
[[nodiscard]] std::string html_text(std::string_view untrusted);

/// The same inside <bdi>, so that letters written from right to left do not move what stands beside them. Not
/// for attributes and titles. Nothing for no words.
[[nodiscard]] std::string html_isolated(std::string_view untrusted);

}  // namespace packproof::report
