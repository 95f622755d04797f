// The working: an expression as written, with the numbers put in, and its result, so that a reader can redo
// it.
#pragma once

#include <string>

#include "engine/language/evaluate.hpp"

namespace packproof::language {

/// How a value of some node prints: given by the caller, who knows units as written and names of items.
struct Printer {
    /// A value of a type, in a fitting unit (`preferred` may have an empty symbol).
    std::function<std::string(const model::Value&, const model::Type&, const units::Unit& preferred)> value;
    /// The unit in which an item's field is written, or a quantity's own unit.
    std::function<units::Unit(const Member& member, bool is_field, model::ItemIndex item)> unit;
    /// Name of a table and of its column.
    std::function<std::string(std::uint32_t table, std::uint32_t column)> table;
    std::function<std::string(model::ItemIndex item)> item;
};

/// "200 A <= 1.0 × 174 A": each field, quantity, lookup and fold replaced by its value; only the branch of an
/// `if` that was taken. Signs as a person writes them (×, ÷ as /, ≤ as <=).
[[nodiscard]] std::string with_numbers(const Expression& expression, NodeIndex node, model::ItemIndex item,
                                       std::span<const model::ItemIndex> variables, const Context& context,
                                       const Printer& printer);

}  // namespace packproof::language
