// A rule set as bytes and back, without parsing or checking anything again. The bytes are made at build time
// by the same version of the program that reads them; they are no exchange format.
#pragma once

#include <string>
#include <string_view>

#include "engine/rules/rule_set.hpp"

namespace packproof::rules {

[[nodiscard]] std::string flatten(const RuleSet& rules);
/// Bytes that flatten did not make are a broken build: throws std::runtime_error.
[[nodiscard]] RuleSet unflatten(std::string_view bytes);

}  // namespace packproof::rules
