// Words made harmless in Markdown: no control or invisible characters, and every character that could begin
// markup (CommonMark, and HTML within it) with a backslash before it.
#pragma once

#include <string>
#include <string_view>

namespace packproof::report {

[[nodiscard]] std::string markdown_text(std::string_view untrusted);

}  // namespace packproof::report
