// What a page of ours may do, said in the page: its own style sheet and script, nothing from elsewhere.
#pragma once

#include <string>
#include <string_view>

namespace packproof::report {

/// A `meta` element with a Content-Security-Policy that allows this style sheet, and this script where there
/// is one, by their SHA-256 (W3C, Content Security Policy Level 3; recalled), and fetches nothing.
[[nodiscard]] std::string content_policy(std::string_view style, std::string_view script = {});

}  // namespace packproof::report
