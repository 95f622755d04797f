#include <algorithm>

#include "engine/report/finding_block.hpp"
#include "engine/report/reference_parts.hpp"

namespace packproof::report {

namespace {

// Rules of several kinds mostly say the same for each: each wording once.
void add_once(ReferenceSection& section, std::string_view label, const std::string& expression,
              std::vector<std::string>& said) {
    const std::string whole = std::string(label) + " " + expression;
    if (expression.empty() || std::find(said.begin(), said.end(), whole) != said.end()) return;
    said.push_back(whole);
    add_line(section, label, {code(expression)});
}

const rules::Caution* caution_of(const rules::Rule& rule, const rules::RuleSet& set) {
    if (!rule.caution.empty() || rule.applications.empty()) return set.caution(rule.caution);
    return set.caution(set.vocabulary.kinds[rule.applications.front().kind].caution);
}

ReferenceSection judged(const rules::Rule& rule, const rules::RuleSet& set) {
    ReferenceSection section;
    add_line(section, "class", {plain(rules::class_name(rule.rule_class))});
    if (!rule.change_reason.empty())
        add_line(section, rule.active ? "changed" : "switched off", {plain(rule.change_reason)});
    add_line(section, "why", {plain(rule.because)});
    std::vector<Passage> kinds;
    for (const rules::Application& application : rule.applications)
        kinds.push_back(to_kind(set.vocabulary.kinds[application.kind]));
    add_line(section, "of", std::move(kinds));
    std::vector<std::string> said;
    for (const rules::Application& application : rule.applications) {
        add_once(section, "when", application.when.text, said);
        add_once(section, "demands", application.demands.text, said);
    }
    return section;
}

ReferenceSection remedied(const rules::Rule& rule, const rules::RuleSet& set, const text::Sources& sources) {
    ReferenceSection section;
    add_basis(section, rule.basis);
    std::vector<Passage> clears;
    if (!rule.applications.empty())
        for (const language::Expression& path : rule.applications.front().clears)
            clears.push_back(code(path.text));
    add_line(section, "clears it", std::move(clears));
    add_line(section, "advice", {plain(rule.advice)});
    add_line(section, "asks the supplier", {plain(rule.question)});
    if (const rules::Caution* caution = caution_of(rule, set))
        add_line(section, "caution", {to_caution(*caution), plain(caution->text)});
    add_line(section, "since", {plain(rule.since)});
    add_line(section, "stands in", {plain(place_words(rule.span, sources))});
    return section;
}

ReferenceSection rests_on(const rules::Rule& rule, const rules::RuleSet& set) {
    ReferenceSection section;
    section.heading = "Rests on";
    add_named(section, rules::ingredients_of(rule, set), set);
    return section;
}

// As the example stands in the file.
void add_example(ReferenceSection& section, const rules::Example& example, const text::Sources& sources) {
    std::string_view label = rules::verdict_name(example.verdict);
    const auto line = [&](Passage passage) {
        if (passage.text.empty()) return;
        add_line(section, label, {std::move(passage)});
        label = "";
    };
    line(plain(example.note));
    if (!example.item.empty()) line(plain("for " + example.item));
    for (const document::Node& kind : example.with.children) {
        const bool by_id = !kind.children.empty() && kind.children.front().is_table();
        const auto value = [&](const document::Node& item, const std::string& name) {
            if (item.span.source == text::no_source) return line(code(name));
            const std::string_view bytes = sources.bytes(item.span.source);
            line(code(name + " = " +
                      std::string(bytes.substr(item.span.begin, item.span.end - item.span.begin))));
        };
        if (!by_id) value(kind, kind.key);
        if (by_id)
            for (const document::Node& item : kind.children)
                value(item, kind.key + "." + item.key);
    }
}

}  // namespace

void add_rule_pages(const rules::RuleSet& set, const text::Sources& sources,
                    std::vector<ReferencePage>& pages) {
    for (const rules::Rule& rule : set.rules) {
        ReferencePage page{"Rules", reference_file("rule", rule.name), rule.name, rule.asks, {}};
        page.sections.push_back(judged(rule, set));
        const ReferenceSection more = remedied(rule, set, sources);
        page.sections.front().lines.insert(page.sections.front().lines.end(), more.lines.begin(),
                                           more.lines.end());
        page.sections.push_back(rests_on(rule, set));
        ReferenceSection examples;
        examples.heading = "Examples";
        for (const rules::Example& example : rule.examples)
            add_example(examples, example, sources);
        page.sections.push_back(std::move(examples));
        pages.push_back(std::move(page));
    }
}

}  // namespace packproof::report
