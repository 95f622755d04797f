// The man page, in the macros of man(7).
#pragma once

#include <string>

#include "engine/cli/command_tree.hpp"

namespace packproof::cli {

[[nodiscard]] std::string man_page(const ShownCommand& program);

}  // namespace packproof::cli
