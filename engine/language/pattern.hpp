// Regular expressions from rules and descriptions: linear time on untrusted text, bounded memory (64 KiB).
#pragma once

#include <memory>
#include <string>
#include <string_view>

namespace packproof::language {

/// Empty text: the pattern is good. Otherwise why it is not; `\C` is refused.
[[nodiscard]] std::string pattern_error(std::string_view pattern);

/// Whole-text match. Compiles at most once per thread and pattern. A bad pattern matches nothing.
[[nodiscard]] bool pattern_matches(std::string_view pattern, std::string_view text);

}  // namespace packproof::language
