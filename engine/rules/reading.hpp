// The steps of loading rule files, in order; each adds to the set and reports what is wrong. Used by
// load_rules.cpp only.
#pragma once

#include <vector>

#include "engine/document/value.hpp"
#include "engine/rules/entry.hpp"
#include "engine/rules/rule_set.hpp"
#include "engine/text/message.hpp"

namespace packproof::rules {

struct Reading {
    const text::Sources& sources;
    text::Messages& messages;
    RuleSet set;
    std::vector<document::Node> roots;  ///< of all files
};

/// The members of `[section.*]` of every file, in order.
[[nodiscard]] std::vector<const document::Node*> members(const Reading& reading, std::string_view section);

void read_kinds(Reading& reading);  ///< kinds, then their fields; adds fields to kinds that exist
void read_cautions(Reading& reading);
void read_tables(Reading& reading);
void declare_networks(Reading& reading);  ///< names and cases
void read_networks(Reading& reading);     ///< their branches; to be called when quantities are declared
/// What a quantity with `solves` asks; `type` is what it is declared to give.
[[nodiscard]] std::optional<Solved> read_solved(Entry& entry, const model::Type& type, Reading& reading);
void declare_solvers(Reading& reading);  ///< names, methods and kinds
void read_solvers(Reading& reading);     ///< their expressions; to be called when quantities are declared
/// What a quantity of a kind with `solver` asks.
[[nodiscard]] std::optional<SolverAsked> read_asked(Entry& entry, model::KindIndex kind,
                                                    const model::Type& type, Reading& reading);
/// What a quantity uses directly; a solved one everything that its network (in its case) or its
/// solver asks for.
[[nodiscard]] std::vector<std::uint16_t> used_by(const QuantityDefinition& quantity, const RuleSet& set);
void read_quantities(Reading& reading);  ///< declares all, then compiles; then looks for circles
void read_rules(Reading& reading);
void read_changes(Reading& reading);
void read_worksheets(Reading& reading);
void read_drawings(Reading& reading);

/// Names as the checker of expressions wants them; the tables part lives in `tables`.
struct NameLists {
    std::vector<language::QuantityName> quantities;
    std::vector<language::TableName> tables;
    [[nodiscard]] language::Names names(const model::Vocabulary& vocabulary) const {
        return {&vocabulary, quantities, tables};
    }
};
[[nodiscard]] NameLists name_lists(const RuleSet& set);

/// Parses and checks the text of a string node for a kind; mistakes become messages at their place in the
/// file. Empty expression on mistakes.
[[nodiscard]] language::Expression compile(const document::Node& node, model::KindIndex kind,
                                           const language::Names& names, Reading& reading);

/// The same, where a type is due: another one, or a node that is no text, is a mistake. Empty without a node.
[[nodiscard]] language::Expression compile_as(const document::Node* node, const model::Type& wanted,
                                              model::KindIndex kind, const language::Names& names,
                                              Reading& reading);
/// "tap {number} of {pack.name}": an expression in braces at each blank; {number} only where numbered.
[[nodiscard]] Wording read_wording(Entry& entry, std::string_view key, bool required, bool numbered,
                                   model::KindIndex kind, const language::Names& names, Reading& reading);
/// A number in a unit ("" for a plain one).
[[nodiscard]] model::Type number_in(std::string_view unit);

}  // namespace packproof::rules
