// What an expression rests on: fields of the description, derived quantities, tables.
#pragma once

#include <cstdint>
#include <vector>

#include "engine/rules/rule_set.hpp"

namespace packproof::rules {

struct Ingredients {
    std::vector<language::Member> fields;   ///< each once, in order of use
    std::vector<std::uint16_t> quantities;  ///< into the rule set, each once, users before what they use
    std::vector<std::uint32_t> tables;      ///< likewise
};

/// What one expression names itself, added to what was found before.
void add_ingredients(const language::Expression& expression, Ingredients& found);

/// Of a rule with everything that its quantities rest on in turn.
[[nodiscard]] Ingredients ingredients_of(const Rule& rule, const RuleSet& set);

}  // namespace packproof::rules
