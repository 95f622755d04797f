// The rules that are built into the program: in flat form for quick starts, and as text for proving,
// explaining and for reading on.
#pragma once

#include <string_view>
#include <vector>

#include "engine/rules/rule_set.hpp"

namespace packproof::rules {

struct BuiltInFile {
    std::string_view path;  ///< "rules/conductors/breaker.toml"
    std::string_view text;
};

[[nodiscard]] std::string_view built_in_bytes();          ///< flat form; generated at build time
[[nodiscard]] std::vector<BuiltInFile> built_in_files();  ///< generated at build time
[[nodiscard]] RuleSet built_in_rules();                   ///< unflatten(built_in_bytes())

}  // namespace packproof::rules
