// One description out of several files: the file itself, the parts files that it names (`parts = [...]`), the
// description that it extends (`extends = "base.toml"`), overlays that the user lays over it, the readings
// beside it (NAME.readings.toml) and the concessions beside it (NAME.concessions.toml).
#pragma once

#include <string>
#include <vector>

#include "engine/document/read_toml.hpp"

namespace packproof::document {

/// A description's files, merged. Item tables are [kind.id]; `extends` merges key by key, the extending file
/// winning, and `drop = ["conductor.spare", "fuse.main.curve"]` takes out what the base has.
struct Description {
    std::string name;  ///< the first file's path as the user gave it
    text::SourceIndex source = text::no_source;
    text::SourceIndex readings = text::no_source;     ///< the file of readings beside it, if there is one
    text::SourceIndex concessions = text::no_source;  ///< the file of concessions beside it
    Node root;  ///< of the file itself with what it extends and what lies beside it, reserved keys removed
    std::vector<Node> parts;               ///< roots of the parts files, in order, each file once
    std::vector<text::SourceIndex> files;  ///< every file read, for digests
    std::vector<std::string> real_paths;   ///< of these files, links resolved
    std::vector<std::string> absent;       ///< where one more was looked for and none lies, likewise
    int format = 1;
};

inline constexpr std::size_t most_files_of_a_description = 64;

/// What besides the description's own folder is read.
struct Folders {
    std::vector<std::string> libraries = {};  ///< folders that parts may come from
    /// Files laid over the description one after the other, as if it were what they extend. They may hold
    /// format, parts and drop, no extends. With an overlay no readings and no
    /// concessions are read: they are of one thing that was built.
    std::vector<std::string> overlays = {};
};

/// Reserved top-level keys: format, parts, extends, drop. Errors: a part outside the allowed folders (after
/// links are resolved), a circle of parts or of extends (the whole circle named), an absent file, a format
/// that is not 1, more than 64 files. Nothing is returned when there is an error. NAME.readings.toml beside
/// NAME.toml is read as if its items stood last in NAME.toml; beside a file that is extended, and for
/// standard input, it is not looked for. It may hold format and parts, no extends or drop; an item that
/// stands in both is an error with both places; a path that is itself a file of readings is an error.
/// NAME.concessions.toml likewise, after the readings.
[[nodiscard]] std::optional<Description> load_description(const std::string& path, text::Sources& sources,
                                                          text::Messages& messages,
                                                          const Folders& folders = {},
                                                          const Limits& limits = {});

/// The same for a description whose bytes are already here, as if they stood in the file `path`.
[[nodiscard]] std::optional<Description> load_description_text(const std::string& path, std::string bytes,
                                                               text::Sources& sources,
                                                               text::Messages& messages,
                                                               const Folders& folders = {},
                                                               const Limits& limits = {});

}  // namespace packproof::document
