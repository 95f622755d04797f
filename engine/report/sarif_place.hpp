// Places as SARIF wants them: a file's name as a URI reference (RFC 3986), a span as a region, what else a
// finding speaks of.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "engine/inspect/finding.hpp"
#include "engine/text/source.hpp"

namespace packproof::report {

/// `below`: relative to the folder that names are relative to, and inside it. An empty `uri`: the standard
/// input, which has none.
struct FileUri {
    std::string uri;
    bool below = false;
};

/// Of a path as the user gave it. `folder` is absolute, or empty if nothing is known of it. Percent-encoded
/// byte by byte. A file outside of `folder` gets an absolute file URI (RFC 8089).
[[nodiscard]] FileUri file_uri(std::string_view path, std::string_view folder);

/// From 1, in code points; the end is one past the last.
struct Region {
    std::uint32_t start_line = 1;
    std::uint32_t start_column = 1;
    std::uint32_t end_line = 1;
    std::uint32_t end_column = 1;
};

[[nodiscard]] bool has_place(const text::Span& span, const text::Sources& sources);

/// Of a span with a place.
[[nodiscard]] Region region_of(const text::Span& span, const text::Sources& sources);

/// Further places that a finding speaks of, each once, without its own: inputs, sides of a contradiction, the
/// cause under which it is folded. At most a hundred.
[[nodiscard]] std::vector<inspect::Elsewhere> related_places(const inspect::Finding& finding,
                                                             const inspect::Report& report,
                                                             const text::Sources& sources);

}  // namespace packproof::report
