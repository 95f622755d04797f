#include "engine/language/parse.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "engine/language/parser.hpp"

namespace packproof::language {
namespace {

constexpr std::array<std::pair<std::string_view, Operation>, 6> comparisons{{{"<", Operation::less},
                                                                             {"<=", Operation::less_equal},
                                                                             {">", Operation::greater},
                                                                             {">=", Operation::greater_equal},
                                                                             {"==", Operation::equal},
                                                                             {"!=", Operation::unequal}}};

std::optional<Operation> comparison_sign(const Token& token) {
    if (token.kind != Token::Kind::sign) return std::nullopt;
    for (const auto& [spelling, operation] : comparisons)
        if (token.spelling == spelling) return operation;
    return std::nullopt;
}

}  // namespace

std::optional<Expression> parse(std::string_view text, std::vector<Mistake>& mistakes) {
    if (text.size() > most_expression_bytes) {
        mistakes.push_back({most_expression_bytes, text.size(),
                            fmt::format("the expression is longer than {} bytes", most_expression_bytes),
                            "name its parts as derived quantities"});
        return std::nullopt;
    }
    const std::size_t before = mistakes.size();
    std::vector<Token> tokens = split_tokens(text, mistakes);
    if (mistakes.size() != before) return std::nullopt;
    return Parser(text, std::move(tokens), mistakes).parse();
}

Parser::Parser(std::string_view text, std::vector<Token> tokens, std::vector<Mistake>& mistakes)
    : tokens_(std::move(tokens)), mistakes_(mistakes) {
    tree_.text = std::string(text);
}

std::optional<Expression> Parser::parse() {
    if (here().kind == Token::Kind::end) fail(0, last_end(), "the expression is empty");
    tree_.root = expression();
    if (!failed_ && here().kind != Token::Kind::end) unexpected("an operator or the end");
    if (failed_) return std::nullopt;
    return std::move(tree_);
}

bool Parser::accept(std::string_view spelling) {
    if (failed_ || !here().is(spelling)) return false;
    ++at_;
    return true;
}

bool Parser::expect(std::string_view spelling, std::string hint) {
    if (accept(spelling)) return true;
    unexpected(fmt::format("'{}'", spelling), std::move(hint));
    return false;
}

void Parser::fail(std::size_t begin, std::size_t end, std::string text, std::string hint) {
    if (!failed_) mistakes_.push_back({begin, end, std::move(text), std::move(hint)});
    failed_ = true;
}

void Parser::unexpected(std::string_view wanted, std::string hint) {
    std::string found(here().spelling);
    if (here().kind != Token::Kind::text) found = fmt::format("'{}'", found);
    std::string text = here().kind == Token::Kind::end
                           ? fmt::format("the expression ends where {} should stand", wanted)
                           : fmt::format("{} stands where {} should stand", found, wanted);
    fail(here().begin, here().end, std::move(text), std::move(hint));
}

void Parser::too_deep(std::size_t begin, std::size_t end) {
    fail(begin, end, fmt::format("the expression nests more than {} levels deep", most_levels),
         "name its parts as derived quantities");
}

NodeIndex Parser::add(Node made, std::size_t begin) {
    if (failed_) return no_node;
    const auto level_of = [&](NodeIndex index) {
        return index == no_node ? std::size_t{0} : levels_[static_cast<std::size_t>(index)];
    };
    made.begin = static_cast<std::uint32_t>(begin);
    made.end = static_cast<std::uint32_t>(last_end());
    std::size_t level = std::max({level_of(made.first), level_of(made.second), level_of(made.third)});
    for (std::uint32_t i = made.list_begin; i < made.list_end; ++i)
        level = std::max(level, level_of(tree_.arguments[i]));
    if (level + 1 > most_levels) {
        too_deep(begin, last_end());
        return no_node;
    }
    tree_.nodes.push_back(made);
    levels_.push_back(level + 1);
    return static_cast<NodeIndex>(tree_.nodes.size() - 1);
}

NodeIndex Parser::binary(Operation operation, NodeIndex first, NodeIndex second, std::size_t begin) {
    Node made;
    made.operation = operation;
    made.first = first;
    made.second = second;
    return add(made, begin);
}

NodeIndex Parser::unary(Operation operation, NodeIndex first, std::size_t begin) {
    return binary(operation, first, no_node, begin);
}

NodeIndex Parser::expression() {
    if (failed_) return no_node;
    if (++open_ > most_levels) too_deep(here().begin, here().end);
    const NodeIndex made = here().is("if") ? choice() : disjunction();
    --open_;
    return made;
}

NodeIndex Parser::choice() {
    if (failed_) return no_node;
    const std::size_t begin = here().begin;
    ++at_;
    Node made;
    made.operation = Operation::choose;
    made.first = expression();
    if (!expect("then")) return no_node;
    made.second = expression();
    if (!expect("else")) return no_node;
    made.third = expression();
    return add(made, begin);
}

NodeIndex Parser::disjunction() {
    const std::size_t begin = here().begin;
    NodeIndex made = conjunction();
    while (accept("or")) {
        const NodeIndex right = conjunction();
        made = binary(Operation::logical_or, made, right, begin);
    }
    return made;
}

NodeIndex Parser::conjunction() {
    const std::size_t begin = here().begin;
    NodeIndex made = negation();
    while (accept("and")) {
        const NodeIndex right = negation();
        made = binary(Operation::logical_and, made, right, begin);
    }
    return made;
}

NodeIndex Parser::negation() {
    std::vector<std::size_t> begins;
    while (!failed_ && here().is("not")) {
        begins.push_back(here().begin);
        ++at_;
        if (begins.size() > most_levels) too_deep(here().begin, here().end);
    }
    NodeIndex made = comparison();
    for (; !begins.empty(); begins.pop_back())
        made = unary(Operation::logical_not, made, begins.back());
    return made;
}

NodeIndex Parser::comparison() {
    const std::size_t begin = here().begin;
    const NodeIndex left = sum();
    if (failed_) return no_node;
    NodeIndex made = left;
    if (const auto operation = comparison_sign(here())) {
        ++at_;
        const NodeIndex right = sum();
        made = binary(*operation, left, right, begin);
    } else if (accept("within")) {
        const NodeIndex right = sum();
        made = binary(Operation::within, left, right, begin);
    } else if (accept("matches")) {
        made = match(left, begin);
    } else if (accept("in")) {
        made = membership(left, begin);
    } else if (accept("is")) {
        made = presence(left, begin);
    }
    if (!failed_ && made != left && comparison_sign(here()))
        fail(here().begin, here().end, "comparisons cannot be chained", "write 'a < b and b < c'");
    return made;
}

NodeIndex Parser::match(NodeIndex left, std::size_t begin) {
    if (here().kind != Token::Kind::text) {
        unexpected("a regular expression in quotes");
        return no_node;
    }
    Node made;
    made.operation = Operation::matches;
    made.first = left;
    made.index = static_cast<std::uint32_t>(tree_.patterns.size());
    tree_.patterns.push_back(unquote(here().spelling));
    ++at_;
    return add(made, begin);
}

NodeIndex Parser::membership(NodeIndex left, std::size_t begin) {
    if (!accept("[")) {
        const NodeIndex right = member_path();
        return binary(Operation::in_items, left, right, begin);
    }
    std::vector<NodeIndex> texts;
    do {
        if (here().kind != Token::Kind::text) {
            unexpected("a text in quotes");
            return no_node;
        }
        texts.push_back(primary());
    } while (accept(","));
    if (!expect("]")) return no_node;
    Node made;
    made.operation = Operation::in_texts;
    made.first = left;
    keep_arguments(made, texts);
    return add(made, begin);
}

NodeIndex Parser::presence(NodeIndex left, std::size_t begin) {
    const bool negated = accept("not");
    for (const Operation operation : questions_of_presence) {
        if (!accept(presence_word(operation))) continue;
        const NodeIndex made = unary(operation, left, begin);
        return negated ? unary(Operation::logical_not, made, begin) : made;
    }
    unexpected(negated ? "'stated', 'none', 'assumed', 'known' or 'mentioned'"
                       : "'stated', 'none', 'assumed', 'known', 'mentioned' or 'not' and one of them");
    return no_node;
}

NodeIndex Parser::sum() {
    const std::size_t begin = here().begin;
    NodeIndex made = product();
    while (!failed_ && (here().is("+") || here().is("-"))) {
        const Operation operation = here().is("+") ? Operation::add : Operation::subtract;
        ++at_;
        const NodeIndex right = product();
        made = binary(operation, made, right, begin);
    }
    return made;
}

NodeIndex Parser::product() {
    const std::size_t begin = here().begin;
    NodeIndex made = signed_power();
    while (!failed_ && (here().is("*") || here().is("/"))) {
        const Operation operation = here().is("*") ? Operation::multiply : Operation::divide;
        ++at_;
        const NodeIndex right = signed_power();
        made = binary(operation, made, right, begin);
    }
    return made;
}

// A minus before a number belongs to the literal (-20 °C is one temperature), except under a power.
NodeIndex Parser::signed_power() {
    if (failed_ || !here().is("-")) return power();
    const std::size_t begin = here().begin;
    ++at_;
    if (here().kind == Token::Kind::number && !next().is("^")) return number_literal(begin);
    if (++open_ > most_levels) too_deep(begin, here().end);
    const NodeIndex inner = signed_power();
    --open_;
    return unary(Operation::negate, inner, begin);
}

NodeIndex Parser::power() {
    const std::size_t begin = here().begin;
    const NodeIndex base = member_path();
    if (!accept("^")) return base;
    const bool negative = accept("-");
    const Token& token = here();
    const bool whole = token.kind == Token::Kind::number && token.unit.symbol.empty() &&
                       token.number == std::floor(token.number) && token.number <= most_exponent;
    if (!whole) {
        unexpected(fmt::format("a whole exponent of at most {}", most_exponent));
        return no_node;
    }
    ++at_;
    Node made;
    made.operation = Operation::power;
    made.first = base;
    made.number = negative ? -token.number : token.number;
    return add(made, begin);
}

NodeIndex Parser::member_path() {
    const std::size_t begin = here().begin;
    NodeIndex made = primary();
    while (accept(".")) {
        if (here().kind != Token::Kind::word) {
            unexpected("a field's name");
            return no_node;
        }
        Node member;
        member.operation = Operation::member;
        member.first = made;
        member.index = keep_text(here().spelling);
        ++at_;
        made = add(member, begin);
    }
    return made;
}

}  // namespace packproof::language
