#include "engine/inspect/survey.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "engine/inspect/label.hpp"

namespace packproof::inspect {

using language::Input;
using model::ItemIndex;

namespace {

void count(Coverage& coverage, Verdict verdict) {
    if (verdict == Verdict::not_applicable) {
        ++coverage.not_applicable;
        return;
    }
    ++coverage.applicable;
    switch (verdict) {
        case Verdict::conforms:
            ++coverage.conforming;
            break;
        case Verdict::fails:
            ++coverage.failing;
            break;
        case Verdict::undecided:
            ++coverage.undecided;
            break;
        case Verdict::not_stated:
            ++coverage.not_stated;
            break;
        case Verdict::not_applicable:
            break;
    }
}

}  // namespace

Survey survey(facts::Facts& facts, language::Context& context, ItemIndex only) {
    Survey survey;
    const rules::RuleSet& set = facts.rules();
    survey.verdicts.reserve(set.rules.size());
    for (std::uint32_t r = 0; r < set.rules.size(); ++r) {
        const rules::Rule& rule = set.rules[r];
        if (!rule.active) continue;
        for (std::uint32_t a = 0; a < rule.applications.size(); ++a) {
            for (const ItemIndex item : facts.model().of_kind[rule.applications[a].kind]) {
                if (only != model::no_item && item != only) continue;
                Judgement judgement = judge(rule, rule.applications[a], item, context);
                count(survey.coverage, judgement.verdict);
                if (judgement.verdict == Verdict::not_applicable) continue;
                survey.verdicts.push_back({r, a, item, std::move(judgement)});
            }
        }
    }
    return survey;
}

std::vector<Waiting> waiting(const Survey& survey, const rules::RuleSet& rules) {
    std::vector<Waiting> found;
    for (const Verdicted& one : survey.verdicts)
        if (one.judgement.verdict == Verdict::not_stated)
            found.push_back({&rules.rules[one.rule], one.judgement.gaps});
    return found;
}

void collect_choices(facts::Facts& facts, Report& report) {
    const model::Model& model = facts.model();
    for (model::ItemIndex item = 0; item < model.items.size(); ++item) {
        if (!model.kind_of(item).single) continue;
        for (const model::Slot& slot : model.items[item].slots) {
            const model::Field& field = model.kind_of(item).fields[slot.field];
            const model::Text* choice = slot.value.text();
            if (!field.each_choice || choice == nullptr || slot.origin == model::Origin::assumed) continue;
            report.chosen.push_back(fmt::format("{}: {}", input_label(model, {item, slot.field}),
                                                show(model, slot.value, field.type(), {}).text));
        }
    }
}

void collect_assumptions(const Survey& survey, facts::Facts& facts, Report& report) {
    std::vector<Input> used;
    for (const Verdicted& one : survey.verdicts) {
        if (!one.judgement.basis.assumed || one.judgement.verdict == Verdict::not_stated) continue;
        used.insert(used.end(), one.judgement.inputs.begin(), one.judgement.inputs.end());
    }
    used = facts.each_once(used);
    std::sort(used.begin(), used.end());
    const model::Model& model = facts.model();
    for (const Input& input : used) {
        if (input.item == model::no_item) continue;
        const model::Slot* slot = model.slot(input.item, input.field);
        if (slot == nullptr || slot->origin != model::Origin::assumed) continue;
        const model::Field& field = model.kind_of(input.item).fields[input.field];
        const std::string text =
            fmt::format("{}: {}", input_label(model, input),
                        show(model, slot->value, field.type(), input_unit(model, input)).text);
        const model::Text* choice = slot->value.text();
        if (choice != nullptr && choice->alternatives.size() > 1) {
            report.tried.push_back(text);
            continue;
        }
        std::string basis;
        for (const model::Authority& authority : field.assume_basis)
            basis += (basis.empty() ? "" : "; ") + rules::print_authority(authority);
        if (field.the_only_one) basis = "the only one in the description";
        report.assumptions.push_back({text, basis});
    }
}

}  // namespace packproof::inspect
