// JSON text that neither a screen nor a page can misread: what could move a cursor, turn the reading
// direction or hide is escaped.
#pragma once

#include <string>
#include <string_view>

namespace packproof::report {

/// Takes well-formed JSON in UTF-8; escapes every character after ASCII that text::safe_print would not
/// print, and DEL. The value is unchanged.
[[nodiscard]] std::string escape_invisible(std::string_view json);

}  // namespace packproof::report
