#include "engine/report/reference.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "engine/report/reference_parts.hpp"
#include "engine/text/digest.hpp"

namespace packproof::report {

namespace {

constexpr std::size_t longest_name = 120;  // file systems allow 255 bytes, with an ending

bool harmless(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' ||
           c == '_' || c == '.';
}

std::string harmless_name(std::string_view name) {
    std::string result;
    for (const char c : name)
        result += harmless(c) ? std::string(1, c) : fmt::format("~{:02X}", static_cast<unsigned char>(c));
    if (result.size() <= longest_name) return result;
    text::Digest digest;
    digest.add(name);
    return result.substr(0, longest_name) + "~~" + digest.print();
}

Passage leads_to(std::string_view text, std::string page) {
    return {std::string(text), std::move(page), {}, true};
}

std::string full_name(const rules::QuantityDefinition& quantity, const rules::RuleSet& set) {
    return set.vocabulary.kinds[quantity.kind].name + "." + quantity.name;
}

void note_use(const rules::Ingredients& named, const Passage& user, UsedBy& used) {
    for (const auto quantity : named.quantities)
        used.quantities[quantity].push_back(user);
    for (const auto table : named.tables)
        used.tables[table].push_back(user);
}

}  // namespace

std::string reference_file(std::string_view group, std::string_view name) {
    return fmt::format("{}-{}", group, harmless_name(name));
}

std::string reference_anchor(std::string_view field) {
    return "field-" + harmless_name(field);
}

Passage plain(std::string_view text) {
    return {std::string(text), {}, {}, false};
}

Passage code(std::string_view text) {
    return {std::string(text), {}, {}, true};
}

Passage to_rule(const rules::Rule& rule) {
    return leads_to(rule.name, reference_file("rule", rule.name));
}

Passage to_kind(const model::Kind& kind) {
    return leads_to(kind.name, reference_file("kind", kind.name));
}

Passage to_field(const model::Kind& kind, const model::Field& field) {
    return {kind.name + "." + field.name, reference_file("kind", kind.name), reference_anchor(field.name),
            true};
}

Passage to_quantity(const rules::QuantityDefinition& quantity, const rules::RuleSet& set) {
    const std::string name = full_name(quantity, set);
    return leads_to(name, reference_file("quantity", name));
}

Passage to_table(const rules::Table& table) {
    return leads_to(table.name, reference_file("table", table.name));
}

Passage to_network(const rules::NetworkDefinition& network) {
    return leads_to(network.name, reference_file("network", network.name));
}

Passage to_solver(const rules::SolverDefinition& solver) {
    return leads_to(solver.name, reference_file("solver", solver.name));
}

Passage to_caution(const rules::Caution& caution) {
    return leads_to(caution.name, reference_file("caution", caution.name));
}

void add_line(ReferenceSection& section, std::string_view label, std::vector<Passage> words) {
    std::erase_if(words, [](const Passage& passage) { return passage.text.empty(); });
    if (!words.empty()) section.lines.push_back({std::string(label), std::move(words)});
}

void add_basis(ReferenceSection& section, const std::vector<model::Authority>& basis) {
    std::string_view label = "basis";
    for (const model::Authority& authority : basis) {
        add_line(section, label, {plain(rules::print_authority(authority))});
        label = "";
    }
}

void add_named(ReferenceSection& section, const rules::Ingredients& named, const rules::RuleSet& set) {
    std::vector<Passage> fields;
    for (const language::Member& member : named.fields) {
        const model::Kind& kind = set.vocabulary.kinds[member.kind];
        fields.push_back(to_field(kind, kind.fields[member.index]));
    }
    std::vector<Passage> quantities;
    for (const auto index : named.quantities)
        quantities.push_back(to_quantity(set.quantities[index], set));
    std::vector<Passage> tables;
    for (const auto index : named.tables)
        tables.push_back(to_table(set.tables[index]));
    add_line(section, "fields", std::move(fields));
    add_line(section, "quantities", std::move(quantities));
    add_line(section, "tables", std::move(tables));
}

UsedBy used_by(const rules::RuleSet& set) {
    UsedBy used;
    used.quantities.resize(set.quantities.size());
    used.tables.resize(set.tables.size());
    for (const rules::QuantityDefinition& quantity : set.quantities) {
        rules::Ingredients named;
        add_ingredients(quantity.value, named);
        note_use(named, to_quantity(quantity, set), used);
    }
    for (const rules::Rule& rule : set.rules) {
        rules::Ingredients named;
        for (const rules::Application& application : rule.applications) {
            add_ingredients(application.when, named);
            add_ingredients(application.demands, named);
        }
        note_use(named, to_rule(rule), used);
    }
    return used;
}

std::vector<ReferencePage> reference_pages(const rules::RuleSet& set, const text::Sources& sources) {
    const UsedBy used = used_by(set);
    std::vector<ReferencePage> pages;
    add_rule_pages(set, sources, pages);
    add_kind_pages(set, pages);
    add_quantity_pages(set, used, pages);
    add_table_pages(set, used, pages);
    add_other_pages(set, pages);
    add_function_pages(pages);
    return pages;
}

}  // namespace packproof::report
