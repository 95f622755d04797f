// Which names mean something at a place inside an expression of a rule file that is being written. It follows
// dots through references and reads words only, so that a half-written expression will do.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "engine/rules/rule_set.hpp"
#include "engine/serve/cursor.hpp"

namespace packproof::serve {

struct Scope {
    std::string word;         ///< at the cursor
    std::uint32_t begin = 0;  ///< its bytes
    std::uint32_t end = 0;
    std::vector<model::KindIndex> kinds;  ///< whose members it may be
    bool after_dot = false;
    bool wants_table = false;          ///< it is the name of a table
    std::optional<std::size_t> table;  ///< it is a column of this one
};

/// Nothing outside of expressions.
[[nodiscard]] std::optional<Scope> scope_at(std::string_view bytes, std::uint32_t offset,
                                            const Cursor& cursor, const rules::RuleSet& set);

/// What the word at the cursor names.
struct Named {
    std::string word;
    std::vector<std::pair<model::KindIndex, model::FieldIndex>> fields;
    std::vector<std::size_t> quantities;
    std::optional<std::size_t> table;
    std::optional<model::KindIndex> kind;
};
[[nodiscard]] Named named_by(const Scope& scope, const rules::RuleSet& set);

/// The table of rule_words.hpp that the last key of a path stands in: "rule", "kind.field", "basis".
[[nodiscard]] std::string table_of(const std::vector<std::string>& path);

}  // namespace packproof::serve
