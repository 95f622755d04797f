#include <fmt/format.h>

#include <algorithm>

#include "engine/report/markdown_text.hpp"
#include "engine/serve/cursor.hpp"
#include "engine/serve/features.hpp"
#include "engine/serve/field_words.hpp"
#include "engine/serve/rule_scope.hpp"
#include "engine/serve/rule_words.hpp"
#include "engine/text/safe_print.hpp"

namespace packproof::serve {

namespace {

using report::markdown_text;
using rules::RuleSet;

std::string rule_markdown(const rules::Rule& rule, const RuleSet& set) {
    std::string words =
        fmt::format("**{}** ({}): {}\n\n{}\n", markdown_text(rule.name), rules::class_name(rule.rule_class),
                    markdown_text(rule.asks), markdown_text(rule.because));
    std::vector<std::string> demands;
    for (const auto& application : rule.applications) {
        const std::string one =
            fmt::format("{}: {}", set.vocabulary.kinds[application.kind].name, application.demands.text);
        if (std::find(demands.begin(), demands.end(), one) == demands.end()) demands.push_back(one);
    }
    for (const std::string& one : demands)
        words += fmt::format("\n- of {}", markdown_text(one));
    for (const auto& authority : rule.basis)
        words += fmt::format("\n- basis: {}", markdown_text(rules::print_authority(authority)));
    return words;
}

std::string table_markdown(const rules::Table& table) {
    std::string words =
        fmt::format("**{}**, table: {}\n", markdown_text(table.name), markdown_text(table.about));
    for (const auto& key : table.keys)
        words += fmt::format("\n- key {}", markdown_text(key.name + " " + key.unit.symbol));
    for (const auto& column : table.columns)
        words += fmt::format("\n- column {}", markdown_text(column.name + " " + column.unit.symbol));
    for (const auto& block : table.blocks)
        for (const auto& authority : block.basis)
            words += fmt::format("\n- basis: {}", markdown_text(rules::print_authority(authority)));
    return words;
}

std::string quantity_markdown(const rules::QuantityDefinition& quantity, const RuleSet& set) {
    std::string words =
        fmt::format("**{}** of {}, derived: {}\n", markdown_text(quantity.name),
                    markdown_text(set.vocabulary.kinds[quantity.kind].name), markdown_text(quantity.about));
    if (!quantity.unit.symbol.empty()) words += fmt::format("\n- in {}", markdown_text(quantity.unit.symbol));
    if (!quantity.value.text.empty()) words += fmt::format("\n- = {}", markdown_text(quantity.value.text));
    for (const auto& authority : quantity.basis)
        words += fmt::format("\n- basis: {}", markdown_text(rules::print_authority(authority)));
    return words;
}

std::string named_markdown(const Named& named, const RuleSet& set) {
    std::string words;
    const auto add = [&words](const std::string& more) { words += (words.empty() ? "" : "\n\n") + more; };
    for (const auto& [kind, field] : named.fields)
        add(field_markdown(set.vocabulary.kinds[kind], set.vocabulary.kinds[kind].fields[field],
                           set.vocabulary));
    for (const std::size_t quantity : named.quantities)
        add(quantity_markdown(set.quantities[quantity], set));
    if (named.table) add(table_markdown(set.tables[*named.table]));
    if (named.kind) {
        const auto& kind = set.vocabulary.kinds[*named.kind];
        add(fmt::format("**{}**: {}", markdown_text(kind.name), markdown_text(kind.about)));
    }
    if (!words.empty()) return words;
    for (const FunctionWord& function : function_words())
        if (function.name == named.word)
            return fmt::format("**{}**: {}", markdown_text(function.use), markdown_text(function.about));
    return {};
}

std::string key_markdown(const std::string& table, const std::string& key) {
    for (const KeyWord& word : key_words())
        if (word.table == table && word.key == key)
            return fmt::format("**{}**: {}", markdown_text(key), markdown_text(word.about));
    return {};
}

std::string header_markdown(const std::vector<std::string>& path, const RuleSet& set) {
    if (path.size() < 2) return key_markdown("", path.empty() ? "" : path[0]);
    if (path[0] == "rule" || path[0] == "change") {
        const rules::Rule* rule = set.rule(path[1]);
        return rule != nullptr ? rule_markdown(*rule, set) : "";
    }
    if (path[0] == "quantity" && path.size() > 2)
        for (const auto& quantity : set.quantities)
            if (quantity.name == path[2] && set.vocabulary.kinds[quantity.kind].name == path[1])
                return quantity_markdown(quantity, set);
    if (path[0] == "kind" || path[0] == "quantity")
        if (const auto kind = set.vocabulary.kind(path[1]))
            return fmt::format("**{}**: {}", markdown_text(path[1]),
                               markdown_text(set.vocabulary.kinds[*kind].about));
    if (path[0] == "table")
        for (const auto& table : set.tables)
            if (table.name == path[1]) return table_markdown(table);
    return {};
}

class List {
  public:
    List(std::string_view bytes, Encoding encoding) : bytes_(bytes), encoding_(encoding) {}

    void place(std::uint32_t begin, std::uint32_t end, bool in_quotes) {
        extent_ = extent_of(bytes_, begin, end, encoding_);
        quote_ = in_quotes ? "" : "\"";
    }
    void word(std::string_view label, std::string_view detail, Suggestion::Kind kind) {
        if (!seen(label))
            all.push_back(
                {text::safe_print(label), text::safe_print(detail), kind, extent_, std::string(label)});
    }
    void text(std::string_view label, std::string_view detail, Suggestion::Kind kind) {
        if (!seen(label))
            all.push_back({text::safe_print(label), text::safe_print(detail), kind, extent_,
                           fmt::format("{}{}{}", quote_, label, quote_)});
    }

    std::vector<Suggestion> all;

  private:
    [[nodiscard]] bool seen(std::string_view label) const {
        return std::any_of(all.begin(), all.end(), [&](const Suggestion& one) { return one.label == label; });
    }

    std::string_view bytes_;
    Encoding encoding_;
    Extent extent_;
    std::string_view quote_;
};

void add_header(const std::vector<std::string>& path, const RuleSet& set, List& list) {
    if (path.size() <= 1) {
        for (const KeyWord& word : key_words())
            if (word.table.empty()) list.word(word.key, word.about, Suggestion::Kind::name);
    } else if (path.size() == 2 && (path[0] == "kind" || path[0] == "quantity")) {
        for (const auto& kind : set.vocabulary.kinds)
            list.word(kind.name, kind.about, Suggestion::Kind::name);
    } else if (path.size() == 2 && (path[0] == "change" || path[0] == "rule")) {
        for (const auto& rule : set.rules)
            list.word(rule.name, rule.asks, Suggestion::Kind::name);
    } else if (path.size() == 2 && path[0] == "table") {
        for (const auto& table : set.tables)
            list.word(table.name, table.about, Suggestion::Kind::name);
    }
}

void add_values(const Cursor& cursor, const RuleSet& set, List& list) {
    using Kind = Suggestion::Kind;
    list.place(cursor.begin, cursor.end, cursor.quoted);
    const std::string& key = cursor.path.back();
    const auto words = [&list](std::initializer_list<std::string_view> all) {
        for (const std::string_view word : all)
            list.text(word, "", Kind::choice);
    };
    if (key == "class") words({"critical", "major", "minor", "observation"});
    if (key == "verdict") words({"conforms", "fails", "undecided", "not stated", "not applicable"});
    if (key == "status") words({"checked", "recalled", "common practice", "computed"});
    if (key == "form")
        words({"quantity", "range", "count", "truth", "text", "choice", "date", "reference", "references"});
    if (key == "take") words({"exact", "next larger", "next smaller", "interpolate"});
    if (key == "role") words({"plain", "document", "claim", "concession", "measurement", "instrument"});
    if (key == "answered_by") words({"supplier", "bench", "builder"});
    if (key == "gives") words({"truth", "text", "range", "item", "items"});
    if (key == "of" || key == "kinds")
        for (const auto& kind : set.vocabulary.kinds)
            list.text(kind.name, kind.about, Kind::name);
    if (key == "caution")
        for (const auto& caution : set.cautions)
            list.text(caution.name, caution.text, Kind::name);
    if (key == "unit")
        for (const std::string_view unit : units::known_units())
            list.text(unit, "unit", Kind::unit);
}

void add_names(const Scope& scope, const RuleSet& set, List& list) {
    using Kind = Suggestion::Kind;
    list.place(scope.begin, scope.end, true);
    if (scope.table) {
        for (const auto& column : set.tables[*scope.table].columns)
            list.word(column.name, "column " + column.unit.symbol, Kind::field);
        return;
    }
    if (scope.wants_table) {
        for (const auto& table : set.tables)
            list.word(table.name, table.about, Kind::name);
        return;
    }
    for (const auto kind : scope.kinds) {
        for (const auto& field : set.vocabulary.kinds[kind].fields)
            list.word(field.name, field.about, Kind::field);
        for (const auto& quantity : set.quantities)
            if (quantity.kind == kind) list.word(quantity.name, "derived: " + quantity.about, Kind::field);
    }
    if (scope.after_dot) return;
    for (const auto& kind : set.vocabulary.kinds)
        if (kind.single) list.word(kind.name, kind.about, Kind::name);
    for (const FunctionWord& function : function_words())
        list.word(function.name, fmt::format("{}: {}", function.use, function.about), Kind::name);
}

}  // namespace

std::optional<Hover> hover_rules(const Asked& asked, Workspace& workspace) {
    const RuleSet& set = workspace.rules_of(&asked.text).set;
    const Cursor cursor = cursor_at(asked.text.text, asked.offset);
    Hover hover;
    hover.extent = extent_of(asked.text.text, cursor.begin, cursor.end, workspace.encoding());
    if (cursor.where == Cursor::Where::header) {
        hover.markdown = header_markdown(cursor.path, set);
    } else if (cursor.where == Cursor::Where::key) {
        hover.markdown = key_markdown(table_of(cursor.path), cursor.path.back());
    } else if (const auto scope = scope_at(asked.text.text, asked.offset, cursor, set)) {
        hover.extent = extent_of(asked.text.text, scope->begin, scope->end, workspace.encoding());
        hover.markdown = named_markdown(named_by(*scope, set), set);
    } else if (cursor.quoted) {
        const auto kind =
            set.vocabulary.kind(asked.text.text.substr(cursor.begin, cursor.end - cursor.begin));
        if (kind)
            hover.markdown = fmt::format("**{}**: {}", markdown_text(set.vocabulary.kinds[*kind].name),
                                         markdown_text(set.vocabulary.kinds[*kind].about));
    }
    if (hover.markdown.empty()) return std::nullopt;
    return hover;
}

std::vector<Suggestion> complete_rules(const Asked& asked, Workspace& workspace) {
    const RuleSet& set = workspace.rules_of(&asked.text).set;
    const Cursor cursor = cursor_at(asked.text.text, asked.offset);
    List list(asked.text.text, workspace.encoding());
    list.place(cursor.begin, cursor.end, true);
    if (cursor.where == Cursor::Where::header) {
        add_header(cursor.path, set, list);
    } else if (cursor.where == Cursor::Where::key) {
        const std::string table = table_of(cursor.path);
        for (const KeyWord& word : key_words())
            if (word.table == table) list.word(word.key, word.about, Suggestion::Kind::field);
    } else if (const auto scope = scope_at(asked.text.text, asked.offset, cursor, set)) {
        add_names(*scope, set, list);
    } else {
        add_values(cursor, set, list);
    }
    return std::move(list.all);
}

std::optional<Location> define_rules(const Asked& asked, Workspace& workspace) {
    const RuleTexts& texts = workspace.rules_of(&asked.text);
    const RuleSet& set = texts.set;
    const Telling telling{texts.read, workspace.encoding()};
    const Cursor cursor = cursor_at(asked.text.text, asked.offset);
    if (cursor.where == Cursor::Where::header && cursor.path.size() > 1 && cursor.path[0] == "change") {
        const rules::Rule* rule = set.rule(cursor.path[1]);
        return rule != nullptr ? telling.location(rule->span) : std::nullopt;
    }
    if (cursor.where != Cursor::Where::value) return std::nullopt;
    const auto scope = scope_at(asked.text.text, asked.offset, cursor, set);
    if (!scope) {
        const auto kind =
            set.vocabulary.kind(asked.text.text.substr(cursor.begin, cursor.end - cursor.begin));
        return kind ? telling.location(set.vocabulary.kinds[*kind].span) : std::nullopt;
    }
    const Named named = named_by(*scope, set);
    for (const std::size_t quantity : named.quantities)
        if (auto at = telling.location(set.quantities[quantity].span)) return at;
    for (const auto& [kind, field] : named.fields)
        if (auto at = telling.location(set.vocabulary.kinds[kind].fields[field].span)) return at;
    if (named.table)
        if (auto at = telling.location(set.tables[*named.table].span)) return at;
    if (named.kind) return telling.location(set.vocabulary.kinds[*named.kind].span);
    return std::nullopt;
}

}  // namespace packproof::serve
