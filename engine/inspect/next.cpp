#include "engine/inspect/next.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <map>

#include "engine/inspect/label.hpp"

namespace packproof::inspect {

using language::Gap;
using language::Input;

double weight(Class c) {
    switch (c) {
        case Class::critical:
            return 50.0;
        case Class::major:
            return 10.0;
        case Class::minor:
            return 2.0;
        case Class::observation:
            return 0.5;
    }
    return 0.0;
}

bool can_be_stated(const Gap& gap) {
    return gap.input.item != model::no_item &&
           (gap.reason == Gap::Reason::not_stated || gap.reason == Gap::Reason::asked ||
            gap.reason == Gap::Reason::no_lower_end || gap.reason == Gap::Reason::no_upper_end ||
            gap.reason == Gap::Reason::only_assumed);
}

Wanted wanted(const Gap& gap, const facts::Facts& facts) {
    Wanted wanted;
    wanted.item = gap.input.item;
    wanted.field = gap.input.field;
    if (gap.input.item != model::no_item) {
        const model::Field& field = facts.model().kind_of(gap.input.item).fields[gap.input.field];
        wanted.text = input_label(facts.model(), gap.input);
        wanted.ask = field.ask;
        wanted.answered_by = field.answered_by;
    }
    switch (gap.reason) {
        case Gap::Reason::not_stated:
            break;
        case Gap::Reason::asked:
            wanted.asked = true;
            break;
        case Gap::Reason::no_lower_end:
            wanted.note = "its lower end";
            break;
        case Gap::Reason::no_upper_end:
            wanted.note = "its upper end";
            break;
        case Gap::Reason::only_assumed:
            wanted.note = "so far only assumed";
            break;
        case Gap::Reason::known_none:
            wanted.note = "stated as none, but a value is needed";
            break;
        case Gap::Reason::beyond_table:
            wanted.note = fmt::format("beyond the table {}", facts.rules().tables[gap.table].name);
            break;
        case Gap::Reason::no_such_item:
            wanted.note = "no such item";
            break;
        case Gap::Reason::on_no_way:
            wanted.note = "not joined to a source by what is described";
            break;
        case Gap::Reason::not_a_number:
            wanted.note = "has no value for these numbers";
            break;
    }
    if (wanted.text.empty()) wanted.text = wanted.note.empty() ? "a value" : wanted.note;
    return wanted;
}

std::vector<NextValue> next_values(const std::vector<Waiting>& waiting, const facts::Facts& facts,
                                   std::size_t most) {
    struct Tally {
        double weight = 0.0;
        std::size_t rules = 0;
        Gap::Reason reason = Gap::Reason::not_stated;
        std::vector<const rules::Rule*> by;
    };
    std::map<Input, Tally> tallies;
    for (const Waiting& one : waiting) {
        std::vector<Gap> stateable;
        for (const Gap& gap : one.gaps) {
            const bool met = std::any_of(stateable.begin(), stateable.end(),
                                         [&](const Gap& g) { return g.input == gap.input; });
            if (can_be_stated(gap) && !met) stateable.push_back(gap);
        }
        for (const Gap& gap : stateable) {
            Tally& tally = tallies[gap.input];
            tally.weight += weight(one.rule->rule_class) / static_cast<double>(stateable.size());
            tally.rules += 1;
            if (tally.reason == Gap::Reason::not_stated) tally.reason = gap.reason;
            if (std::find(tally.by.begin(), tally.by.end(), one.rule) == tally.by.end())
                tally.by.push_back(one.rule);
        }
    }
    std::vector<std::pair<Input, Tally>> ranked(tallies.begin(), tallies.end());
    std::stable_sort(ranked.begin(), ranked.end(),
                     [](const auto& a, const auto& b) { return a.second.weight > b.second.weight; });
    if (ranked.size() > most) ranked.resize(most);
    std::vector<NextValue> next;
    for (auto& [input, tally] : ranked) {
        NextValue value;
        value.value = wanted({input, tally.reason, 0}, facts);
        value.rules = tally.rules;
        value.weight = tally.weight;
        std::stable_sort(tally.by.begin(), tally.by.end(), [](const rules::Rule* a, const rules::Rule* b) {
            return std::pair(a->rule_class, a->name) < std::pair(b->rule_class, b->name);
        });
        for (const rules::Rule* rule : tally.by)
            value.rule_names.push_back(rule->name);
        next.push_back(std::move(value));
    }
    return next;
}

}  // namespace packproof::inspect
