// Tables from rule files: keys, columns, rows of one source or blocks of several.
#include <fmt/core.h>

#include <algorithm>

#include "engine/rules/entry.hpp"
#include "engine/rules/reading.hpp"
#include "engine/text/nearest_name.hpp"
#include "engine/text/safe_print.hpp"
#include "engine/units/read_quantity.hpp"

namespace packproof::rules {

using document::Node;

namespace {

std::optional<Take> read_take(std::string_view name) {
    if (name == "exact") return Take::exact;
    if (name == "next larger") return Take::next_larger;
    if (name == "next smaller") return Take::next_smaller;
    if (name == "interpolate") return Take::interpolate;
    return std::nullopt;
}

TableKey read_key(const Node& node, const std::string& what, Reading& reading) {
    Entry entry(node, "a key of " + what, reading.messages);
    TableKey key;
    key.name = entry.text("name", true);
    const std::string form = entry.text("form");
    key.is_text = form == "text";
    if (!form.empty() && !key.is_text)
        entry.error(*node.find("form"), "the form of a key is \"text\" or not given");
    key.unit = entry.unit("unit");
    key.absolute = entry.truth("temperature").value_or(false);
    const std::string take = entry.text("take");
    if (!take.empty()) {
        if (const auto read = read_take(take)) {
            key.take = *read;
        } else {
            entry.error(*node.find("take"), fmt::format("unknown direction \"{}\"", text::safe_print(take)),
                        "one of \"exact\", \"next larger\", \"next smaller\", \"interpolate\"");
        }
    }
    const std::string beyond = entry.text("beyond");
    if (beyond == "last") {
        key.beyond_last = true;
    } else if (!beyond.empty()) {
        entry.error(*node.find("beyond"), "`beyond` can only be \"last\"");
    }
    if (key.is_text && key.take != Take::exact) entry.error(node, "a text key can only be taken exactly");
    if (key.beyond_last && key.take != Take::next_smaller)
        entry.error(node, "only a key taken \"next smaller\" may go beyond the last row");
    entry.finish();
    return key;
}

TableColumn read_column(const Node& node, const std::string& what, Reading& reading) {
    Entry entry(node, "a column of " + what, reading.messages);
    TableColumn column;
    column.name = entry.text("name", true);
    column.is_text = entry.text("form") == "text";
    column.unit = entry.unit("unit");
    column.absolute = entry.truth("temperature").value_or(false);
    entry.finish();
    return column;
}

/// How a cell is to be read: as the key or the column above it says.
struct CellForm {
    bool is_text = false;
    const units::Unit* unit = nullptr;
    bool absolute = false;
};

Cell read_cell(const Node& node, const CellForm& form, Reading& reading) {
    Cell cell;
    if (node.is_string() && node.text == "none") {
        cell.none = true;
    } else if (form.is_text) {
        if (!node.is_string()) reading.messages.error(node.span, "text is due here");
        cell.text = node.text;
    } else if (node.kind == Node::Kind::integer || node.kind == Node::Kind::real) {
        const double written =
            node.kind == Node::Kind::integer ? static_cast<double>(node.integer) : node.real;
        // Read as text would be, so that 0.3 mm in a table and "0.3 mm" in a description are the same number.
        const std::string as_text = fmt::format("{} {}", written, form.unit->symbol);
        auto read = units::read_quantity(as_text, {form.unit->dimension, form.absolute, false});
        if (const auto* quantity = std::get_if<units::Quantity>(&read)) {
            cell.number = quantity->nominal;
        } else {
            reading.messages.error(node.span, std::get<units::ReadError>(read).text);
        }
    } else if (node.is_string()) {
        auto read = units::read_quantity(node.text, {form.unit->dimension, form.absolute, false});
        if (const auto* quantity = std::get_if<units::Quantity>(&read)) {
            cell.number = quantity->nominal;
            cell.gauge = quantity->unit.gauge;
            if (!quantity->range.is_point())
                reading.messages.error(node.span, "a table holds values without tolerance");
        } else {
            const auto& problem = std::get<units::ReadError>(read);
            reading.messages.error(document::span_inside(reading.sources, node, problem.begin, problem.end),
                                   problem.text, problem.hint);
        }
    } else {
        reading.messages.error(node.span, "a number, or text with a unit, is due here");
    }
    return cell;
}

/// -1, 0, 1 as the keys of a stand before, with or after those of b.
int compare_keys(const TableRow& a, const TableRow& b) {
    for (std::size_t k = 0; k < a.keys.size(); ++k) {
        if (const int order = a.keys[k].text.compare(b.keys[k].text); order != 0) return order < 0 ? -1 : 1;
        if (a.keys[k].number < b.keys[k].number) return -1;
        if (a.keys[k].number > b.keys[k].number) return 1;
    }
    return 0;
}

/// Rows of one block must ascend in their numbers; texts only group.
bool out_of_order(const TableRow& before, const TableRow& after) {
    for (std::size_t k = 0; k < before.keys.size(); ++k) {
        if (before.keys[k].text != after.keys[k].text) return false;
        if (before.keys[k].number < after.keys[k].number) return false;
        if (before.keys[k].number > after.keys[k].number) return true;
    }
    return true;
}

void read_rows(const Node* rows, const std::vector<std::optional<Cell>>& fixed, std::uint16_t block,
               Table& table, const std::string& what, Reading& reading) {
    if (rows == nullptr || !rows->is_array()) return;
    std::size_t due = table.columns.size();
    for (const auto& cell : fixed)
        if (!cell) ++due;
    std::optional<TableRow> before;
    for (const Node& node : rows->children) {
        const bool lone = due == 1 && !node.is_array();  // a series may list bare values
        if (!lone && (!node.is_array() || node.children.size() != due)) {
            reading.messages.error(node.span, fmt::format("a row of {} has {} values, {} are due", what,
                                                          node.is_array() ? node.children.size() : 1, due));
            continue;
        }
        TableRow row;
        row.block = block;
        std::size_t next = 0;
        auto take = [&]() -> const Node& { return lone ? node : node.children[next++]; };
        for (std::size_t k = 0; k < table.keys.size(); ++k) {
            const TableKey& key = table.keys[k];
            row.keys.push_back(fixed[k] ? *fixed[k]
                                        : read_cell(take(), {key.is_text, &key.unit, key.absolute}, reading));
        }
        for (const TableColumn& column : table.columns)
            row.columns.push_back(
                read_cell(take(), {column.is_text, &column.unit, column.absolute}, reading));
        if (before && out_of_order(*before, row))
            reading.messages.error(node.span, fmt::format("a row of {} repeats or is out of order", what),
                                   "rows ascend in their numeric keys, each key once");
        for (const TableRow& other : table.rows) {
            if (other.block == block || compare_keys(other, row) != 0) continue;
            reading.messages.error(node.span,
                                   fmt::format("another block of {} has a row with the same keys", what));
            break;
        }
        before = row;
        table.rows.push_back(std::move(row));
    }
}

void read_block(const Node& node, Table& table, const std::string& what, Reading& reading) {
    Entry entry(node, "a block of " + what, reading.messages);
    std::vector<std::optional<Cell>> fixed(table.keys.size());
    if (const Node* given = entry.take("for")) {
        for (const Node& member : given->children) {
            const auto key = std::find_if(table.keys.begin(), table.keys.end(),
                                          [&](const TableKey& k) { return k.name == member.key; });
            if (key == table.keys.end()) {
                reading.messages.error(place_of(member),
                                       fmt::format("{} has no key `{}`", what, text::safe_print(member.key)));
                continue;
            }
            fixed[static_cast<std::size_t>(key - table.keys.begin())] =
                read_cell(member, {key->is_text, &key->unit, key->absolute}, reading);
        }
    }
    const auto number = static_cast<std::uint16_t>(table.blocks.size());
    table.blocks.push_back({entry.authorities("basis", true)});
    const Node* rows = entry.take("rows");
    if (rows == nullptr) entry.error(node, fmt::format("a block of {} has no rows", what));
    read_rows(rows, fixed, number, table, what, reading);
    entry.finish();
}

void read_table(const Node& node, Reading& reading) {
    const std::string what = fmt::format("table {}", text::safe_print(node.key));
    Entry entry(node, what, reading.messages);
    auto known = std::find_if(reading.set.tables.begin(), reading.set.tables.end(),
                              [&](const Table& t) { return t.name == node.key; });
    const Node* keys = entry.take("key");
    if (known == reading.set.tables.end()) {
        Table table;
        table.name = node.key;
        table.span = place_of(node);
        table.about = entry.text("about", true);
        if (keys == nullptr || !keys->is_array() || keys->children.empty()) {
            entry.error(node, fmt::format("{} has no keys", what),
                        "key = [{ name = \"...\", unit = \"...\" }]");
            return;
        }
        for (const Node& key : keys->children)
            table.keys.push_back(read_key(key, what, reading));
        if (const Node* columns = entry.take("column"))
            for (const Node& column : columns->children)
                table.columns.push_back(read_column(column, what, reading));
        reading.set.tables.push_back(std::move(table));
        known = reading.set.tables.end() - 1;
    } else if (keys != nullptr) {
        reading.messages.error(place_of(node), fmt::format("{} exists already", what),
                               "to add rows to it, write only [[table." + node.key + ".block]]");
        return;
    }
    const Node* rows = entry.take("rows");
    const bool has_basis = node.find("basis") != nullptr;
    if (rows != nullptr || has_basis) {
        const auto number = static_cast<std::uint16_t>(known->blocks.size());
        known->blocks.push_back({entry.authorities("basis", rows != nullptr)});
        read_rows(rows, std::vector<std::optional<Cell>>(known->keys.size()), number, *known, what, reading);
    } else {
        entry.take("basis");
    }
    if (const Node* blocks = entry.take("block"))
        for (const Node& block : blocks->children)
            read_block(block, *known, what, reading);
    if (known->rows.empty()) entry.error(node, fmt::format("{} has no rows", what));
    entry.finish();
    std::stable_sort(known->rows.begin(), known->rows.end(),
                     [](const TableRow& a, const TableRow& b) { return compare_keys(a, b) < 0; });
}

}  // namespace

void read_tables(Reading& reading) {
    for (const Node* node : members(reading, "table"))
        read_table(*node, reading);
}

}  // namespace packproof::rules
