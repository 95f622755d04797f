// Completion of commands, options and names of files for three shells.
#pragma once

#include <string>
#include <string_view>

#include "engine/cli/command_tree.hpp"

namespace packproof::cli {

/// `shell`: "bash", "zsh" or "fish". Empty for any other.
[[nodiscard]] std::string completion(const ShownCommand& program, std::string_view shell);

}  // namespace packproof::cli
