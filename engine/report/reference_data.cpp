#include <fmt/format.h>

#include <cmath>

#include "engine/report/field_words.hpp"
#include "engine/report/reference_parts.hpp"
#include "engine/units/print_quantity.hpp"

namespace packproof::report {

namespace {

using model::Field;
using model::Kind;

constexpr int digits_of_tables = 8;

std::string bounds(const Field& field) {
    std::string words;
    if (std::isfinite(field.least) &&
        (field.least != 0.0 || field.least_open || field.form == Field::Form::count))
        words = fmt::format("{} {}", field.least_open ? "more than" : "at least",
                            units::print_number(field.least, field.unit, field.absolute));
    if (std::isfinite(field.most))
        words += fmt::format("{}at most {}", words.empty() ? "" : ", ",
                             units::print_number(field.most, field.unit, field.absolute));
    return words;
}

ReferenceSection field_section(const Field& field, const rules::RuleSet& set) {
    ReferenceSection section;
    section.heading = field.name;
    section.anchor = reference_anchor(field.name);
    add_line(section, "is", {plain(field.about)});
    std::vector<Passage> form{plain(form_name(field))};
    if (!field.unit.symbol.empty()) form.push_back(plain("in " + field.unit.symbol));
    for (const std::string& word : field.choices)
        form.push_back(code(word));
    for (const auto kind : field.kinds)
        form.push_back(to_kind(set.vocabulary.kinds[kind]));
    add_line(section, "form", std::move(form));
    const bool numeric = field.form == Field::Form::quantity || field.form == Field::Form::range ||
                         field.form == Field::Form::count;
    if (numeric) add_line(section, "bounds", {plain(bounds(field))});
    if (!field.rate_of.empty()) add_line(section, "rate of", {code(field.rate_of)});
    add_line(section, "assumed", {plain(field.assume)});
    add_basis(section, field.assume_basis);
    if (field.the_only_one) add_line(section, "if not stated", {plain("the only item of its kind")});
    if (field.each_choice) add_line(section, "if not stated", {plain("every choice is tried")});
    add_line(section, "found out by", {plain(field.ask)});
    return section;
}

std::string head(std::string_view name, const units::Unit& unit) {
    return unit.symbol.empty() ? std::string(name) : fmt::format("{} ({})", name, unit.symbol);
}

std::string_view take_name(rules::Take take) {
    switch (take) {
        case rules::Take::exact:
            return "exact";
        case rules::Take::next_larger:
            return "the next larger";
        case rules::Take::next_smaller:
            return "the next smaller";
        case rules::Take::interpolate:
            return "interpolated";
    }
    return {};
}

std::string cell_words(const rules::Cell& cell, const units::Unit& unit, bool is_text, bool absolute) {
    if (cell.none) return "none";
    if (is_text || !cell.text.empty()) return cell.text;
    std::string words = units::print_number(cell.number, unit, absolute, digits_of_tables);
    if (!unit.symbol.empty() && words.ends_with(" " + unit.symbol))
        words.resize(words.size() - unit.symbol.size() - 1);
    return words;
}

ReferenceSection rows_of(const rules::Table& table, std::size_t block) {
    ReferenceSection section;
    section.heading = table.blocks.size() > 1 ? fmt::format("Rows, source {}", block + 1) : "Rows";
    add_basis(section, table.blocks[block].basis);
    for (const rules::TableKey& key : table.keys)
        section.columns.push_back(head(key.name, key.unit));
    for (const rules::TableColumn& column : table.columns)
        section.columns.push_back(head(column.name, column.unit));
    for (const rules::TableRow& row : table.rows) {
        if (row.block != block) continue;
        std::vector<std::string> cells;
        for (std::size_t i = 0; i < row.keys.size(); ++i)
            cells.push_back(
                cell_words(row.keys[i], table.keys[i].unit, table.keys[i].is_text, table.keys[i].absolute));
        for (std::size_t i = 0; i < row.columns.size(); ++i)
            cells.push_back(cell_words(row.columns[i], table.columns[i].unit, table.columns[i].is_text,
                                       table.columns[i].absolute));
        section.rows.push_back(std::move(cells));
    }
    return section;
}

}  // namespace

void add_kind_pages(const rules::RuleSet& set, std::vector<ReferencePage>& pages) {
    std::vector<std::vector<Passage>> quantities(set.vocabulary.kinds.size());
    for (const rules::QuantityDefinition& quantity : set.quantities)
        quantities[quantity.kind].push_back(to_quantity(quantity, set));
    std::vector<std::vector<Passage>> judged(set.vocabulary.kinds.size());
    for (const rules::Rule& rule : set.rules)
        for (const rules::Application& application : rule.applications)
            judged[application.kind].push_back(to_rule(rule));
    for (std::size_t i = 0; i < set.vocabulary.kinds.size(); ++i) {
        const Kind& kind = set.vocabulary.kinds[i];
        ReferencePage page{"Kinds of item", reference_file("kind", kind.name), kind.name, kind.about, {}};
        ReferenceSection& first = page.sections.emplace_back();
        add_line(first, "written", {code(kind.single ? "[" + kind.name + "]" : "[" + kind.name + ".ID]")});
        std::vector<Passage> points;
        for (const std::string& point : kind.points)
            points.push_back(code(point));
        add_line(first, "points", std::move(points));
        if (const rules::Caution* caution = set.caution(kind.caution))
            add_line(first, "caution", {to_caution(*caution)});
        add_line(first, "quantities", std::move(quantities[i]));
        add_line(first, "rules", std::move(judged[i]));
        for (const Field& field : kind.fields)
            page.sections.push_back(field_section(field, set));
        pages.push_back(std::move(page));
    }
}

void add_table_pages(const rules::RuleSet& set, const UsedBy& used, std::vector<ReferencePage>& pages) {
    for (std::size_t i = 0; i < set.tables.size(); ++i) {
        const rules::Table& table = set.tables[i];
        ReferencePage page{"Tables", reference_file("table", table.name), table.name, table.about, {}};
        ReferenceSection& first = page.sections.emplace_back();
        for (const rules::TableKey& key : table.keys)
            add_line(first, "key",
                     {code(key.name), plain("taken " + std::string(take_name(key.take)) +
                                            (key.beyond_last ? ", above the last row as the last" : ""))});
        add_line(first, "used by", used.tables[i]);
        for (std::size_t block = 0; block < table.blocks.size(); ++block)
            page.sections.push_back(rows_of(table, block));
        pages.push_back(std::move(page));
    }
}

}  // namespace packproof::report
