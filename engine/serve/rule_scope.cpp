#include "engine/serve/rule_scope.hpp"

#include <algorithm>
#include <array>

#include "engine/document/statement.hpp"

namespace packproof::serve {

namespace {

using model::KindIndex;
using rules::RuleSet;

bool in_name(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_';
}

void add_kind(KindIndex kind, std::vector<KindIndex>& kinds) {
    if (std::find(kinds.begin(), kinds.end(), kind) == kinds.end()) kinds.push_back(kind);
}

// Every kind named on the line `of = ...` below a header.
std::vector<KindIndex> kinds_stated(std::string_view bytes, const std::vector<std::string>& header,
                                    const RuleSet& set) {
    std::vector<KindIndex> kinds;
    bool here = false;
    for (std::size_t at = 0; at < bytes.size(); at = document::next_line(bytes, at)) {
        const std::string_view line = document::trimmed(document::line_from(bytes, at));
        if (line.starts_with('[')) {
            const auto headers = headers_of(line);
            here = !headers.empty() && headers.front().path == header;
            continue;
        }
        const std::size_t equals = line.find('=');
        if (!here || equals == std::string_view::npos || document::trimmed(line.substr(0, equals)) != "of")
            continue;
        for (std::size_t open = line.find('"', equals); open != std::string_view::npos;) {
            const std::size_t close = line.find('"', open + 1);
            if (close == std::string_view::npos) break;
            if (const auto kind = set.vocabulary.kind(line.substr(open + 1, close - open - 1)))
                add_kind(*kind, kinds);
            open = line.find('"', close + 1);
        }
    }
    return kinds;
}

std::vector<KindIndex> kinds_at_hand(std::string_view bytes, const std::vector<std::string>& path,
                                     const RuleSet& set) {
    if (path[0] == "quantity" && path.size() > 1) {
        const auto kind = set.vocabulary.kind(path[1]);
        return kind ? std::vector<KindIndex>{*kind} : std::vector<KindIndex>{};
    }
    for (std::size_t length = path.size() - 1; length >= 2; --length) {
        auto kinds = kinds_stated(bytes, {path.begin(), path.begin() + static_cast<long>(length)}, set);
        if (!kinds.empty()) return kinds;
    }
    return {};
}

bool is_expression(const std::vector<std::string>& path) {
    static constexpr std::array<std::string_view, 16> of_lines{
        "when", "by", "times", "expects", "found",      "good",    "hold",    "value",
        "from", "to", "opens", "length",  "resistance", "voltage", "current", "same_ends_as"};
    const std::string& key = path.back();
    if (path[0] == "rule" && path.size() == 3)
        return key == "when" || key == "demands" || key == "clears" || key == "shows";
    if (path[0] == "quantity") return path.size() == 4 && key == "value";
    if (path[0] == "solver") return path.size() > 3 && key != "list" && key != "of" && key != "part_of";
    if (path[0] == "worksheet" || path[0] == "network")
        return std::find(of_lines.begin(), of_lines.end(), key) != of_lines.end();
    return false;
}

// Kinds that a member of these kinds may refer to.
std::vector<KindIndex> through(const std::vector<KindIndex>& kinds, std::string_view name,
                               const RuleSet& set) {
    std::vector<KindIndex> result;
    for (const KindIndex kind : kinds) {
        if (const auto field = set.vocabulary.kinds[kind].field(name))
            for (const KindIndex to : set.vocabulary.kinds[kind].fields[*field].kinds)
                add_kind(to, result);
        for (const auto& quantity : set.quantities)
            if (quantity.kind == kind && quantity.name == name)
                for (const KindIndex to : quantity.type.kinds)
                    add_kind(to, result);
    }
    return result;
}

std::optional<std::size_t> table_named(std::string_view name, const RuleSet& set) {
    for (std::size_t i = 0; i < set.tables.size(); ++i)
        if (set.tables[i].name == name) return i;
    return std::nullopt;
}

// The kinds of a variable bound by "... KIND as NAME" or "... LIST as NAME" before the cursor.
std::vector<KindIndex> bound(std::string_view before, std::string_view name,
                             const std::vector<KindIndex>& at_hand, const RuleSet& set) {
    const std::string binding = " as " + std::string(name);
    const std::size_t at = before.find(binding);
    if (at == std::string_view::npos) return {};
    std::size_t begin = at;
    while (begin > 0 && in_name(before[begin - 1]))
        --begin;
    const std::string_view list = before.substr(begin, at - begin);
    if (const auto kind = set.vocabulary.kind(list)) return {*kind};
    return through(at_hand, list, set);
}

}  // namespace

std::optional<Scope> scope_at(std::string_view bytes, std::uint32_t offset, const Cursor& cursor,
                              const RuleSet& set) {
    if (cursor.where != Cursor::Where::value || !cursor.quoted || !is_expression(cursor.path))
        return std::nullopt;
    Scope scope;
    scope.begin = scope.end = offset;
    while (scope.begin > cursor.begin && in_name(bytes[scope.begin - 1]))
        --scope.begin;
    while (scope.end < cursor.end && in_name(bytes[scope.end]))
        ++scope.end;
    scope.word = bytes.substr(scope.begin, scope.end - scope.begin);
    std::vector<std::string> chain;  // the names before the word, the nearest last
    std::uint32_t at = scope.begin;
    while (at > cursor.begin && bytes[at - 1] == '.') {
        std::uint32_t begin = at - 1;
        while (begin > cursor.begin && in_name(bytes[begin - 1]))
            --begin;
        chain.emplace(chain.begin(), bytes.substr(begin, at - 1 - begin));
        at = begin;
    }
    const std::string_view before = bytes.substr(cursor.begin, at - cursor.begin);
    const bool looks_up = before.ends_with("lookup(");
    const auto at_hand = kinds_at_hand(bytes, cursor.path, set);
    scope.after_dot = !chain.empty();
    scope.kinds = at_hand;
    if (looks_up || before.ends_with("next_up(") || before.ends_with("next_down(")) {
        scope.wants_table = chain.empty();
        if (chain.size() == 1) scope.table = table_named(chain.front(), set);
        return scope;
    }
    for (std::size_t i = 0; i < chain.size(); ++i) {
        const std::string& name = chain[i];
        std::vector<KindIndex> next = i == 0 && name == "this" ? at_hand : through(scope.kinds, name, set);
        if (next.empty() && i == 0) next = bound(before, name, at_hand, set);
        const auto single = set.vocabulary.kind(name);
        if (next.empty() && i == 0 && single && set.vocabulary.kinds[*single].single) next = {*single};
        scope.kinds = std::move(next);
    }
    return scope;
}

Named named_by(const Scope& scope, const RuleSet& set) {
    Named named;
    named.word = scope.word;
    if (scope.table || scope.wants_table) {
        named.table = scope.table ? scope.table : table_named(scope.word, set);
        return named;
    }
    for (const KindIndex kind : scope.kinds) {
        if (const auto field = set.vocabulary.kinds[kind].field(scope.word))
            named.fields.emplace_back(kind, *field);
        for (std::size_t i = 0; i < set.quantities.size(); ++i)
            if (set.quantities[i].kind == kind && set.quantities[i].name == scope.word)
                named.quantities.push_back(i);
    }
    if (scope.after_dot || !named.fields.empty() || !named.quantities.empty()) return named;
    named.kind = set.vocabulary.kind(scope.word);
    return named;
}

std::string table_of(const std::vector<std::string>& path) {
    if (path.size() < 2) return "";
    for (std::size_t i = 0; i + 1 < path.size(); ++i)
        if (path[i] == "basis" || path[i] == "assume_basis") return "basis";
    if (path[0] == "rule" && path.size() > 3 && path[2] == "example") return "rule.example";
    if (path[0] == "kind" && path.size() > 3 && path[2] == "field")
        return path.size() > 4 ? "kind.field" : "";
    return path[0];
}

}  // namespace packproof::serve
