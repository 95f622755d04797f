#include "engine/inspect/judge.hpp"

#include <algorithm>
#include <utility>

namespace packproof::inspect {

using language::Context;
using language::Expression;
using language::Gap;
using language::Node;
using language::NodeIndex;
using language::Operation;
using model::ItemIndex;
using model::Truth;
using model::Value;

namespace {

std::vector<Gap> each_once(const std::vector<Gap>& gaps) {
    std::vector<Gap> once;
    for (const Gap& gap : gaps)
        if (std::find(once.begin(), once.end(), gap) == once.end()) once.push_back(gap);
    return once;
}

/// Evaluates with a list of what is missing, without copying the context.
Value evaluate_noting(const Expression& expression, ItemIndex item, Context& context,
                      std::vector<Gap>& gaps) {
    std::vector<Gap>* const before = std::exchange(context.gaps, &gaps);
    Value value = language::evaluate(expression, item, context);
    context.gaps = before;
    return value;
}

/// Whether the rule applies; where it does not, the judgement says why. Asked first so that an absent value
/// makes the answer unknown: an answer that is known then holds either way.
Truth applies(const Expression& when, ItemIndex item, Context& context, Judgement& judgement) {
    if (when.empty()) return Truth::yes;
    std::vector<Gap> gaps;
    context.absent_is_unknown = true;
    const Truth strict = language::truth_of(evaluate_noting(when, item, context, gaps));
    context.absent_is_unknown = false;
    if (strict != Truth::unknown) return strict;
    std::vector<Gap> plain_gaps;
    const Truth plain = language::truth_of(evaluate_noting(when, item, context, plain_gaps));
    if (plain == Truth::yes || plain == Truth::open) return plain;
    judgement.verdict = Verdict::not_stated;
    judgement.gaps = each_once(plain == Truth::no ? gaps : plain_gaps);
    return plain;
}

bool is_grave(Class c) {
    return c == Class::critical || c == Class::major;
}

/// Items that a fold goes over.
std::vector<ItemIndex> members_of(const Expression& expression, const Node& fold, ItemIndex item,
                                  std::span<const ItemIndex> variables, facts::Facts& facts) {
    std::vector<ItemIndex> found;
    if (fold.first == language::no_node) return facts.model().of_kind[fold.kind];
    const Value list = language::evaluate_node(expression, fold.first, item, variables, facts.context());
    if (const auto* references = list.references())
        for (const model::Reference& reference : *references)
            found.push_back(reference.item);
    return found;
}

class Descent {
  public:
    Descent(const Expression& demand, ItemIndex item, facts::Facts& facts)
        : demand_(demand), item_(item), facts_(facts), context_(facts.context()) {}

    Deciding from(Deciding at) const {
        const Node& node = demand_.nodes[static_cast<std::size_t>(at.node)];
        switch (node.operation) {
            case Operation::logical_not:
                return from({node.first, at.variables, !at.negated});
            case Operation::logical_and:
            case Operation::logical_or: {
                const Truth whole = truth(at.node, at.variables);
                const bool first = truth(node.first, at.variables) == whole;
                return from({first ? node.first : node.second, at.variables, at.negated});
            }
            case Operation::choose: {
                const Truth condition = truth(node.first, at.variables);
                if (condition == Truth::yes) return from({node.second, at.variables, at.negated});
                if (condition == Truth::no) return from({node.third, at.variables, at.negated});
                return at;
            }
            case Operation::fold:
                return into_fold(node, at);
            default:
                return at;
        }
    }

  private:
    Truth truth(NodeIndex node, std::span<const ItemIndex> variables) const {
        return language::truth_of(language::evaluate_node(demand_, node, item_, variables, context_));
    }

    Deciding into_fold(const Node& node, const Deciding& at) const {
        const auto fold = static_cast<language::Fold>(node.index);
        if ((fold != language::Fold::all && fold != language::Fold::any) || node.third == language::no_node)
            return at;
        const Truth whole = truth(at.node, at.variables);
        for (const ItemIndex member : members_of(demand_, node, item_, at.variables, facts_)) {
            std::vector<ItemIndex> bound = at.variables;
            if (bound.size() <= node.variable) bound.resize(node.variable + std::size_t{1}, model::no_item);
            bound[node.variable] = member;
            if (node.second != language::no_node && truth(node.second, bound) == Truth::no) continue;
            if (truth(node.third, bound) == whole) return from({node.third, bound, at.negated});
        }
        return at;
    }

    const Expression& demand_;
    ItemIndex item_;
    facts::Facts& facts_;
    Context context_;
};

}  // namespace

Judgement judge(const rules::Rule& rule, const rules::Application& application, ItemIndex item,
                Context& context) {
    Judgement judgement;
    const Truth applying = applies(application.when, item, context, judgement);
    if (applying == Truth::no || applying == Truth::unknown) return judgement;
    std::vector<Gap> gaps;
    std::vector<language::Input> inputs;
    inputs.reserve(32);
    std::vector<language::Input>* const before = std::exchange(context.inputs, &inputs);
    const Value value = evaluate_noting(application.demands, item, context, gaps);
    context.inputs = before;
    judgement.basis = value.basis;
    if (value.basis.assumed) judgement.inputs = std::move(inputs);
    switch (language::truth_of(value)) {
        case Truth::yes:
            judgement.verdict = Verdict::conforms;
            break;
        case Truth::no:  // a rule that only may apply can only be undecided
            judgement.verdict = applying == Truth::yes ? Verdict::fails : Verdict::undecided;
            break;
        case Truth::open:
            judgement.verdict = Verdict::undecided;
            break;
        case Truth::unknown:
            judgement.verdict = Verdict::not_stated;
            break;
    }
    if (judgement.verdict == Verdict::not_stated) judgement.gaps = each_once(gaps);
    const bool decided = judgement.verdict == Verdict::conforms || judgement.verdict == Verdict::fails;
    if (decided && value.basis.guess && is_grave(rule.rule_class)) {
        judgement.verdict = Verdict::undecided;
        judgement.on_guess = true;
    }
    return judgement;
}

Deciding deciding_part(const Expression& demand, ItemIndex item, facts::Facts& facts) {
    return Descent(demand, item, facts).from({demand.root, {}, false});
}

}  // namespace packproof::inspect
