#include "engine/facts/facts.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <memory>
#include <set>
#include <utility>

#include "engine/rules/table.hpp"

namespace packproof::facts {

using language::Box;
using language::Context;
using language::Expression;
using language::Input;
using language::NodeIndex;
using language::Operation;
using model::ItemIndex;
using model::Truth;
using model::Value;

Facts::Facts(const model::Model& model, const rules::RuleSet& rules, SolverMemory* memory)
    : model_(model), rules_(rules), solvers_(model, rules, memory) {
    std::size_t total = 0;
    first_.reserve(rules.quantities.size());
    for (const rules::QuantityDefinition& quantity : rules.quantities) {
        first_.push_back(total);
        total += model.of_kind[quantity.kind].size();
    }
    memory_.resize(total);
    std::size_t fields = 0;
    met_.first.reserve(model.items.size());
    for (const model::Item& item : model.items) {
        met_.first.push_back(fields);
        fields += model.vocabulary->kinds[item.kind].fields.size();
    }
    met_.when.assign(fields, 0);
    plain_ = context();
}

/// In the order of their first mention. Where each was met last is marked by the number of the list.
std::vector<Input> Facts::each_once(std::span<Input> inputs) {
    ++met_.list;
    auto end = inputs.begin();
    for (const Input& input : inputs)
        if (std::exchange(met_.when[met_.first[input.item] + input.field], met_.list) != met_.list)
            *end++ = input;
    return {inputs.begin(), end};
}

const Facts::Remembered& Facts::remembered(std::uint16_t quantity, ItemIndex item) {
    Remembered& entry = memory_[first_[quantity] + model_.items[item].position];
    if (entry.known) return entry;
    std::vector<language::Gap> gaps;
    const std::size_t first = read_.size();
    std::vector<language::Gap>* const gaps_before = std::exchange(plain_.gaps, &gaps);
    std::vector<Input>* const inputs_before = std::exchange(plain_.inputs, &read_);
    Value value = compute(quantity, item, plain_);
    plain_.gaps = gaps_before;
    plain_.inputs = inputs_before;
    entry = {true, std::move(value), std::move(gaps), each_once(std::span(read_).subspan(first))};
    read_.resize(first);
    return entry;
}

/// A quantity as the context asks for it: while table blocks are collected, and inside a box where it rests
/// on one of the `replaced` inputs, anew (at most once a context); else from memory, with what it lacks and
/// rests on.
Value Facts::derive(std::uint16_t quantity, ItemIndex item, const Context& context,
                    std::span<const Input> replaced) {
    if (blocks_ != nullptr) return compute(quantity, item, context);
    const Remembered& entry = remembered(quantity, item);
    const auto is_replaced = [&](const Input& input) {
        return std::binary_search(replaced.begin(), replaced.end(), input);
    };
    if (context.box != nullptr && std::any_of(entry.inputs.begin(), entry.inputs.end(), is_replaced))
        return compute(quantity, item, context);
    if (context.gaps != nullptr)
        context.gaps->insert(context.gaps->end(), entry.gaps.begin(), entry.gaps.end());
    if (context.inputs != nullptr)
        context.inputs->insert(context.inputs->end(), entry.inputs.begin(), entry.inputs.end());
    return entry.value;
}

Value Facts::compute(std::uint16_t quantity, ItemIndex item, const Context& context) {
    const rules::QuantityDefinition& definition = rules_.quantities[quantity];
    if (definition.solved) return solve(*definition.solved, item, context);
    if (definition.asked) {
        if (context.box == nullptr && blocks_ != nullptr) {  // its numbers are gathered once: not seen again
            const std::shared_ptr<const Behind> seen = behind(quantity, item);
            blocks_->insert(seen->blocks.begin(), seen->blocks.end());
        }
        return over_whole_box(
            context, [&](const Context& own) { return solvers_.answer(*definition.asked, item, own); });
    }
    return language::evaluate(definition.value, item, context);
}

Circuit& Facts::circuit(std::size_t network) {
    if (circuits_.empty()) circuits_.resize(rules_.networks.size());
    if (circuits_[network] == nullptr)
        circuits_[network] = std::make_unique<Circuit>(rules_.networks[network], model_, context());
    return *circuits_[network];
}

/// While table blocks are collected, by a circuit of its own, which reads every value anew.
Value Facts::solve(const rules::Solved& asked, ItemIndex item, const Context& asking) {
    return over_whole_box(asking, [&](const Context& own) {
        if (asking.box != nullptr || blocks_ == nullptr)
            return circuit(asked.network).solve(asked, item, own);
        return Circuit(rules_.networks[asked.network], model_, own).solve(asked, item, own);
    });
}

/// In a box with slopes what is solved is worked out over the whole box (see Circuit::solve); else in a
/// context of its own, where no quantity is remembered from one that was cut.
Value Facts::over_whole_box(const Context& asking, const std::function<Value(const Context&)>& work) {
    if (asking.box != nullptr && !asking.box->slopes) return work(asking);
    std::optional<Box> whole;
    if (asking.box != nullptr)
        whole = Box{asking.box->inputs,
                    asking.box->whole.empty() ? asking.box->values : asking.box->whole,
                    false,
                    {}};
    Context own = context(whole ? &*whole : nullptr);
    own.gaps = asking.gaps;
    own.inputs = asking.inputs;
    return work(own);
}

Account Facts::account_of(std::uint16_t quantity, ItemIndex item) {
    Account account;
    const rules::QuantityDefinition& definition = rules_.quantities[quantity];
    if (definition.solved)
        (void)circuit(definition.solved->network).solve(*definition.solved, item, context(), &account);
    return account;
}

const SolverGiven* Facts::given_to_solver(std::uint16_t quantity, ItemIndex item) {
    const rules::SolverAsked& asked = *rules_.quantities[quantity].asked;
    const ItemIndex whole = solvers_.whole_of(asked, item);
    if (whole == model::no_item) return nullptr;
    const std::optional<SolverGiven>& given = solvers_.given_once(asked.solver, whole, context());
    return given ? &*given : nullptr;
}

/// Evaluates a formula with nothing settled, so that both branches of what is open are seen.
Facts::Watched Facts::watch(const Formula& formula) {
    Watched seen;
    Context watching = context();
    watching.settle = nullptr;
    watching.quantity = [&](std::uint16_t quantity, ItemIndex of, const Context&) {
        seen.direct.push_back({quantity, of});
        return watched({quantity, of}).value;
    };
    std::set<BlockUse>* const outer = std::exchange(blocks_, &seen.blocks);
    seen.value = formula(watching);
    blocks_ = outer;
    return seen;
}

const Facts::Watched& Facts::watched(const Key& key) {
    if (const auto known = watched_.find(key); known != watched_.end()) return known->second;
    Watched seen = watch([&](const Context& with) { return compute(key.first, key.second, with); });
    return watched_.emplace(key, std::move(seen)).first->second;
}

Behind Facts::behind(const Formula& formula) {
    Behind found;
    std::set<Key> met;
    const std::function<void(const Watched&)> descend = [&](const Watched& seen) {
        found.blocks.insert(seen.blocks.begin(), seen.blocks.end());
        for (const Key& key : seen.direct) {
            if (!met.insert(key).second) continue;
            const Watched& needed = watched(key);
            descend(needed);
            found.quantities.push_back({key.first, key.second, needed.value});
        }
    };
    descend(watch(formula));
    return found;
}

std::shared_ptr<const Behind> Facts::behind(std::uint16_t quantity, ItemIndex item) {
    const Formula parts = [&](const Context& with) {
        evaluate_parts(quantity, item, with);
        return Value{};
    };
    const rules::QuantityDefinition& definition = rules_.quantities[quantity];
    if (!definition.asked) return std::make_shared<Behind>(behind(parts));
    const std::pair key{definition.asked->solver, solvers_.whole_of(*definition.asked, item)};
    if (const auto known = behind_solvers_.find(key); known != behind_solvers_.end()) return known->second;
    return behind_solvers_.emplace(key, std::make_shared<Behind>(behind(parts))).first->second;
}

void Facts::evaluate_parts(std::uint16_t quantity, ItemIndex item, const Context& with) {
    const rules::QuantityDefinition& definition = rules_.quantities[quantity];
    if (definition.asked) {
        const ItemIndex whole = solvers_.whole_of(*definition.asked, item);
        if (whole != model::no_item)
            (void)solvers_.given(rules_.solvers[definition.asked->solver], whole, with);
    }
    if (!definition.solved || !rules::needs_case(definition.solved->question)) return;
    const rules::Solved& asked = *definition.solved;
    for (const Account::Part& part : account_of(quantity, item).parts)
        for (const rules::NetworkBranch& branch : rules_.networks[asked.network].branches) {
            if (branch.kind != model_.items[part.item].kind) continue;
            for (const auto* values : {&branch.resistance, &branch.voltage, &branch.drawn})
                if (!(*values)[asked.in_case].empty())
                    (void)language::evaluate((*values)[asked.in_case], part.item, with);
        }
}

Context Facts::context(const Box* box) {
    Context context;
    context.model = &model_;
    context.box = box;
    struct InBox {
        std::map<Key, Value> values;
        std::vector<Input> replaced;  ///< sorted
    };
    auto met = std::make_shared<InBox>();
    if (box != nullptr) {
        met->replaced = box->inputs;
        std::sort(met->replaced.begin(), met->replaced.end());
    }
    context.quantity = [this, met, box](std::uint16_t quantity, ItemIndex item,
                                        const Context& asking) -> Value {
        if (asking.box == nullptr && blocks_ == nullptr) return derive(quantity, item, asking, {});
        if (asking.box != box)  // another box: other values, other slopes
            return compute(quantity, item, asking);
        if (const auto known = met->values.find({quantity, item}); known != met->values.end())
            return known->second;
        Value value = derive(quantity, item, asking, met->replaced);
        met->values.emplace(Key{quantity, item}, value);
        return value;
    };
    context.lookup = [this](std::uint32_t table, std::uint32_t column, std::span<const Value> keys) -> Value {
        if (blocks_ == nullptr) return rules::look_up(rules_.tables[table], column, keys, nullptr);
        std::vector<std::uint16_t> used;
        Value value = rules::look_up(rules_.tables[table], column, keys, &used);
        for (const std::uint16_t block : used)
            blocks_->insert({table, block});
        return value;
    };
    context.next = [this](std::uint32_t table, bool up, const Value& x) -> Value {
        if (blocks_ != nullptr) blocks_->insert({table, std::uint16_t{0}});
        return rules::next_in_series(rules_.tables[table], up, x);
    };
    if (box == nullptr)
        context.settle = [this](const Expression& expression, NodeIndex comparison, ItemIndex item,
                                std::span<const ItemIndex> variables) {
            return settle(expression, comparison, item, variables);
        };
    return context;
}

std::vector<Input> Facts::inputs_of(const Formula& formula) {
    std::vector<Input> inputs;
    Context collecting = context();
    collecting.settle = nullptr;
    collecting.inputs = &inputs;
    (void)formula(collecting);
    return each_once(inputs);
}

Study Facts::study(const Formula& formula, const std::vector<Input>& pinned) {
    Study study;
    Box box;
    for (const Input& input : inputs_of(formula)) {
        const model::Slot* slot = model_.slot(input.item, input.field);
        if (slot == nullptr) continue;
        const model::Number* number = slot->value.number();
        const model::Text* text = slot->value.text();
        const bool wide = number != nullptr && !number->range.is_point();
        const bool several = text != nullptr && text->alternatives.size() > 1;
        if (!wide && !several) continue;
        box.inputs.push_back(input);
        box.values.push_back(slot->value);
        study.widths.push_back(wide ? number->range.width() : 1.0);
        if (std::find(pinned.begin(), pinned.end(), input) == pinned.end()) continue;
        study.widths.back() = 0.0;
        if (wide) {
            box.values.back().content =
                model::Number{units::Interval::point(number->nominal), number->nominal, {}};
        } else {
            box.values.back().content = model::Text{text->value, {}};
        }
    }
    study.inputs = box.inputs;
    study.refined = language::refine([&](const Box& part) { return formula(context(&part)); }, box);
    return study;
}

Truth Facts::settle(const Expression& expression, NodeIndex comparison, ItemIndex item,
                    std::span<const ItemIndex> variables) {
    const language::Node& node = expression.nodes[static_cast<std::size_t>(comparison)];
    const std::vector<ItemIndex> bound(variables.begin(), variables.end());
    auto side = [&](NodeIndex which, const Context& context) {
        return language::evaluate_node(expression, which, item, bound, context);
    };
    // What decimal input cannot tell apart counts as equal, here as in plain comparison.
    double hair = 0.0;
    for (const NodeIndex which : {node.first, node.second})
        if (const Value value = side(which, context()); const model::Number* number = value.number())
            if (std::isfinite(number->nominal)) hair = std::max(hair, 1e-12 * std::abs(number->nominal));
    /// Truth of "a number is at most zero" (or below it) over everything that the inputs allow.
    auto at_most_zero = [&](const Formula& formula, bool strictly) {
        const language::Refined refined = study(formula).refined;
        if (refined.missing) return Truth::unknown;
        if (strictly ? refined.range.high < -hair : refined.range.high <= hair) return Truth::yes;
        if (strictly ? refined.range.low >= -hair : refined.range.low > hair) return Truth::no;
        return Truth::open;
    };
    auto first_less_second = [&](bool strictly) {
        return at_most_zero(
            [&](const Context& c) { return language::difference(side(node.first, c), side(node.second, c)); },
            strictly);
    };
    auto second_less_first = [&](bool strictly) {
        return at_most_zero(
            [&](const Context& c) { return language::difference(side(node.second, c), side(node.first, c)); },
            strictly);
    };
    auto end_of = [&](const Value& range, bool upper) {
        Value end;
        end.basis = range.basis;
        if (const model::Range* r = range.range()) {
            const units::Interval ends = upper ? r->upper : r->lower;
            end.content = model::Number{ends, upper ? ends.low : ends.high, {}};
        }
        return end;
    };
    switch (node.operation) {
        case Operation::less:
            return first_less_second(true);
        case Operation::less_equal:
            return first_less_second(false);
        case Operation::greater:
            return second_less_first(true);
        case Operation::greater_equal:
            return second_less_first(false);
        case Operation::within: {
            const Truth above = at_most_zero(
                [&](const Context& c) {
                    return language::difference(end_of(side(node.second, c), false), side(node.first, c));
                },
                false);
            const Truth below = at_most_zero(
                [&](const Context& c) {
                    return language::difference(side(node.first, c), end_of(side(node.second, c), true));
                },
                false);
            return language::both(above, below);
        }
        default:
            return Truth::open;
    }
}

}  // namespace packproof::facts
