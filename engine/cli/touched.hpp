// Which files were touched, so that only descriptions that read one of them are inspected.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "engine/document/parts.hpp"
#include "engine/text/message.hpp"

namespace packproof::cli {

/// A path of the list, and where it may lie: absolute, links resolved as far as something is there.
struct TouchedPath {
    std::string written;
    std::vector<std::string> places;
    bool is_there = false;
};

/// A description is inspected only if one of its files is among them, if one that it would have read were it
/// there is (it was deleted), or if it cannot be read.
using Touched = std::optional<std::vector<TouchedPath>>;

/// Reads a list of paths ("-": standard input): one a line, quoted as git does or not, or each ended by a NUL
/// byte, as `git diff -z` writes them. A relative path is taken from the current folder and from the top of
/// the repository around it, for git writes the latter; a folder stands for all that lies in it. Nothing is
/// returned for an empty name of a list; a list that cannot be read is an error.
[[nodiscard]] Touched read_touched(const std::string& list, text::Messages& messages);

/// The places in `touched` of which the description reads a file, or looked for one in vain.
[[nodiscard]] std::vector<std::size_t> touched_of(const document::Description& description,
                                                  const std::vector<TouchedPath>& touched);

/// What to tell of a list when all descriptions were looked at: how many paths belong to none, and how many
/// of those are not there. Empty if all belong to one.
[[nodiscard]] std::string unmatched_words(const std::vector<TouchedPath>& touched,
                                          const std::vector<bool>& matched);

}  // namespace packproof::cli
