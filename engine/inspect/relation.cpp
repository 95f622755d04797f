#include "engine/inspect/relation.hpp"

namespace packproof::inspect {

using language::Operation;

std::string_view relation_words(Operation operation, bool negated) {
    switch (operation) {
        case Operation::less:
            return negated ? "at least" : "less than";
        case Operation::less_equal:
            return negated ? "more than" : "at most";
        case Operation::greater:
            return negated ? "at most" : "more than";
        case Operation::greater_equal:
            return negated ? "less than" : "at least";
        case Operation::equal:
            return negated ? "other than" : "equal to";
        case Operation::unequal:
            return negated ? "equal to" : "other than";
        case Operation::within:
            return negated ? "outside" : "within";
        default:
            return "";
    }
}

Bound bound_of(Operation operation, bool negated) {
    switch (operation) {
        case Operation::less:
        case Operation::less_equal:
            return negated ? Bound::at_least : Bound::at_most;
        case Operation::greater:
        case Operation::greater_equal:
            return negated ? Bound::at_most : Bound::at_least;
        default:
            return Bound::other;
    }
}

std::string_view relation_sign(Operation operation) {
    switch (operation) {
        case Operation::less:
            return "<";
        case Operation::less_equal:
            return "<=";
        case Operation::greater:
            return ">";
        case Operation::greater_equal:
            return ">=";
        case Operation::equal:
            return "==";
        case Operation::unequal:
            return "!=";
        case Operation::within:
            return "within";
        case Operation::in_texts:
        case Operation::in_items:
            return "in";
        case Operation::matches:
            return "matches";
        default:
            return "";
    }
}

}  // namespace packproof::inspect
