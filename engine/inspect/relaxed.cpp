#include "engine/inspect/relaxed.hpp"

#include <fmt/core.h>

#include "engine/rules/answered_for.hpp"

namespace packproof::inspect {

std::vector<Relaxed> relaxed_rules(const rules::RuleSet& rules) {
    std::vector<Relaxed> found;
    for (const rules::Rule& rule : rules.rules)
        if (rules::is_relaxed(rule) && rules::is_answered_for(rule, rules.vocabulary))
            found.push_back({rule.name, rule.active, rule.rule_class, rule.change_reason, rule.change_by});
    return found;
}

std::string relaxed_words(const Relaxed& one) {
    const std::string now = one.active ? fmt::format("taken as {}", rules::class_name(one.rule_class))
                                       : std::string("switched off");
    return fmt::format("{}: {} by {}: {}", one.rule_name, now, one.by, one.reason);
}

}  // namespace packproof::inspect
