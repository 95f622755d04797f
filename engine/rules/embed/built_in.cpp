#include "engine/rules/built_in.hpp"

#include "engine/rules/flatten.hpp"

namespace packproof::rules {

RuleSet built_in_rules() {
    return unflatten(built_in_bytes());
}

}  // namespace packproof::rules
