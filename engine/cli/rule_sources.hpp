// Where a run's rules come from: what is built in, and on top of it the folders that --rules names.
#pragma once

#include <span>
#include <string>

#include "engine/cli/surroundings.hpp"
#include "engine/text/message.hpp"

namespace packproof::cli {

/// Quick: the built-in rules come ready made and carry neither their examples nor their places in files.
/// False: `messages` says why.
[[nodiscard]] bool load_rule_set(std::span<const std::string> folders, Surroundings& around,
                                 Workspace& workspace, text::Messages& messages);

/// Everything from its text: examples and places are there.
[[nodiscard]] bool load_rule_texts(std::span<const std::string> folders, Surroundings& around,
                                   Workspace& workspace, text::Messages& messages);

}  // namespace packproof::cli
