// The verdict of one rule on one item, and which comparison decides it.
#pragma once

#include <vector>

#include "engine/facts/facts.hpp"
#include "engine/inspect/finding.hpp"

namespace packproof::inspect {

struct Judgement {
    Verdict verdict = Verdict::not_applicable;
    model::Basis basis;                   ///< what the demand's value rests on
    std::vector<language::Gap> gaps;      ///< of not stated: what is missing, each once
    std::vector<language::Input> inputs;  ///< that a verdict on defaults rests on, with repeats
    bool on_guess = false;                ///< undecided only because a guess went into it
};

/// `when` first: false makes the rule not applicable, unless it is false only for want of data; open lets it
/// conform (it does either way) but not fail. Then `demands`.
/// A critical or major verdict that rests on a guess is undecided. The context is as before afterwards.
[[nodiscard]] Judgement judge(const rules::Rule& rule, const rules::Application& application,
                              model::ItemIndex item, language::Context& context);

/// The part of a demand that makes it what it is: of `a and b` the side that fails, of `all(...)` the first
/// item that fails, and so on down to a comparison or a single statement.
struct Deciding {
    language::NodeIndex node = language::no_node;
    std::vector<model::ItemIndex> variables;  ///< as bound there
    bool negated = false;                     ///< stands under an odd number of `not`
};
[[nodiscard]] Deciding deciding_part(const language::Expression& demand, model::ItemIndex item,
                                     facts::Facts& facts);

}  // namespace packproof::inspect
