// SHA-256 (FIPS 180-4), for forms that want a file's contents named by it. Not for secrets.
#pragma once

#include <string>
#include <string_view>

namespace packproof::text {

/// 64 hexadecimal digits, lower case.
[[nodiscard]] std::string sha256(std::string_view bytes);

}  // namespace packproof::text
