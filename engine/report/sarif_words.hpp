// The words of the SARIF form: messages of findings and help of rules, as plain text and as Markdown, both in
// the syntax of SARIF's message strings (braces doubled, links to places by their number).
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "engine/inspect/finding.hpp"

namespace packproof::report {

/// Level of what fails.
[[nodiscard]] std::string_view level_of(rules::Class rule_class);
[[nodiscard]] std::string_view kind_of(rules::Verdict verdict);

struct SarifWords {
    std::string text;
    std::string markdown;
};

/// Harmless plain text that SARIF takes for neither a placeholder nor a link.
[[nodiscard]] std::string sarif_text(std::string_view untrusted);

/// Of a finding. `links` are the labels of its related places: the first has the number 1.
[[nodiscard]] SarifWords finding_words(const inspect::Finding& finding, const inspect::Report& report,
                                       const std::vector<std::string>& links);

/// "carrying_capacity of main-positive = base * factor = 192 A × 0.906 = 174 A".
[[nodiscard]] std::string step_words(const inspect::Step& step);

/// What is told of a rule.
struct RuleWords {
    std::string asks;
    std::string because;
    std::string advice;
    std::vector<std::string> demands;  ///< each once; none if the rule itself is not at hand
    std::vector<model::Authority> basis;
    std::vector<std::string> kinds;  ///< of item, to which it applies
    rules::Class rule_class = rules::Class::major;
    bool at_once = false;
    std::string since;
};

/// Of the rule of this finding: from the rule set, if it is there and holds it, else from the finding.
[[nodiscard]] RuleWords rule_words(const inspect::Finding& finding, const rules::RuleSet* rules);

/// Demands, reason, basis and advice.
[[nodiscard]] SarifWords help_words(const RuleWords& rule);

}  // namespace packproof::report
