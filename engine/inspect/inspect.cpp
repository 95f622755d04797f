#include "engine/inspect/inspect.hpp"

#include <algorithm>

#include "engine/inspect/describe.hpp"
#include "engine/inspect/fold.hpp"
#include "engine/inspect/survey.hpp"
#include "engine/model/build_model.hpp"
#include "engine/text/digest.hpp"

namespace packproof::inspect {

namespace {

Finding finding_of(const Verdicted& one, facts::Facts& facts) {
    const rules::Rule& rule = facts.rules().rules[one.rule];
    Finding finding;
    finding.rule = one.rule;
    finding.rule_name = rule.name;
    finding.asks = rule.asks;
    finding.because = rule.because;
    finding.rule_class = rule.rule_class;
    finding.verdict = one.judgement.verdict;
    finding.item = one.item;
    finding.item_name = item_label(facts.model(), one.item);
    finding.kind_name = facts.model().kind_of(one.item).name;
    return finding;
}

/// Failing first, then undecided, not stated, conforming; the gravest first, then as the file has them.
bool stands_before(const Finding& a, const Finding& b) {
    static constexpr int order[] = {3, 0, 1, 2, 4};  // by Verdict: conforms, fails, undecided, not stated
    const int first = order[static_cast<std::size_t>(a.verdict)];
    const int second = order[static_cast<std::size_t>(b.verdict)];
    if (first != second) return first < second;
    if (a.rule_class != b.rule_class) return a.rule_class < b.rule_class;
    if (a.item != b.item) return a.item < b.item;
    return a.rule_name < b.rule_name;
}

model::ItemIndex item_named(const model::Model& model, const std::string& name) {
    for (std::size_t i = 0; i < model.items.size(); ++i)
        if (model.items[i].id == name) return static_cast<model::ItemIndex>(i);
    return model::no_item;
}

}  // namespace

Report inspect_model(const model::Model& model, const rules::RuleSet& rules, const text::Sources& sources,
                     const Options& options) {
    facts::Facts facts(model, rules);
    const model::ItemIndex only = item_named(model, options.item);
    const Survey judged = survey(facts, facts.context(), only);
    Report report;
    report.coverage = judged.coverage;
    report.rules_digest = rules.digest;
    report.rules_version = rule_set_version();
    for (const Verdicted& one : judged.verdicts) {
        if (one.judgement.verdict == Verdict::conforms && !options.conforming) continue;
        const rules::Rule& rule = rules.rules[one.rule];
        Finding finding = finding_of(one, facts);
        describe(finding, rule, rule.applications[one.application], one.judgement, facts, sources);
        report.findings.push_back(std::move(finding));
    }
    std::stable_sort(report.findings.begin(), report.findings.end(), stands_before);
    fold_consequences(report.findings);
    report.next = next_values(waiting(judged, rules), facts);
    collect_assumptions(judged, facts, report);
    return report;
}

std::optional<Report> inspect(const std::string& path, const rules::RuleSet& rules, text::Sources& sources,
                              text::Messages& messages, const Options& options) {
    const auto description =
        document::load_description(path, sources, messages, options.folders, options.limits);
    if (!description) return std::nullopt;
    const auto model = model::build_model(*description, rules.vocabulary, sources, messages);
    if (!model) return std::nullopt;
    if (!options.item.empty() && item_named(*model, options.item) == model::no_item) {
        messages.error({description->source, 0, 0}, "no item is named \"" + options.item + "\"");
        return std::nullopt;
    }
    Report report = inspect_model(*model, rules, sources, options);
    report.file = description->name;
    report.title = title_of(*model);
    text::Digest digest;
    for (const text::SourceIndex file : description->files)
        digest.add(sources.bytes(file));
    report.input_digest = digest.print();
    return report;
}

Verdict judge(const rules::RuleSet& rules, std::size_t rule, const model::Model& model,
              model::ItemIndex item) {
    facts::Facts facts(model, rules);
    for (const rules::Application& application : rules.rules[rule].applications)
        if (application.kind == model.items[item].kind)
            return judge(rules.rules[rule], application, item, facts.context()).verdict;
    return Verdict::not_applicable;
}

}  // namespace packproof::inspect
