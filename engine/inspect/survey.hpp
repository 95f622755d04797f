// All rules on all items: the verdicts, what waits for data, what defaults were used.
#pragma once

#include <vector>

#include "engine/inspect/judge.hpp"
#include "engine/inspect/next.hpp"

namespace packproof::inspect {

/// One rule judged on one item.
struct Verdicted {
    std::uint32_t rule = 0;
    std::uint32_t application = 0;
    model::ItemIndex item = model::no_item;
    Judgement judgement;
};

struct Survey {
    std::vector<Verdicted> verdicts;  ///< without those that do not apply
    Coverage coverage;
};

/// Judges every active rule on every active item of its kinds. `item`: only this one if not no_item.
[[nodiscard]] Survey survey(facts::Facts& facts, language::Context& context, model::ItemIndex only);

/// Those that wait for data.
[[nodiscard]] std::vector<Waiting> waiting(const Survey& survey, const rules::RuleSet& rules);

/// The choices that single items state where every choice would be tried otherwise, into `chosen`.
void collect_choices(facts::Facts& facts, Report& report);

/// The defaults that verdicts rest on, each once in order of the items; with alternatives into `tried`.
void collect_assumptions(const Survey& survey, facts::Facts& facts, Report& report);

}  // namespace packproof::inspect
