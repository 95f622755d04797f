// A small invented world to ask expressions of: a vocabulary, items and two derived quantities, built in C++.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "engine/language/check.hpp"
#include "engine/language/evaluate.hpp"
#include "engine/language/parse.hpp"

namespace packproof::language {

struct World {
    model::Vocabulary vocabulary;
    std::vector<QuantityName> quantities;
    std::vector<TableName> tables;
    std::vector<Expression> formulas;  ///< of the quantities
    model::Model model;

    World();
    World(const World&) = delete;
    World& operator=(const World&) = delete;

    [[nodiscard]] Names names() const { return {&vocabulary, quantities, tables}; }
    [[nodiscard]] model::KindIndex kind(std::string_view name) const { return *vocabulary.kind(name); }
    [[nodiscard]] Input input(model::ItemIndex item, std::string_view field) const;

    model::ItemIndex add(std::string_view kind, std::string id);
    /// Sets a field as a description would write it; "none" and "?" as there.
    void set(model::ItemIndex item, std::string_view field, std::string_view written);
    void set(model::ItemIndex item, std::string_view field, model::Value value);
    void refer(model::ItemIndex item, std::string_view field, std::vector<model::ItemIndex> to);
    void clear(model::ItemIndex item, std::string_view field);
    /// Sets a field as a default of the vocabulary would.
    void assume(model::ItemIndex item, std::string_view field, std::string_view written);

    /// Every mistake as "begin..end text (hint)", one a line; empty if there is none.
    [[nodiscard]] std::string mistakes(std::string_view kind, std::string_view text) const;
    /// A checked expression; the test fails if it has mistakes.
    [[nodiscard]] Expression compile(std::string_view kind, std::string_view text) const;
    [[nodiscard]] Context context() const;
    [[nodiscard]] model::Value ask(model::ItemIndex item, std::string_view text) const;
    /// The value in words: "[1, 2]", "yes", "missing: conductor.section not stated", "text a|b", "item b".
    [[nodiscard]] std::string answer(model::ItemIndex item, std::string_view text) const;

  private:
    model::Slot& slot(model::ItemIndex item, std::string_view field);
    mutable std::vector<Expression> kept_;  ///< literals that answers point into
};

[[nodiscard]] std::string print_mistakes(const std::vector<Mistake>& mistakes);

}  // namespace packproof::language
