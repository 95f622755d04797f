// What the pages of the reference are put together from. Private to the reference.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "engine/report/reference.hpp"
#include "engine/rules/ingredients.hpp"

namespace packproof::report {

/// Where each thing of the rule set is named by what.
struct UsedBy {
    std::vector<std::vector<Passage>> quantities;  ///< by index in the rule set
    std::vector<std::vector<Passage>> tables;
};

[[nodiscard]] Passage plain(std::string_view text);
[[nodiscard]] Passage code(std::string_view text);
[[nodiscard]] Passage to_rule(const rules::Rule& rule);
[[nodiscard]] Passage to_kind(const model::Kind& kind);
[[nodiscard]] Passage to_field(const model::Kind& kind, const model::Field& field);
[[nodiscard]] Passage to_quantity(const rules::QuantityDefinition& quantity, const rules::RuleSet& set);
[[nodiscard]] Passage to_table(const rules::Table& table);
[[nodiscard]] Passage to_network(const rules::NetworkDefinition& network);
[[nodiscard]] Passage to_solver(const rules::SolverDefinition& solver);
[[nodiscard]] Passage to_caution(const rules::Caution& caution);

/// Nothing where there are no words.
void add_line(ReferenceSection& section, std::string_view label, std::vector<Passage> words);
void add_basis(ReferenceSection& section, const std::vector<model::Authority>& basis);
/// "names": fields, quantities and tables that the expressions name.
void add_named(ReferenceSection& section, const rules::Ingredients& named, const rules::RuleSet& set);

[[nodiscard]] UsedBy used_by(const rules::RuleSet& set);

void add_rule_pages(const rules::RuleSet& set, const text::Sources& sources,
                    std::vector<ReferencePage>& pages);
void add_kind_pages(const rules::RuleSet& set, std::vector<ReferencePage>& pages);
void add_table_pages(const rules::RuleSet& set, const UsedBy& used, std::vector<ReferencePage>& pages);
void add_quantity_pages(const rules::RuleSet& set, const UsedBy& used, std::vector<ReferencePage>& pages);
void add_other_pages(const rules::RuleSet& set, std::vector<ReferencePage>& pages);
void add_function_pages(std::vector<ReferencePage>& pages);

}  // namespace packproof::report
