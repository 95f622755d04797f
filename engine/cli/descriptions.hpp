// From the paths that the user names to the descriptions that are meant.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "engine/cli/inspect_many.hpp"
#include "engine/model/vocabulary.hpp"
#include "engine/text/message.hpp"

namespace packproof::cli {

struct Descriptions {
    std::vector<std::string> files;
    /// *.toml of folders that do not look like descriptions, and that no file looked at names as its part.
    std::vector<std::string> left_out;
};

/// Files and "-" as they are; of a folder every *.toml below it that looks like a description: it has a table
/// of a kind of which there is at most one, or of a name that is nearly one (a slip, to be told), or
/// `extends`, or cannot be read (so that its mistakes are told). Folders named `parts` or with a leading dot
/// are passed over, and *.readings.toml and *.concessions.toml, which are read with the description beside
/// them; links are not followed. Sorted by name within a folder, each file once. A folder without any is an
/// error. What lies at `overlays` is not left out; `libraries` are folders that parts may come from.
[[nodiscard]] Descriptions find_descriptions(std::span<const std::string> paths,
                                             std::span<const std::string> overlays,
                                             std::span<const std::string> libraries,
                                             const model::Vocabulary& vocabulary, text::Messages& messages);

/// What to tell of files left out, up to five named; empty if there are none.
[[nodiscard]] std::string left_out_words(const Descriptions& descriptions);

/// What is inspected: each description, with each combination of one overlay out of each of `places` (a file,
/// or a folder of *.toml, those of parts and readings passed over), in their order. A place without any, and
/// more than `most_combinations` descriptions and combinations in all, is an error.
inline constexpr std::size_t most_combinations = 100'000;
[[nodiscard]] std::vector<Subject> combine(std::span<const std::string> descriptions,
                                           std::span<const std::string> places, text::Messages& messages);

}  // namespace packproof::cli
