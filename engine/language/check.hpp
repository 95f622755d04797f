// Names resolved, types and dimensions inferred, mistakes found: unknown name (nearest named), A compared
// with mm², a lookup with the wrong number of keys, a pattern that does not compile, a temperature added to
// a temperature, a comparison that can never hold.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "engine/language/parse.hpp"
#include "engine/model/vocabulary.hpp"

namespace packproof::language {

/// What the checker must know of derived quantities and tables; built by the rule loader.
struct QuantityName {
    model::KindIndex kind = 0;
    std::string name;
    model::Type type;
};
struct TableName {
    std::string name;
    std::vector<std::string> key_names;
    std::vector<model::Type> keys;
    std::vector<std::string> column_names;
    std::vector<model::Type> columns;
};
struct Names {
    const model::Vocabulary* vocabulary = nullptr;
    std::span<const QuantityName> quantities;  ///< index = the quantity's index in the rule set
    std::span<const TableName> tables;
};

/// A temperature literal adapts: °C is a temperature and K a difference, unless the other side of + - or of a
/// comparison, or the key of a table, wants the other reading. A name is first a bound variable, then a field
/// or quantity of the item at hand, then a kind declared single; what a fold goes over is first a list of
/// items, then a kind.
///
/// Resolves `expression`, fresh from the parser, for an item of `kind`. True if there was no mistake; on
/// mistakes the expression must not be evaluated.
bool check(Expression& expression, model::KindIndex kind, const Names& names, std::vector<Mistake>& mistakes);

/// The quantities that an expression uses directly, ascending (for the order and for finding circles).
[[nodiscard]] std::vector<std::uint16_t> quantities_used(const Expression& expression);

}  // namespace packproof::language
