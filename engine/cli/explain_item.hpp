// All that is known of one item of a description, and every verdict on it.
#pragma once

#include <string>

#include "engine/cli/call.hpp"
#include "engine/cli/surroundings.hpp"

namespace packproof::cli {

/// The rules are loaded already.
[[nodiscard]] int explain_item(const std::string& file, const std::string& item, const ExplainCall& call,
                               Surroundings& around, Workspace& workspace);

}  // namespace packproof::cli
