#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "engine/cli/commands.hpp"
#include "engine/cli/explain_item.hpp"
#include "engine/cli/output.hpp"
#include "engine/cli/rule_sources.hpp"
#include "engine/report/finding_block.hpp"
#include "engine/report/page.hpp"
#include "engine/rules/ingredients.hpp"
#include "engine/text/nearest_name.hpp"

namespace packproof::cli {

namespace {

using report::Ink;
using report::Page;
using rules::Rule;
using rules::RuleSet;

void write_basis(Page& page, std::span<const model::Authority> basis) {
    std::string_view label = "basis";
    for (const auto& authority : basis) {
        page.labelled(label, rules::print_authority(authority), 2);
        label = "";
    }
}

// Rules of several kinds mostly say the same for each: each wording once.
void write_demands(Page& page, const Rule& rule, const RuleSet& set) {
    std::string kinds;
    std::set<std::string> said;
    for (const auto& application : rule.applications)
        kinds += (kinds.empty() ? "" : ", ") + set.vocabulary.kinds[application.kind].name;
    page.labelled_if("of", kinds);
    for (const auto& application : rule.applications) {
        if (!application.when.empty() && said.insert("when " + application.when.text).second)
            page.labelled("when", application.when.text, 2);
        if (said.insert(application.demands.text).second)
            page.labelled("demands", application.demands.text, 2);
    }
}

void write_clears(Page& page, const Rule& rule) {
    std::vector<std::string> paths;
    if (!rule.applications.empty())
        for (const auto& path : rule.applications.front().clears)
            paths.push_back(path.text);
    page.labelled_if("clears it", fmt::format("{}", fmt::join(paths, ", or ")));
    page.labelled_if("advice", rule.advice);
}

std::string caution_of(const Rule& rule, const RuleSet& set) {
    const std::string name = !rule.caution.empty() || rule.applications.empty()
                                 ? rule.caution
                                 : set.vocabulary.kinds[rule.applications.front().kind].caution;
    const rules::Caution* caution = set.caution(name);
    return caution == nullptr ? std::string() : caution->text;
}

void write_ingredients(Page& page, const Rule& rule, const RuleSet& set) {
    const rules::Ingredients found = rules::ingredients_of(rule, set);
    std::string fields;
    for (const language::Member& member : found.fields) {
        const model::Kind& kind = set.vocabulary.kinds[member.kind];
        fields += (fields.empty() ? "" : ", ") + kind.fields[member.index].name + " of " + kind.name;
    }
    page.labelled_if("rests on", fields);
    for (const auto index : found.quantities) {
        const auto& quantity = set.quantities[index];
        page.blank();
        page.paragraph(quantity.name + " of " + set.vocabulary.kinds[quantity.kind].name, 4, 2, Ink::strong);
        page.labelled_if("is", quantity.about);
        page.labelled("formula", quantity.value.text, 2);
        write_basis(page, quantity.basis);
    }
    for (const auto index : found.tables) {
        const auto& table = set.tables[index];
        page.blank();
        page.paragraph("table " + table.name, 4, 2, Ink::strong);
        page.labelled_if("holds", table.about);
        std::vector<model::Authority> basis;
        for (const auto& block : table.blocks)
            for (const auto& authority : block.basis)
                if (std::find(basis.begin(), basis.end(), authority) == basis.end())
                    basis.push_back(authority);
        write_basis(page, basis);
    }
}

std::string node_words(const document::Node& node) {
    std::string words;
    switch (node.kind) {
        case document::Node::Kind::table:
            for (const auto& child : node.children)
                words += (words.empty() ? "" : ", ") + child.key + " = " + node_words(child);
            return node.key.empty() ? words : "{ " + words + " }";
        case document::Node::Kind::array:
            for (const auto& child : node.children)
                words += (words.empty() ? "" : ", ") + node_words(child);
            return "[" + words + "]";
        case document::Node::Kind::integer:
            return fmt::format("{}", node.integer);
        case document::Node::Kind::real:
            return fmt::format("{}", node.real);
        case document::Node::Kind::boolean:
            return node.boolean ? "true" : "false";
        case document::Node::Kind::string:
        case document::Node::Kind::date:
            return node.text;
    }
    return words;
}

// kind, then id, then fields; or kind and fields where there is only one.
std::vector<std::string> described(const document::Node& with) {
    std::vector<std::string> lines;
    for (const auto& kind : with.children) {
        const bool by_id = !kind.children.empty() && kind.children.front().is_table();
        if (!by_id) lines.push_back(kind.key + ": " + node_words(kind));
        if (by_id)
            for (const auto& item : kind.children)
                lines.push_back(kind.key + "." + item.key + ": " + node_words(item));
    }
    return lines;
}

void write_examples(Page& page, const Rule& rule) {
    if (rule.examples.empty()) return;
    page.blank();
    page.headline("EXAMPLES", Ink::strong, "", "");
    for (const auto& example : rule.examples) {
        std::string_view label = rules::verdict_name(example.verdict);
        std::vector<std::string> lines = described(example.with);
        if (!example.note.empty()) lines.insert(lines.begin(), example.note);
        if (!example.item.empty()) lines.insert(lines.begin(), "for " + example.item);
        for (const std::string& line : lines) {
            page.labelled(label, line, 2);
            label = "";
        }
    }
}

int explain_rule(const Rule& rule, const ExplainCall& call, Surroundings& around,
                 const Workspace& workspace) {
    Page page(call.width, colour_wanted(call.colour, around));
    page.headline(rule.name, Ink::strong, "", rules::class_name(rule.rule_class));
    page.paragraph(rule.asks, 4);
    if (!rule.change_reason.empty())
        page.labelled(rule.active ? "changed" : "switched off", rule.change_reason);
    page.labelled_if("why", rule.because);
    write_demands(page, rule, workspace.rules);
    write_basis(page, rule.basis);
    write_clears(page, rule);
    page.labelled_if("caution", caution_of(rule, workspace.rules));
    page.labelled_if("since", rule.since);
    page.labelled_if("stands in", report::place_words(rule.span, workspace.sources));
    write_ingredients(page, rule, workspace.rules);
    write_examples(page, rule);
    return put_out(page.take(), exit_nothing, around);
}

int unknown_rule(const std::string& name, const RuleSet& set, Surroundings& around) {
    std::vector<std::string_view> names;
    for (const Rule& rule : set.rules)
        names.push_back(rule.name);
    const std::string_view nearest = text::nearest_name(name, names);
    print_trouble("there is no rule named " + name,
                  nearest.empty() ? "packproof rules list names them all; an item is asked for as FILE#ITEM"
                                  : fmt::format("did you mean {}", nearest),
                  around);
    return exit_trouble;
}

}  // namespace

int explain(const ExplainCall& call, Surroundings& around, Workspace& workspace) {
    text::Messages messages;
    const bool loaded = load_rule_texts(call.rule_folders, around, workspace, messages);
    print_messages(messages, workspace.sources, around);
    if (!loaded) return exit_trouble;
    const std::size_t mark = call.subject.rfind('#');
    if (mark != std::string::npos)
        return explain_item(call.subject.substr(0, mark), call.subject.substr(mark + 1), call, around,
                            workspace);
    if (const Rule* rule = workspace.rules.rule(call.subject))
        return explain_rule(*rule, call, around, workspace);
    return unknown_rule(call.subject, workspace.rules, around);
}

}  // namespace packproof::cli
