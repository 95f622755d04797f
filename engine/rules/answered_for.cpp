#include "engine/rules/answered_for.hpp"

#include <algorithm>

namespace packproof::rules {

bool is_answered_for(const Rule& rule, const model::Vocabulary& vocabulary) {
    if (rule.came_as.value_or(rule.rule_class) == Class::critical) return true;
    return std::any_of(rule.applications.begin(), rule.applications.end(), [&](const Application& one) {
        return vocabulary.kinds[one.kind].role == model::Kind::Role::concession;
    });
}

bool is_relaxed(const Rule& rule) {
    return !rule.active || (rule.came_as && rule.rule_class > *rule.came_as);
}

}  // namespace packproof::rules
