#include <fmt/core.h>

#include <algorithm>

#include "engine/language/functions.hpp"
#include "engine/language/parser.hpp"
#include "engine/text/nearest_name.hpp"

namespace packproof::language {
namespace {

std::string_view nearest_function(std::string_view word) {
    std::vector<std::string_view> names;
    for (const FunctionForm& form : functions())
        if (form.takes != FunctionForm::Takes::nothing) names.push_back(form.name);
    return text::nearest_name(word, names);
}

}  // namespace

std::uint32_t Parser::keep_text(std::string_view text) {
    tree_.texts.emplace_back(text);
    return static_cast<std::uint32_t>(tree_.texts.size() - 1);
}

void Parser::keep_arguments(Node& made, const std::vector<NodeIndex>& arguments) {
    made.list_begin = static_cast<std::uint32_t>(tree_.arguments.size());
    tree_.arguments.insert(tree_.arguments.end(), arguments.begin(), arguments.end());
    made.list_end = static_cast<std::uint32_t>(tree_.arguments.size());
}

NodeIndex Parser::leaf(Operation operation, std::uint32_t index, double number) {
    Node made;
    made.operation = operation;
    made.index = index;
    made.number = number;
    const std::size_t begin = here().begin;
    ++at_;
    return add(made, begin);
}

NodeIndex Parser::primary() {
    if (failed_) return no_node;
    switch (here().kind) {
        case Token::Kind::number:
            return number_literal(here().begin);
        case Token::Kind::text:
            return leaf(Operation::text, keep_text(unquote(here().spelling)));
        case Token::Kind::word:
            return word();
        case Token::Kind::sign:
            if (here().is("(")) return bracket();
            break;
        case Token::Kind::end:
            break;
    }
    unexpected("a value");
    return no_node;
}

NodeIndex Parser::number_literal(std::size_t begin) {
    const Token token = here();
    Node made;
    made.operation = Operation::number;
    made.number = token.number;
    made.index = static_cast<std::uint32_t>(tree_.literal_units.size());
    tree_.literal_units.push_back(token.unit);
    if (begin != token.begin) {
        const std::string_view spelling = std::string_view(tree_.text).substr(begin, token.end - begin);
        made.number = token.unit.symbol.empty()
                          ? -token.number
                          : literal_value(spelling, token.unit, absolute_by_default(token.unit));
    }
    ++at_;
    return add(made, begin);
}

NodeIndex Parser::bracket() {
    const std::size_t begin = here().begin;
    ++at_;
    const NodeIndex inner = expression();
    if (!expect(")", fmt::format("the bracket opens at byte {}", begin + 1))) return no_node;
    return inner;
}

NodeIndex Parser::word() {
    const Token& token = here();
    if (token.is("true")) return leaf(Operation::truth, 0, 1.0);
    if (token.is("false")) return leaf(Operation::truth, 0, 0.0);
    if (token.is("this")) return leaf(Operation::this_item, 0);
    if (is_reserved(token.spelling)) {
        unexpected("a value");
        return no_node;
    }
    if (next().is("(")) return called();
    for (std::size_t slot = scope_.size(); slot-- > 0;)
        if (scope_[slot] == token.spelling)
            return leaf(Operation::variable, static_cast<std::uint32_t>(slot));
    return name();
}

/// A bare name hangs on the item at hand, until the checker finds that it names a kind.
NodeIndex Parser::name() {
    const std::size_t begin = here().begin;
    if (here().is("pi")) return leaf(Operation::pi, 0);
    Node made;
    made.operation = Operation::name;
    made.index = keep_text(here().spelling);
    ++at_;
    Node item;
    item.operation = Operation::this_item;
    made.first = add(item, begin);
    return add(made, begin);
}

/// A name that stands for no value of an item: a table, a column, a series.
NodeIndex Parser::plain_name() {
    if (failed_) return no_node;
    if (here().kind != Token::Kind::word) {
        unexpected("a name");
        return no_node;
    }
    return leaf(Operation::name, keep_text(here().spelling));
}

NodeIndex Parser::called() {
    const Token token = here();
    if (token.is("lookup")) return lookup();
    if (token.is("next_up")) return next_entry(Operation::next_up);
    if (token.is("next_down")) return next_entry(Operation::next_down);
    const FunctionForm* function = find_function(token.spelling, FunctionForm::Takes::values);
    const FunctionForm* fold_named = find_function(token.spelling, FunctionForm::Takes::members);
    if (function == nullptr && fold_named == nullptr) {
        const std::string_view nearest = nearest_function(token.spelling);
        fail(token.begin, token.end, fmt::format("unknown function '{}'", token.spelling),
             nearest.empty() ? std::string{} : fmt::format("nearest is '{}'", nearest));
        return no_node;
    }
    at_ += 2;
    if (here().is(")")) {
        fail(token.begin, here().end, fmt::format("{} is given nothing", token.spelling));
        return no_node;
    }
    const NodeIndex first = expression();
    if (fold_named != nullptr && accept("as"))
        return fold(static_cast<Fold>(fold_named->index), first, token.begin);
    if (function != nullptr) return call(static_cast<Function>(function->index), first, token.begin);
    unexpected("'as' and a name for each item",
               fmt::format("for example {}(KIND as x where CONDITION)", token.spelling));
    return no_node;
}

NodeIndex Parser::lookup() {
    const std::size_t begin = here().begin;
    at_ += 2;
    Node made;
    made.operation = Operation::lookup;
    made.first = plain_name();
    if (!expect(".", "a lookup begins with table.column")) return no_node;
    made.second = plain_name();
    std::vector<NodeIndex> keys;
    while (accept(","))
        keys.push_back(expression());
    if (!expect(")")) return no_node;
    keep_arguments(made, keys);
    return add(made, begin);
}

NodeIndex Parser::next_entry(Operation operation) {
    const std::size_t begin = here().begin;
    at_ += 2;
    Node made;
    made.operation = operation;
    made.second = plain_name();
    if (!expect(",")) return no_node;
    made.first = expression();
    if (!expect(")")) return no_node;
    return add(made, begin);
}

NodeIndex Parser::fold(Fold fold, NodeIndex collection, std::size_t begin) {
    const Token variable = here();
    if (variable.kind != Token::Kind::word || is_reserved(variable.spelling)) {
        unexpected("a name for each item");
        return no_node;
    }
    if (std::find(scope_.begin(), scope_.end(), variable.spelling) != scope_.end()) {
        fail(variable.begin, variable.end,
             fmt::format("the name '{}' is already bound outside", variable.spelling));
        return no_node;
    }
    if (scope_.size() == most_nested_folds) {
        fail(begin, variable.end,
             fmt::format("more than {} of these stand inside one another", most_nested_folds));
        return no_node;
    }
    ++at_;
    Node made;
    made.operation = Operation::fold;
    made.index = static_cast<std::uint32_t>(fold);
    made.first = collection;
    made.variable = static_cast<std::uint16_t>(scope_.size());
    scope_.push_back(variable.spelling);
    tree_.variables = std::max(tree_.variables, static_cast<std::uint16_t>(scope_.size()));
    if (accept("where")) made.second = expression();
    if (accept(":")) made.third = expression();
    scope_.pop_back();
    const bool takes_body = fold != Fold::count && fold != Fold::the;
    const bool needs_body = takes_body && fold != Fold::those;
    if (!failed_ && needs_body && made.third == no_node) unexpected("':' and what to take of each item");
    if (!failed_ && !takes_body && made.third != no_node)
        fail(begin, last_end(), "count and the take no ':' part", "conditions stand after 'where'");
    if (!expect(")")) return no_node;
    return add(made, begin);
}

NodeIndex Parser::call(Function function, NodeIndex first, std::size_t begin) {
    std::vector<NodeIndex> arguments{first};
    while (accept(","))
        arguments.push_back(expression());
    if (!expect(")")) return no_node;
    Node made;
    made.operation = Operation::call;
    made.index = static_cast<std::uint32_t>(function);
    keep_arguments(made, arguments);
    return add(made, begin);
}

}  // namespace packproof::language
