// A value as it may stand in a description (TOML 1.0).
#pragma once

#include <string>
#include <string_view>

namespace packproof::report {

/// `value` in place of `old`, which is the value as it stands in the file: a decimal number stays bare where
/// the old value is bare, everything else becomes a basic string.
[[nodiscard]] std::string toml_value(std::string_view value, std::string_view old);

}  // namespace packproof::report
