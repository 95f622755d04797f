// Worksheets from rule files; a team adds lines to one that exists.
#include <fmt/core.h>

#include <algorithm>
#include <array>

#include "engine/rules/entry.hpp"
#include "engine/rules/reading.hpp"
#include "engine/text/nearest_name.hpp"
#include "engine/text/safe_print.hpp"

namespace packproof::rules {

using document::Node;
using model::Type;

namespace {

constexpr std::string_view number_blank = "number";

Type truth_type() {
    Type truth;
    truth.kind = Type::Kind::truth;
    return truth;
}

/// Of any type.
language::Expression compile_any(const Node* node, model::KindIndex kind, const language::Names& names,
                                 Reading& reading) {
    if (node == nullptr) return {};
    if (node->is_string()) return compile(*node, kind, names, reading);
    reading.messages.error(node->span, fmt::format("`{}` must be an expression in quotes", node->key));
    return {};
}

std::optional<FoundIn> read_found_in(const Node& node, const language::Names& names, Reading& reading) {
    Entry entry(node, "`found_in`", reading.messages);
    FoundIn found;
    const std::string kind = entry.text("of", true);
    const Node* number = entry.take("number");
    const Node* value = entry.take("value");
    entry.finish();
    const auto index = reading.set.vocabulary.kind(kind);
    if (!index) {
        if (!kind.empty())
            entry.error(*node.find("of"), fmt::format("unknown kind \"{}\"", text::safe_print(kind)));
        return std::nullopt;
    }
    if (number == nullptr || value == nullptr) {
        entry.error(node, "`found_in` needs `of`, `number` and `value`");
        return std::nullopt;
    }
    found.kind = *index;
    found.number = compile_as(number, number_in(""), *index, names, reading);
    found.value = compile_any(value, *index, names, reading);
    return found;
}

SheetLayout read_layout(Entry& entry) {
    static constexpr std::array<std::string_view, 4> names{"list", "flow", "table", "beside"};
    const std::string written = entry.text("layout");
    if (written.empty()) return SheetLayout::list;
    const auto* found = std::find(names.begin(), names.end(), written);
    if (found != names.end()) return static_cast<SheetLayout>(found - names.begin());
    entry.error(*entry.node().find("layout"), "`layout` is one of list, flow, table, beside");
    return SheetLayout::list;
}

void read_line(const Node& node, Worksheet& sheet, const language::Names& names, Reading& reading) {
    Entry entry(node, fmt::format("a line of worksheet {}", text::safe_print(sheet.name)), reading.messages);
    const std::string kind_name = entry.text("of", true);
    const auto kind = reading.set.vocabulary.kind(kind_name);
    if (!kind) {
        std::vector<std::string_view> known;
        for (const model::Kind& one : reading.set.vocabulary.kinds)
            known.emplace_back(one.name);
        const std::string_view near = text::nearest_name(kind_name, known);
        if (!kind_name.empty())
            entry.error(*node.find("of"), fmt::format("unknown kind \"{}\"", text::safe_print(kind_name)),
                        near.empty() ? std::string{} : fmt::format("the nearest is \"{}\"", near));
        return;
    }
    WorksheetLine line;
    line.kind = *kind;
    line.when = compile_as(entry.take("when"), truth_type(), *kind, names, reading);
    line.by = compile_as(entry.take("by"), number_in(""), *kind, names, reading);
    line.times = compile_as(entry.take("times"), number_in(""), *kind, names, reading);
    line.does = read_wording(entry, "does", true, node.find("times") != nullptr, *kind, names, reading);
    line.detail = read_wording(entry, "detail", false, node.find("times") != nullptr, *kind, names, reading);
    line.brief = read_wording(entry, "brief", false, node.find("times") != nullptr, *kind, names, reading);
    line.expects = compile_any(entry.take("expects"), *kind, names, reading);
    line.adds_up = entry.truth("adds_up").value_or(false);
    line.found = compile_any(entry.take("found"), *kind, names, reading);
    line.good = compile_as(entry.take("good"), truth_type(), *kind, names, reading);
    line.hold = compile_as(entry.take("hold"), truth_type(), *kind, names, reading);
    line.stop = entry.text("stop");
    if (const Node* found = entry.take("found_in")) {
        if (found->is_table())
            line.found_in = read_found_in(*found, names, reading);
        else
            entry.error(*found, "`found_in` is a table: { of, number, value }");
        if (line.times.empty()) entry.error(*found, "`found_in` belongs to lines with `times`");
    }
    if (line.adds_up && (line.times.empty() || line.expects.empty()))
        entry.error(*node.find("adds_up"), "`adds_up` belongs to lines with `times` and `expects`");
    if (line.adds_up && !line.expects.empty() && line.expects.type().kind != Type::Kind::number)
        entry.error(*node.find("adds_up"), "only a number adds up");
    const language::Expression* found = line.found_in ? &line.found_in->value : &line.found;
    if (!found->empty() && !line.expects.empty() && found->type().kind == Type::Kind::number &&
        (line.expects.type().kind == Type::Kind::number || line.expects.type().kind == Type::Kind::range) &&
        found->type().dimension != line.expects.type().dimension)
        entry.error(node, "what is found is of another unit than what is expected");
    entry.finish();
    sheet.lines.push_back(std::move(line));
}

}  // namespace

Wording read_wording(Entry& entry, std::string_view key, bool required, bool numbered, model::KindIndex kind,
                     const language::Names& names, Reading& reading) {
    Wording wording;
    const std::string text = entry.text(key, required);
    if (text.empty()) return wording;
    std::size_t from = 0;
    for (std::size_t at = text.find('{'); at != std::string::npos; at = text.find('{', from)) {
        const std::size_t end = text.find('}', at);
        if (end == std::string::npos) {
            entry.error(*entry.node().find(key), "a brace is opened and not closed");
            return wording;
        }
        wording.words.push_back(text.substr(from, at - from));
        const std::string blank = text.substr(at + 1, end - at - 1);
        from = end + 1;
        if (numbered && blank == number_blank) {
            wording.blanks.emplace_back();
            continue;
        }
        Node inside = *entry.node().find(key);
        inside.text = blank;
        wording.blanks.push_back(compile(inside, kind, names, reading));
    }
    wording.words.push_back(text.substr(from));
    return wording;
}

void read_worksheets(Reading& reading) {
    const NameLists lists = name_lists(reading.set);
    const language::Names names = lists.names(reading.set.vocabulary);
    for (const Node* node : members(reading, "worksheet")) {
        Entry entry(*node, fmt::format("worksheet {}", text::safe_print(node->key)), reading.messages);
        auto& sheets = reading.set.worksheets;
        const auto known = std::find_if(sheets.begin(), sheets.end(),
                                        [&](const Worksheet& one) { return one.name == node->key; });
        const bool is_new = known == sheets.end();
        Worksheet* sheet = is_new ? &sheets.emplace_back() : &*known;
        if (is_new) {
            sheet->name = node->key;
            sheet->title = entry.text("title", true);
            sheet->about = entry.text("about");
            sheet->layout = read_layout(entry);
            sheet->brief = entry.text("brief");
            sheet->basis = entry.authorities("basis", true);
            if (const Node* place = entry.take("place")) {
                if (place->kind == Node::Kind::integer)
                    sheet->place = static_cast<int>(std::clamp<std::int64_t>(place->integer, -1000, 1000));
                else
                    entry.error(*place, "`place` is a whole number");
            }
        }
        if (const Node* written = entry.take("line")) {
            if (!written->is_array())
                entry.error(*written, "lines stand in [[worksheet." + node->key + ".line]]");
            else
                for (const Node& line : written->children)
                    read_line(line, *sheet, names, reading);
        }
        entry.finish();
    }
    std::stable_sort(reading.set.worksheets.begin(), reading.set.worksheets.end(),
                     [](const Worksheet& a, const Worksheet& b) { return a.place < b.place; });
}

}  // namespace packproof::rules
