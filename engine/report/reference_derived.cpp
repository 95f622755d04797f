#include <fmt/format.h>

#include "engine/language/functions.hpp"
#include "engine/report/reference_parts.hpp"

namespace packproof::report {

namespace {

void add_expression(ReferenceSection& section, std::string_view label,
                    const language::Expression& expression) {
    add_line(section, label, {code(expression.text)});
}

std::string_view role_name(solve::Branch::Role role) {
    switch (role) {
        case solve::Branch::Role::source:
            return "source";
        case solve::Branch::Role::sink:
            return "sink";
        default:
            return "conductor";
    }
}

void add_by_case(ReferenceSection& section, std::string_view label,
                 const std::vector<language::Expression>& values, const rules::NetworkDefinition& network) {
    for (std::size_t i = 0; i < values.size(); ++i)
        if (!values[i].text.empty())
            add_line(section, label, {plain(network.cases[i].name + ":"), code(values[i].text)});
}

ReferencePage network_page(const rules::NetworkDefinition& network, const rules::RuleSet& set) {
    ReferencePage page{
        "Networks and solvers", reference_file("network", network.name), network.name, network.about, {}};
    ReferenceSection& first = page.sections.emplace_back();
    for (const rules::NetworkCase& one : network.cases)
        add_line(first, "case", {code(one.name), plain(one.about)});
    std::vector<Passage> asked;
    for (const rules::QuantityDefinition& quantity : set.quantities)
        if (quantity.solved && set.networks[quantity.solved->network].name == network.name)
            asked.push_back(to_quantity(quantity, set));
    add_line(first, "asked by", std::move(asked));
    for (const rules::NetworkBranch& branch : network.branches) {
        const model::Kind& kind = set.vocabulary.kinds[branch.kind];
        ReferenceSection section;
        section.heading = "Branch: " + kind.name;
        add_line(section, "of", {to_kind(kind)});
        add_line(section, "role", {plain(role_name(branch.role))});
        add_expression(section, "when", branch.when);
        add_expression(section, "opens", branch.opens);
        add_expression(section, "length", branch.length);
        add_by_case(section, "resistance", branch.resistance, network);
        add_by_case(section, "voltage", branch.voltage, network);
        add_by_case(section, "current", branch.drawn, network);
        page.sections.push_back(std::move(section));
    }
    return page;
}

ReferencePage solver_page(const rules::SolverDefinition& solver, const rules::RuleSet& set) {
    const solve::Method& method = rules::method_of(solver);
    ReferencePage page{
        "Networks and solvers", reference_file("solver", solver.name), solver.name, solver.about, {}};
    ReferenceSection& first = page.sections.emplace_back();
    add_line(first, "method", {plain(method.name), plain(method.about)});
    add_line(first, "of", {to_kind(set.vocabulary.kinds[solver.kind])});
    for (std::size_t i = 0; i < solver.inputs.size(); ++i)
        add_expression(first, method.fields[i].name, solver.inputs[i]);
    std::vector<Passage> asked;
    for (const rules::QuantityDefinition& quantity : set.quantities)
        if (quantity.asked && set.solvers[quantity.asked->solver].name == solver.name)
            asked.push_back(to_quantity(quantity, set));
    add_line(first, "asked by", std::move(asked));
    for (const rules::SolverRows& rows : solver.rows) {
        const solve::MethodList& list = method.lists[rows.list];
        ReferenceSection section;
        section.heading = fmt::format("Rows of {}: {}", list.name, set.vocabulary.kinds[rows.kind].name);
        add_line(section, "of", {to_kind(set.vocabulary.kinds[rows.kind])});
        add_expression(section, "when", rows.when);
        for (std::size_t i = 0; i < rows.values.size(); ++i)
            add_expression(section, list.fields[i].name, rows.values[i]);
        page.sections.push_back(std::move(section));
    }
    return page;
}

std::string wording(const rules::Wording& words) {
    std::string text;
    for (std::size_t i = 0; i < words.words.size(); ++i) {
        text += words.words[i];
        if (i < words.blanks.size())
            text += "{" + (words.blanks[i].text.empty() ? "number" : words.blanks[i].text) + "}";
    }
    return text;
}

ReferencePage worksheet_page(const rules::Worksheet& sheet, const rules::RuleSet& set) {
    ReferencePage page{"Worksheets", reference_file("worksheet", sheet.name), sheet.name, sheet.title, {}};
    ReferenceSection& first = page.sections.emplace_back();
    add_line(first, "is", {plain(sheet.about)});
    add_basis(first, sheet.basis);
    for (std::size_t i = 0; i < sheet.lines.size(); ++i) {
        const rules::WorksheetLine& line = sheet.lines[i];
        ReferenceSection section;
        section.heading = fmt::format("Line {}", i + 1);
        add_line(section, "of", {to_kind(set.vocabulary.kinds[line.kind])});
        add_line(section, "does", {plain(wording(line.does))});
        add_expression(section, "when", line.when);
        add_expression(section, "by", line.by);
        add_expression(section, "times", line.times);
        add_expression(section, "expects", line.expects);
        add_expression(section, "found", line.found);
        add_expression(section, "good", line.good);
        add_expression(section, "hold", line.hold);
        add_line(section, "stop", {plain(line.stop)});
        page.sections.push_back(std::move(section));
    }
    return page;
}

std::string_view takes_name(language::FunctionForm::Takes takes) {
    switch (takes) {
        case language::FunctionForm::Takes::values:
            return "values";
        case language::FunctionForm::Takes::members:
            return "the items of a list";
        case language::FunctionForm::Takes::table:
            return "a table or a series, and values";
        case language::FunctionForm::Takes::nothing:
            return "nothing";
    }
    return {};
}

}  // namespace

void add_quantity_pages(const rules::RuleSet& set, const UsedBy& used, std::vector<ReferencePage>& pages) {
    for (std::size_t i = 0; i < set.quantities.size(); ++i) {
        const rules::QuantityDefinition& quantity = set.quantities[i];
        const Passage own = to_quantity(quantity, set);
        ReferencePage page{"Derived quantities", own.page, own.text, quantity.about, {}};
        ReferenceSection& first = page.sections.emplace_back();
        add_line(first, "of", {to_kind(set.vocabulary.kinds[quantity.kind])});
        add_line(first, "unit", {plain(quantity.unit.symbol)});
        add_line(first, "gives", {plain(model::type_name(quantity.type, set.vocabulary))});
        add_expression(first, "formula", quantity.value);
        if (quantity.solved) add_line(first, "network", {to_network(set.networks[quantity.solved->network])});
        if (quantity.asked) add_line(first, "solver", {to_solver(set.solvers[quantity.asked->solver])});
        rules::Ingredients named;
        add_ingredients(quantity.value, named);
        add_named(first, named, set);
        add_line(first, "used by", used.quantities[i]);
        add_basis(first, quantity.basis);
        pages.push_back(std::move(page));
    }
}

void add_other_pages(const rules::RuleSet& set, std::vector<ReferencePage>& pages) {
    for (const rules::NetworkDefinition& network : set.networks)
        pages.push_back(network_page(network, set));
    for (const rules::SolverDefinition& solver : set.solvers)
        pages.push_back(solver_page(solver, set));
    for (const rules::Worksheet& sheet : set.worksheets)
        pages.push_back(worksheet_page(sheet, set));
    for (const rules::Caution& caution : set.cautions) {
        ReferencePage page{
            "Cautions", reference_file("caution", caution.name), caution.name, caution.text, {}};
        pages.push_back(std::move(page));
    }
}

void add_function_pages(std::vector<ReferencePage>& pages) {
    for (const language::FunctionForm& form : language::functions()) {
        const std::string file = reference_file("function", form.name);
        // Two forms of one name share a page.
        if (pages.empty() || pages.back().file != file)
            pages.push_back({"Functions", file, std::string(form.name), std::string(form.meaning), {}});
        ReferenceSection section;
        section.heading = form.call;
        add_line(section, "means", {plain(form.meaning)});
        add_line(section, "takes", {plain(takes_name(form.takes))});
        add_line(section, "gives", {plain(form.gives)});
        pages.back().sections.push_back(std::move(section));
    }
}

}  // namespace packproof::report
