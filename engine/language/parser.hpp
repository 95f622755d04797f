// The parser's inside, shared by parse.cpp (operators) and parse_calls.cpp (values, calls, folds): recursive
// descent over tokens. Height of the tree and depth of recursion are both bounded by most_levels.
#pragma once

#include <optional>
#include <utility>

#include "engine/language/parse.hpp"
#include "engine/language/token.hpp"

namespace packproof::language {

inline constexpr std::size_t most_expression_bytes = 4096;
inline constexpr std::size_t most_levels = 64;
inline constexpr std::size_t most_nested_folds = 4;
inline constexpr int most_exponent = 16;

/// After the first syntax error `failed_` is set and every function returns no_node.
class Parser {
  public:
    Parser(std::string_view text, std::vector<Token> tokens, std::vector<Mistake>& mistakes);
    [[nodiscard]] std::optional<Expression> parse();

  private:
    // tokens
    [[nodiscard]] const Token& here() const { return tokens_[at_]; }
    [[nodiscard]] const Token& next() const {
        return at_ + 1 < tokens_.size() ? tokens_[at_ + 1] : tokens_[at_];
    }
    [[nodiscard]] std::size_t last_end() const { return at_ == 0 ? 0 : tokens_[at_ - 1].end; }
    bool accept(std::string_view spelling);
    bool expect(std::string_view spelling, std::string hint = {});
    void unexpected(std::string_view wanted, std::string hint = {});
    void fail(std::size_t begin, std::size_t end, std::string text, std::string hint = {});
    void too_deep(std::size_t begin, std::size_t end);

    // nodes
    NodeIndex add(Node made, std::size_t begin);
    NodeIndex binary(Operation operation, NodeIndex first, NodeIndex second, std::size_t begin);
    NodeIndex unary(Operation operation, NodeIndex first, std::size_t begin);
    NodeIndex leaf(Operation operation, std::uint32_t index, double number = 0.0);
    std::uint32_t keep_text(std::string_view text);
    void keep_arguments(Node& made, const std::vector<NodeIndex>& arguments);

    // operators, loosest first
    NodeIndex expression();
    NodeIndex choice();
    NodeIndex disjunction();
    NodeIndex conjunction();
    NodeIndex negation();
    NodeIndex comparison();
    NodeIndex match(NodeIndex left, std::size_t begin);
    NodeIndex membership(NodeIndex left, std::size_t begin);
    NodeIndex presence(NodeIndex left, std::size_t begin);
    NodeIndex sum();
    NodeIndex product();
    NodeIndex signed_power();
    NodeIndex power();
    NodeIndex member_path();

    // values and calls
    NodeIndex primary();
    NodeIndex number_literal(std::size_t begin);
    NodeIndex bracket();
    NodeIndex word();
    NodeIndex name();
    NodeIndex plain_name();
    NodeIndex called();
    NodeIndex lookup();
    NodeIndex next_entry(Operation operation);
    NodeIndex fold(Fold fold, NodeIndex collection, std::size_t begin);
    NodeIndex call(Function function, NodeIndex first, std::size_t begin);

    std::vector<Token> tokens_;
    std::vector<Mistake>& mistakes_;
    Expression tree_;
    std::vector<std::size_t> levels_;      ///< height of each node
    std::vector<std::string_view> scope_;  ///< names of the bound variables, outermost first
    std::size_t at_ = 0;
    std::size_t open_ = 0;  ///< recursion now
    bool failed_ = false;
};

}  // namespace packproof::language
