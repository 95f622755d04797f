// One run of the program: arguments in, text on the streams, exit code out.
#pragma once

#include <span>
#include <string>

#include "engine/cli/surroundings.hpp"

namespace packproof::cli {

/// `arguments` without the program's name. Everything that a command builds and that is large goes into
/// `workspace`.
[[nodiscard]] int run(std::span<const std::string> arguments, Surroundings& around, Workspace& workspace);

}  // namespace packproof::cli
