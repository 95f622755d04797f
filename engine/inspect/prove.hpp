// Rules prove themselves: every example of every rule is inspected and must give the verdict that it says.
#pragma once

#include <vector>

#include "engine/rules/rule_set.hpp"
#include "engine/text/message.hpp"

namespace packproof::inspect {

struct Proof {
    std::size_t rules = 0;  ///< rules with examples
    std::size_t examples = 0;
    std::size_t failed = 0;
    std::vector<text::Message> failures;
};

/// Mistakes in an example's own description count as failures. `only`: one rule by name, empty: all.
[[nodiscard]] Proof prove(const rules::RuleSet& rules, const text::Sources& sources,
                          std::string_view only = {});

}  // namespace packproof::inspect
