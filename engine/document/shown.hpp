// Text from strangers as it stands in a message: harmless and short. Rests on text::safe_print.
#pragma once

#include <string>
#include <string_view>

namespace packproof::document {

/// Safe to print, cut to at most `most` code points with "…" where it is longer.
[[nodiscard]] std::string shown(std::string_view untrusted, std::size_t most = 60);

/// The same in double quotes.
[[nodiscard]] std::string in_quotes(std::string_view untrusted);

}  // namespace packproof::document
