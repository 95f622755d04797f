// Rule files as an editor has them: loaded on top of the built-in rules, with their own examples tried.
#pragma once

#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "engine/rules/rule_set.hpp"
#include "engine/serve/inspected.hpp"

namespace packproof::serve {

/// An item that a text may refer to.
struct KnownItem {
    std::string kind;
    std::string id;
};

struct RuleTexts {
    rules::RuleSet set;  ///< the base where `sound` is false
    bool sound = false;
    Inspected read;  ///< its sources and messages, those of failing examples too
};

/// A text with top-level tables of rule files and nothing of a description.
[[nodiscard]] bool looks_like_rules(std::string_view bytes, const model::Vocabulary& vocabulary);

/// A text that a description begins with: a table of a single kind, `extends` or `parts`.
[[nodiscard]] bool looks_like_description(std::string_view bytes, const model::Vocabulary& vocabulary);

/// All rule files of the folders on top of `base`.
[[nodiscard]] std::unique_ptr<RuleTexts> load_folders(const std::vector<std::string>& folders,
                                                      std::span<const OpenText> open,
                                                      const rules::RuleSet& base);

/// One text on top of `base`, with the rule files that lie beside it in its folder.
[[nodiscard]] std::unique_ptr<RuleTexts> load_text(const OpenText& own, std::span<const OpenText> open,
                                                   const rules::RuleSet& base);

}  // namespace packproof::serve
