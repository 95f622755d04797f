// A description with what was found in it, as one editor text and the files that it reads.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "engine/inspect/inspect.hpp"
#include "engine/serve/told.hpp"

namespace packproof::serve {

/// A text open in an editor.
struct OpenText {
    std::string uri;
    std::string path;  ///< absolute, links resolved; empty for a text that is no file
    std::optional<std::int64_t> version;
    std::string text;
};

struct Inspected {
    text::Sources sources;
    text::Messages messages;
    std::optional<inspect::Loaded> loaded;
    std::optional<inspect::Report> report;
    std::vector<std::string> uris;   ///< of each source
    std::vector<std::string> paths;  ///< of each source, links resolved; empty for a text that is no file
};

/// How places are told.
struct Telling {
    const Inspected& of;
    Encoding encoding = Encoding::utf16;

    [[nodiscard]] std::optional<Location> location(const text::Span& span) const;
};

/// Inspects `own` with the texts that are open in place of the files on disk. `rules` must outlive the
/// result.
[[nodiscard]] std::unique_ptr<Inspected> inspect_text(const OpenText& own, std::span<const OpenText> open,
                                                      const rules::RuleSet& rules,
                                                      const std::vector<std::string>& libraries,
                                                      facts::SolverMemory& memory);

/// The URI under which a file is open, else that of its path.
[[nodiscard]] std::string uri_of_file(const std::string& path, std::span<const OpenText> open);

/// Input errors, findings, and values that are asked ("?"). `own` takes what has no place in a file.
[[nodiscard]] std::vector<Told> diagnostics_of(const Inspected& of, Encoding encoding,
                                               const std::string& own);

/// One message of reading a text; `own` if it has no place.
[[nodiscard]] Told told_of(const text::Message& message, const Telling& telling, const std::string& own);

}  // namespace packproof::serve
