// What an expression rests on: fields of the description, derived quantities, tables.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "engine/rules/rule_set.hpp"

namespace packproof::cli {

struct Ingredients {
    std::vector<std::string> fields;        ///< "section of conductor", each once, in order of use
    std::vector<std::uint16_t> quantities;  ///< into the rule set, each once, users before what they use
    std::vector<std::uint32_t> tables;      ///< likewise
};

/// Of a rule with everything that its quantities rest on in turn.
[[nodiscard]] Ingredients ingredients_of(const rules::Rule& rule, const rules::RuleSet& set);

}  // namespace packproof::cli
