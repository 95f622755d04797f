// TOML text to a located tree. The only place that knows the parser library. Untrusted text: size, line
// length, nesting and dotted keys are bounded before parsing; every syntax error of the file is reported,
// not only the first (the offending line is blanked and the text parsed again, at most 20 times).
#pragma once

#include <optional>
#include <string>

#include "engine/document/value.hpp"
#include "engine/text/message.hpp"

namespace packproof::document {

struct Limits {
    std::size_t file_bytes = 4U << 20U;  ///< a larger file is refused unread
    std::size_t line_bytes = 64U << 10U;
    std::size_t key_dots = 32;
    std::size_t nesting = 64;
};

/// Reads a regular file whole ("-": standard input). Messages for: not there, a folder, not a regular file,
/// no permission, too large, bad UTF-8 (with its position), a NUL byte. A leading byte-order mark is kept in
/// the source and skipped by the parser. `named_at`: where another file names this one. `shown_as`: what to
/// call it in messages, if not by its path. A replacement that `sources` holds for `path` is read instead.
[[nodiscard]] std::optional<text::SourceIndex> read_file(const std::string& path, text::Sources& sources,
                                                         text::Messages& messages, const Limits& limits = {},
                                                         text::Span named_at = {},
                                                         const std::string& shown_as = {});

/// Bytes that are already here (an editor's, a test's), under a name, with the checks of read_file.
[[nodiscard]] std::optional<text::SourceIndex> add_text(const std::string& name, std::string bytes,
                                                        text::Sources& sources, text::Messages& messages,
                                                        const Limits& limits = {});

/// Parses a source. Empty result: messages say why. inf, nan and duplicate keys (both places named) are
/// errors.
[[nodiscard]] std::optional<Node> read_toml(text::SourceIndex source, const text::Sources& sources,
                                            text::Messages& messages, const Limits& limits = {});

}  // namespace packproof::document
