#include "engine/inspect/inspect.hpp"

#include "engine/inspect/concession.hpp"
#include "engine/inspect/describe.hpp"
#include "engine/inspect/fold.hpp"
#include "engine/inspect/label.hpp"
#include "engine/inspect/relaxed.hpp"
#include "engine/inspect/survey.hpp"
#include "engine/model/build_model.hpp"
#include "engine/text/digest.hpp"

namespace packproof::inspect {

namespace {

model::ItemIndex item_named(const model::Model& model, const std::string& name) {
    for (std::size_t i = 0; i < model.items.size(); ++i)
        if (model.items[i].id == name) return static_cast<model::ItemIndex>(i);
    return model::no_item;
}

}  // namespace

Report inspect_model(const model::Model& model, const rules::RuleSet& rules, const text::Sources& sources,
                     const Options& options) {
    facts::Facts facts(model, rules, options.memory);
    const model::ItemIndex only = item_named(model, options.item);
    language::Context context = facts.context();
    const Survey judged = survey(facts, context, only);
    Report report;
    report.coverage = judged.coverage;
    report.rules_digest = rules.digest;
    report.rules_version = rule_set_version();
    KnownSteps known;
    for (const Verdicted& one : judged.verdicts) {
        if (one.judgement.verdict == Verdict::conforms && !options.conforming) continue;
        report.findings.push_back(finding_of(one, facts, sources, known));
    }
    report.concessions = concessions_of(facts);
    if (!report.concessions.empty() && options.day) {
        report.judged_on = text::print_day(*options.day);
        report.judged_today = options.is_today;
    }
    mark_conceded(report);
    if (options.new_rules_count)
        for (Finding& finding : report.findings)
            finding.announced = false;
    report.relaxed = relaxed_rules(rules);
    order_findings(report.findings);
    fold_consequences(report.findings);
    report.next = next_values(waiting(judged, rules), facts);
    collect_choices(facts, report);
    collect_assumptions(judged, facts, report);
    return report;
}

std::optional<model::Model> model_of(const document::Description& description, const rules::RuleSet& rules,
                                     text::Sources& sources, text::Messages& messages,
                                     const Options& options) {
    auto model = model::build_model(description, rules.vocabulary, sources, messages);
    if (!model) return std::nullopt;
    const std::size_t errors = messages.error_count();
    weigh_concessions(*model, rules, sources, options.day, messages, options.memory);
    if (messages.error_count() > errors) return std::nullopt;
    return model;
}

std::optional<Loaded> load(const std::string& path, const rules::RuleSet& rules, text::Sources& sources,
                           text::Messages& messages, const Options& options) {
    const auto description =
        document::load_description(path, sources, messages, options.folders, options.limits);
    if (!description) return std::nullopt;
    auto model = model_of(*description, rules, sources, messages, options);
    if (!model) return std::nullopt;
    text::Digest digest;
    for (const text::SourceIndex file : description->files)
        digest.add(sources.bytes(file));
    return Loaded{*std::move(model), description->source, description->name, digest.print()};
}

std::optional<Report> inspect(const std::string& path, const rules::RuleSet& rules, text::Sources& sources,
                              text::Messages& messages, const Options& options) {
    const auto loaded = load(path, rules, sources, messages, options);
    if (!loaded) return std::nullopt;
    if (!options.item.empty() && item_named(loaded->model, options.item) == model::no_item) {
        messages.error({loaded->source, 0, 0}, "no item is named \"" + options.item + "\"");
        return std::nullopt;
    }
    Report report = inspect_model(loaded->model, rules, sources, options);
    report.file = loaded->name;
    report.overlays = options.folders.overlays;
    report.title = title_of(loaded->model);
    report.input_digest = loaded->digest;
    return report;
}

Verdict judge(const rules::RuleSet& rules, std::size_t rule, const model::Model& model,
              model::ItemIndex item) {
    facts::Facts facts(model, rules);
    language::Context context = facts.context();
    for (const rules::Application& application : rules.rules[rule].applications)
        if (application.kind == model.items[item].kind)
            return judge(rules.rules[rule], application, item, context).verdict;
    return Verdict::not_applicable;
}

}  // namespace packproof::inspect
