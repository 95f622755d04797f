#include "engine/inspect/request.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "engine/inspect/acceptable.hpp"
#include "engine/inspect/concession.hpp"
#include "engine/inspect/describe.hpp"
#include "engine/inspect/label.hpp"
#include "engine/inspect/sides.hpp"
#include "engine/inspect/spoken.hpp"
#include "engine/inspect/survey.hpp"

namespace packproof::inspect {

using language::Gap;
using language::Input;
using model::Field;
using model::ItemIndex;
using model::Model;

namespace {

/// One verdict that waits.
struct Waits {
    std::uint32_t rule = 0;
    Waiter waiter;
};

/// What waits for one input.
struct Tally {
    double weight = 0.0;
    bool asked = false;
    std::vector<Waits> waits;
};

class Gathering {
  public:
    Gathering(const Model& model, const rules::RuleSet& rules, facts::Facts& facts,
              const text::Sources& sources)
        : model_(model), rules_(rules), facts_(facts), sources_(sources) {
        for (Concession& one : concessions_of(facts))
            if (one.honoured) conceded_.push_back(std::move(one));
    }

    void add(const Survey& judged) {
        for (const Verdicted& one : judged.verdicts) {
            if (one.judgement.verdict == Verdict::not_stated) add_waiting(one);
            if (one.judgement.verdict == Verdict::fails) {
                if (rules_.rules[one.rule].question.empty())
                    add_stated(one);
                else
                    add_failing(one);
            }
            if (one.judgement.verdict == Verdict::undecided) add_undecided(one);
            if (!model_.conflicts.empty()) add_used(one);
        }
    }

    std::vector<Question> questions() {
        std::vector<Question> all = std::move(failing_);
        add_values(all);
        add_unmentioned(all);
        add_loose(all);
        add_doubtful(all);
        add_contradictions(all);
        std::stable_sort(all.begin(), all.end(), [](const Question& a, const Question& b) {
            return a.weight != b.weight ? a.weight > b.weight : a.title < b.title;
        });
        return all;
    }

  private:
    void add_waiting(const Verdicted& one) {
        std::vector<Gap> gaps;
        for (const Gap& gap : one.judgement.gaps) {
            const bool met =
                std::any_of(gaps.begin(), gaps.end(), [&](const Gap& g) { return g.input == gap.input; });
            if (can_be_stated(gap) && !met) gaps.push_back(gap);
        }
        const rules::Rule& rule = rules_.rules[one.rule];
        for (const Gap& gap : gaps) {
            Tally& tally = tallies_[gap.input];
            tally.weight += weight(rule.rule_class) / static_cast<double>(gaps.size());
            tally.asked = tally.asked || gap.reason == Gap::Reason::asked;
            tally.waits.push_back({one.rule, {&rule.applications[one.application], one.item}});
        }
    }

    void add_undecided(const Verdicted& one) {
        const Finding finding = finding_of(one, facts_, sources_, known_);
        if (!finding.decides_input) return;
        Tally& tally = loose_[*finding.decides_input];
        const rules::Rule& rule = rules_.rules[one.rule];
        tally.weight += weight(rule.rule_class);
        tally.waits.push_back({one.rule, {&rule.applications[one.application], one.item}});
    }

    void add_failing(const Verdicted& one) {
        const rules::Rule& rule = rules_.rules[one.rule];
        const Finding finding = finding_of(one, facts_, sources_, known_);
        Question question;
        question.form = Question::Form::failing;
        question.title = fmt::format("{}: {}", item_label(model_, one.item), rule.asks);
        question.text = filled(rule.question, finding);
        question.why = rule.because;
        question.checks = 1;
        question.weight = weight(rule.rule_class);
        question.gravest = rule.rule_class;
        tell_conceded(question, one.rule, one.item);
        failing_.push_back(std::move(question));
    }

    /// A grave check that a value stated by the supplier does not meet: is that value right?
    void add_stated(const Verdicted& one) {
        const rules::Rule& rule = rules_.rules[one.rule];
        if (rule.rule_class > Class::major) return;
        const Finding finding = finding_of(one, facts_, sources_, known_);
        const rules::Application& application = rule.applications[one.application];
        const auto inputs = facts_.inputs_of([&](const language::Context& context) {
            return language::evaluate(application.demands, one.item, context);
        });
        for (const Input& input : inputs) {
            const model::Slot* slot = model_.slot(input.item, input.field);
            const Field& field = model_.kind_of(input.item).fields[input.field];
            const bool at_fault = slot != nullptr && slot->span.source == finding.place.source &&
                                  slot->span.begin == finding.place.begin &&
                                  slot->span.source != text::no_source;
            if (!at_fault || slot->origin != model::Origin::stated ||
                field.answered_by != model::AnsweredBy::supplier)
                continue;
            Tally& tally = stated_[input];
            tally.weight += weight(rule.rule_class);
            tally.waits.push_back({one.rule, {&application, one.item}});
            return;
        }
    }

    /// Questions about values that are stated or assumed, each with the words that `text` makes of it.
    template <typename Words>
    void add_about_stated(const std::map<Input, Tally>& tallies, Question::Form form, const Words& text,
                          std::vector<Question>& all) const {
        for (const auto& [input, tally] : tallies) {
            const Field& field = model_.kind_of(input.item).fields[input.field];
            const model::Slot* slot = model_.slot(input.item, input.field);
            if (slot == nullptr) continue;
            Question question;
            question.form = form;
            question.answered_by = field.answered_by;
            question.title = fmt::format("{} of {}", spoken(field.name), item_spoken(model_, input.item));
            question.text =
                text(show(model_, slot->value, field.type(), input_unit(model_, input)).text, field, *slot);
            question.acceptable = answer_form(field, *model_.vocabulary);
            question.weight = tally.weight;
            tell_waiting(question, tally.waits);
            all.push_back(std::move(question));
        }
    }

    void add_doubtful(std::vector<Question>& all) const {
        const auto text = [](const std::string& value, const Field& field, const model::Slot&) {
            return fmt::format(
                "We have {} ({}). With this value the checks below are not met. Is it right for the part as "
                "delivered, and if so, which part is meant for this use?",
                value, about_spoken(field));
        };
        add_about_stated(stated_, Question::Form::failing, text, all);
    }

    void add_loose(std::vector<Question>& all) const {
        const auto text = [](const std::string& value, const Field& field, const model::Slot& slot) {
            return fmt::format(
                "We count with {}{}. That leaves open what the checks below say. Please state it closer, or "
                "with its tolerance: {}.",
                value, slot.origin == model::Origin::assumed ? ", which is assumed" : "",
                about_spoken(field));
        };
        add_about_stated(loose_, Question::Form::tolerance, text, all);
    }

    /// The words of a rule with its blanks filled.
    std::string filled(const std::string& words, const Finding& finding) const {
        std::string text;
        std::size_t from = 0;
        for (std::size_t at = words.find('{'); at != std::string::npos; at = words.find('{', from)) {
            const std::size_t end = words.find('}', at);
            if (end == std::string::npos) break;
            text += words.substr(from, at - from);
            text += blank_words(words.substr(at + 1, end - at - 1), finding);
            from = end + 1;
        }
        return text + words.substr(from);
    }

    std::string blank_words(const std::string& name, const Finding& finding) const {
        if (name == "item") return item_label(model_, finding.item);
        if (name == "has") return finding.has.text;
        if (name == "needs") return finding.needs_text;
        const auto field = model_.kind_of(finding.item).field(name);
        const model::Slot* slot = field ? model_.slot(finding.item, *field) : nullptr;
        if (slot == nullptr || slot->state == model::Slot::State::asked) return "not stated";
        return show(model_, slot->value, model_.kind_of(finding.item).fields[*field].type(), slot->unit).text;
    }

    void add_used(const Verdicted& one) {
        const rules::Application& application = rules_.rules[one.rule].applications[one.application];
        const auto inputs = facts_.inputs_of([&](const language::Context& context) {
            return language::evaluate(application.demands, one.item, context);
        });
        for (const Input& input : inputs)
            used_[input].insert(one.rule);
    }

    /// The rules behind, gravest first, into what the question says of them.
    void tell_waiting(Question& question, const std::vector<Waits>& waits) const {
        std::vector<const rules::Rule*> by;
        for (const Waits& one : waits)
            by.push_back(&rules_.rules[one.rule]);
        std::stable_sort(by.begin(), by.end(), [](const rules::Rule* a, const rules::Rule* b) {
            return std::pair(a->rule_class, a->name) < std::pair(b->rule_class, b->name);
        });
        for (const rules::Rule* rule : by)
            if (std::find(question.waiting.begin(), question.waiting.end(), rule->asks) ==
                question.waiting.end())
                question.waiting.push_back(rule->asks);
        std::set<std::pair<std::uint32_t, ItemIndex>> verdicts;
        for (const Waits& one : waits)
            if (verdicts.insert({one.rule, one.waiter.item}).second)
                tell_conceded(question, one.rule, one.waiter.item);
        question.checks = verdicts.size();
        if (by.empty()) return;
        question.why = by.front()->because;
        question.gravest = by.front()->rule_class;
    }

    /// A concession does not answer a question; who reads it should know that somebody lives with it
    /// meanwhile.
    void tell_conceded(Question& question, std::uint32_t rule, ItemIndex item) const {
        if (item == model::no_item) return;
        const rules::Rule& asked = rules_.rules[rule];
        for (const Concession& one : conceded_)
            if (one.rule == asked.name && one.item_name == item_label(model_, item))
                return question.conceded.push_back(
                    fmt::format("{}: {} By {}", one.item_name, asked.asks, conceded_words(one)));
    }

    /// Inputs of one field for which the same rules wait are one question.
    void add_values(std::vector<Question>& all) {
        struct Group {
            std::vector<ItemIndex> items;
            std::vector<Waits> waits;
            std::string limit;
            double weight = 0.0;
            bool asked = false;
        };
        using Key = std::tuple<model::KindIndex, model::FieldIndex, std::set<std::uint32_t>, std::string>;
        std::map<Key, Group> groups;
        for (const auto& [input, tally] : tallies_) {
            std::set<std::uint32_t> behind;
            std::vector<Waiter> waiters;
            for (const Waits& one : tally.waits) {
                behind.insert(one.rule);
                waiters.push_back(one.waiter);
            }
            const std::string limit = answer_limit(input, waiters, facts_);
            Group& group = groups[{model_.items[input.item].kind, input.field, std::move(behind), limit}];
            group.items.push_back(input.item);
            group.waits.insert(group.waits.end(), tally.waits.begin(), tally.waits.end());
            group.limit = limit;
            group.weight += tally.weight;
            group.asked = group.asked || tally.asked;
        }
        for (const auto& [key, group] : groups) {
            if (!model_.items[group.items.front()].stated) continue;
            const Field& field = model_.vocabulary->kinds[std::get<0>(key)].fields[std::get<1>(key)];
            Question question;
            question.answered_by = field.answered_by;
            question.title = fmt::format("{} of {}", spoken(field.name), items_spoken(model_, group.items));
            question.text = value_question(field, group.items.size());
            question.ask = field.ask;
            question.acceptable = answer_form(field, *model_.vocabulary);
            question.limit = group.limit;
            question.asked = group.asked;
            question.weight = group.weight;
            tell_waiting(question, group.waits);
            all.push_back(std::move(question));
        }
    }

    /// Of a single item that the description does not mention, all that is wanted is one question to each who
    /// can answer.
    void add_unmentioned(std::vector<Question>& all) {
        struct Part {
            Input input;
            const Tally* tally;
        };
        std::map<std::pair<ItemIndex, model::AnsweredBy>, std::vector<Part>> of_items;
        for (const auto& [input, tally] : tallies_)
            if (!model_.items[input.item].stated)
                of_items[{input.item, model_.kind_of(input.item).fields[input.field].answered_by}].push_back(
                    {input, &tally});
        for (auto& [key, parts] : of_items) {
            std::stable_sort(parts.begin(), parts.end(),
                             [](const Part& a, const Part& b) { return a.tally->weight > b.tally->weight; });
            const model::Kind& kind = model_.kind_of(key.first);
            Question question;
            question.form = Question::Form::item;
            question.answered_by = key.second;
            question.title = item_spoken(model_, key.first);
            question.text = fmt::format("Nothing is stated of {} ({}). Please state what is listed here.",
                                        item_spoken(model_, key.first), kind.about);
            std::vector<Waits> waits;
            for (const Part& part : parts) {
                const Field& field = kind.fields[part.input.field];
                std::vector<Waiter> waiters;
                for (const Waits& one : part.tally->waits)
                    waiters.push_back(one.waiter);
                const std::string limit = answer_limit(part.input, waiters, facts_);
                question.parts.push_back(fmt::format("{}: {}{}", spoken(field.name), about_spoken(field),
                                                     limit.empty() ? "" : "; the checks ask for " + limit));
                question.weight += part.tally->weight;
                waits.insert(waits.end(), part.tally->waits.begin(), part.tally->waits.end());
            }
            question.acceptable = "each value as its paper states it, with its tolerance";
            tell_waiting(question, waits);
            all.push_back(std::move(question));
        }
    }

    void add_contradictions(std::vector<Question>& all) {
        for (const model::Conflict& conflict : model_.conflicts) {
            if (conflict.agree || !model_.items[conflict.item].active) continue;
            const Field& field = model_.kind_of(conflict.item).fields[conflict.field];
            Question question;
            question.form = Question::Form::contradiction;
            question.title = fmt::format("{} of {}", spoken(field.name), item_spoken(model_, conflict.item));
            question.acceptable =
                answer_form(field, *model_.vocabulary) + ", and the paper that is out of date";
            tell_sides(question, conflict, model_, sources_);
            std::vector<Waits> resting;
            for (const std::uint32_t rule : used_[{conflict.item, conflict.field}])
                resting.push_back({rule, {}});
            question.weight = weight(Class::major);  // whatever rests on it: one of both papers is wrong
            for (const Waits& one : resting)
                question.weight += weight(rules_.rules[one.rule].rule_class);
            question.gravest = Class::major;
            question.why = "As long as both stand, whoever builds by one contradicts the other.";
            const std::string why = question.why;
            tell_waiting(question, resting);
            question.why = why;
            question.gravest = std::min(question.gravest, Class::major);
            all.push_back(std::move(question));
        }
    }

    const Model& model_;
    const rules::RuleSet& rules_;
    facts::Facts& facts_;
    const text::Sources& sources_;
    KnownSteps known_ = {};
    std::map<Input, Tally> tallies_;
    std::map<Input, Tally> loose_;
    std::map<Input, Tally> stated_;
    std::map<Input, std::set<std::uint32_t>> used_;
    std::vector<Question> failing_;
    std::vector<Concession> conceded_;  ///< those that are honoured
};

}  // namespace

Request request_model(const Model& model, const rules::RuleSet& rules, const text::Sources& sources) {
    facts::Facts facts(model, rules);
    language::Context context = facts.context();
    const Survey judged = survey(facts, context, model::no_item);
    Gathering gathering(model, rules, facts, sources);
    gathering.add(judged);
    Request request;
    request.questions = gathering.questions();
    request.rules = static_cast<std::size_t>(std::count_if(
        rules.rules.begin(), rules.rules.end(), [](const rules::Rule& rule) { return rule.active; }));
    request.rules_version = rule_set_version();
    request.rules_digest = rules.digest;
    return request;
}

std::optional<Request> request(const std::string& path, const rules::RuleSet& rules, text::Sources& sources,
                               text::Messages& messages, const Options& options) {
    const auto loaded = load(path, rules, sources, messages, options);
    if (!loaded) return std::nullopt;
    Request made = request_model(loaded->model, rules, sources);
    made.file = loaded->name;
    made.title = title_of(loaded->model);
    made.input_digest = loaded->digest;
    return made;
}

}  // namespace packproof::inspect
