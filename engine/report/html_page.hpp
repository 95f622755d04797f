// The frame of a page that asks nothing of a network: its policy lets run only the style and the script that
// it carries itself, so that nothing of a stranger could act even if it got through.
#pragma once

#include <string>
#include <string_view>

namespace packproof::report {

/// Parts of a page that are our own constants, printed as they are: they hold no `</style>` or `</script>`.
struct HtmlFrame {
    std::string_view style;
    std::string_view script = {};  ///< run at the end of the page; may be empty
};

/// From the document type to the opened body. `title` may be a stranger's.
[[nodiscard]] std::string begin_html(std::string_view title, const HtmlFrame& frame);

/// The script, if there is one, and the end of the page.
[[nodiscard]] std::string end_html(const HtmlFrame& frame);

/// The bytes that hexadecimal digits stand for, in base64 (RFC 4648 section 4). An even number of digits.
[[nodiscard]] std::string base64_of_hex(std::string_view digits);

}  // namespace packproof::report
