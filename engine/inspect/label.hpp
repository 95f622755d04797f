// How items, fields and values are named and printed in findings.
#pragma once

#include <string>

#include "engine/facts/facts.hpp"
#include "engine/inspect/finding.hpp"
#include "engine/language/derivation.hpp"

namespace packproof::inspect {

/// "main-breaker".
[[nodiscard]] std::string item_label(const model::Model& model, model::ItemIndex item);
/// "rated_current of main-breaker".
[[nodiscard]] std::string input_label(const model::Model& model, language::Input input);
/// The unit in which an input is written, else the field's own.
[[nodiscard]] units::Unit input_unit(const model::Model& model, language::Input input);
/// "measured 5 times, caliper" of a value that readings gave; "measured" of one that a paper calls so.
[[nodiscard]] std::string measured_label(const model::Model& model, const model::Slot& slot);
/// "pack.toml:12", or nothing for what stands in no file.
[[nodiscard]] std::string place_label(const text::Sources& sources, const text::Span& span);

/// A value of a type in a unit that fits (`preferred` if it does). `digits`: significant digits of numbers.
[[nodiscard]] Shown show(const model::Model& model, const model::Value& value, const model::Type& type,
                         const units::Unit& preferred, int digits = 4);

/// SI symbol of a dimension: "A", "m²", "N·m".
[[nodiscard]] std::string si_symbol(const units::Dimension& dimension);

/// What a node of an expression is called for a reader: "carrying_capacity of main-positive", else its text.
[[nodiscard]] std::string node_label(const language::Expression& expression, language::NodeIndex node,
                                     model::ItemIndex item, std::span<const model::ItemIndex> variables,
                                     facts::Facts& facts);
/// The unit in which a node's value is best shown.
[[nodiscard]] units::Unit node_unit(const language::Expression& expression, language::NodeIndex node,
                                    model::ItemIndex item, std::span<const model::ItemIndex> variables,
                                    facts::Facts& facts);
/// The input that a node is, if it is a field.
[[nodiscard]] std::optional<language::Input> node_input(const language::Expression& expression,
                                                        language::NodeIndex node, model::ItemIndex item,
                                                        std::span<const model::ItemIndex> variables,
                                                        facts::Facts& facts);

/// The `name` or `title` of the first item of a single kind that has one; empty if none.
[[nodiscard]] std::string title_of(const model::Model& model);

/// For language::with_numbers.
[[nodiscard]] language::Printer printer(facts::Facts& facts);

}  // namespace packproof::inspect
