#include "engine/inspect/prove.hpp"

#include <fmt/core.h>

#include "engine/inspect/inspect.hpp"
#include "engine/model/build_model.hpp"

namespace packproof::inspect {

namespace {

struct Outcome {
    std::optional<Verdict> verdict;
    std::string trouble;
};

/// The item that an example is about: the one named, else the only one of a kind that the rule is of.
model::ItemIndex judged_item(const rules::Rule& rule, const rules::Example& example,
                             const model::Model& model, std::string& trouble) {
    std::vector<model::ItemIndex> candidates;
    for (const rules::Application& application : rule.applications)
        for (const model::ItemIndex item : model.of_kind[application.kind])
            if (example.item.empty() || model.items[item].id == example.item) candidates.push_back(item);
    if (candidates.size() == 1) return candidates.front();
    trouble = candidates.empty() ? "the example has no item that the rule is of"
                                 : "the example has several items that the rule is of; name one with `item`";
    return model::no_item;
}

Outcome judged(const rules::RuleSet& rules, std::size_t rule, const rules::Example& example,
               const text::Sources& sources) {
    Outcome outcome;
    document::Description description;
    description.name = "an example";
    description.source = example.span.source;
    description.root = example.with;
    text::Messages messages;
    const auto model = model::build_model(description, rules.vocabulary, sources, messages);
    if (!model) {
        for (const text::Message& message : messages.sorted())
            outcome.trouble += (outcome.trouble.empty() ? "" : "; ") + message.text +
                               (message.hint.empty() ? "" : " (" + message.hint + ")");
        return outcome;
    }
    const model::ItemIndex item = judged_item(rules.rules[rule], example, *model, outcome.trouble);
    if (item != model::no_item) outcome.verdict = judge(rules, rule, *model, item);
    return outcome;
}

}  // namespace

Proof prove(const rules::RuleSet& rules, const text::Sources& sources, std::string_view only) {
    Proof proof;
    for (std::size_t r = 0; r < rules.rules.size(); ++r) {
        const rules::Rule& rule = rules.rules[r];
        if (rule.examples.empty() || (!only.empty() && rule.name != only)) continue;
        ++proof.rules;
        for (std::size_t e = 0; e < rule.examples.size(); ++e) {
            ++proof.examples;
            const rules::Example& example = rule.examples[e];
            const Outcome outcome = judged(rules, r, example, sources);
            if (outcome.verdict == example.verdict) continue;
            ++proof.failed;
            std::string text = fmt::format("example {} of rule {} ", e + 1, rule.name);
            text += outcome.verdict ? fmt::format("should give \"{}\" but gives \"{}\"",
                                                  rules::verdict_name(example.verdict),
                                                  rules::verdict_name(*outcome.verdict))
                                    : "cannot be judged: " + outcome.trouble;
            proof.failures.push_back({text::Severity::error, example.span, std::move(text), {}});
        }
    }
    return proof;
}

}  // namespace packproof::inspect
