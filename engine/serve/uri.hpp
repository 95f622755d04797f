// Document URIs and the files that they mean (RFC 3986, RFC 8089).
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace packproof::serve {

/// The absolute path of a file URI on this machine, percent-decoded. Nothing for another scheme
/// ("untitled:"), another machine, a bad escape or a NUL byte.
[[nodiscard]] std::optional<std::string> path_of_uri(std::string_view uri);

/// A file's absolute path as a URI.
[[nodiscard]] std::string uri_of_path(std::string_view path);

/// The path with links resolved as far as it exists: what tells files apart.
[[nodiscard]] std::string real_path(const std::string& path);

}  // namespace packproof::serve
