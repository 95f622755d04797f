#include "engine/facts/circuit.hpp"

#include <algorithm>
#include <cmath>

#include "engine/facts/circuit_values.hpp"
#include "engine/solve/blocks.hpp"

namespace packproof::facts {

using language::Context;
using language::Gap;
using language::Input;
using model::ItemIndex;
using model::Truth;
using model::Value;
using rules::Question;
using solve::BranchIndex;
using solve::Node;
using Role = solve::Branch::Role;

namespace {

Value truth(bool yes) {
    Value value;
    value.content = yes ? Truth::yes : Truth::no;
    return value;
}

/// Missing, because the item is on no way that the description joins.
Value on_no_way(const Context& context) {
    if (context.gaps != nullptr) context.gaps->push_back({{}, Gap::Reason::on_no_way, 0});
    return {};
}

/// Whether a current is that of all voltages over all resistances: not so where a source is turned round.
bool is_quotient(const Account& account, double current) {
    double voltage = 0.0;
    double resistance = 0.0;
    for (const Account::Part& part : account.parts) {
        voltage += part.voltage;
        resistance += part.resistance;
    }
    return std::abs(voltage - std::abs(current) * resistance) <= 1e-9 * voltage;
}

}  // namespace

std::optional<BranchIndex> Circuit::branch_of(ItemIndex item) const {
    if (branch_of_item_[item] == no_branch) return std::nullopt;
    return branch_of_item_[item];
}

/// Missing, because the item is on no way, and for the ends of it that are not known.
Value Circuit::unplaced(ItemIndex item, const Context& context) const {
    if (context.gaps != nullptr)
        for (const auto& [without_place, gap] : unplaced_)
            if (without_place == item) context.gaps->push_back(gap);
    return on_no_way(context);
}

Value Circuit::solve(const rules::Solved& asked, ItemIndex item, const Context& context, Account* account) {
    if (!rules::needs_case(asked.question) && asked.question != Question::distance_from_source)
        return from_shape(asked.question, item, context);
    const auto branch = branch_of(item);
    if (!branch) return unplaced(item, context);
    if (asked.question == Question::distance_from_source) return distance(*branch, context, account);
    return from_values(asked, *branch, context, account);
}

std::vector<CircuitBranch> Circuit::branches(std::size_t in_case, const Context& context) {
    const CaseValues& values = values_of(in_case, context);
    auto nominal = [](const Quality& quality) {
        const model::Number* number = quality.value.number();
        return number == nullptr ? std::nullopt : std::optional(finite_nominal(*number));
    };
    std::vector<CircuitBranch> found;
    for (BranchIndex b = 0; b < items_.size(); ++b)
        found.push_back({items_[b], network_.branches[b], nominal(values[b].resistance),
                         nominal(values[b].voltage), nominal(values[b].drawn)});
    return found;
}

std::vector<std::pair<Node, Node>> Circuit::faults(Question question, ItemIndex item) const {
    std::vector<std::pair<Node, Node>> found;
    if (const auto branch = branch_of(item))
        for (const Trial& trial : trials(question, *branch))
            if (trial.joined) found.push_back(*trial.joined);
    return found;
}

Value Circuit::from_shape(Question question, ItemIndex item, const Context& context) {
    if (question == Question::length_of_chain) {
        std::uint32_t longest = 0;
        for (const solve::Chain& chain : shape_.chains)
            longest = std::max(longest, chain.length);
        return shape_.chains.empty() ? on_no_way(context) : whole_number(longest);
    }
    const auto branch = branch_of(item);
    if (!branch || (question == Question::in_circuit && !shape_.closed)) return unplaced(item, context);
    switch (question) {
        case Question::in_circuit:
            return truth(shape_.in_circuit[*branch]);
        case Question::place_in_chain:
            return shape_.place[*branch] == 0 ? on_no_way(context) : whole_number(shape_.place[*branch]);
        case Question::sources_beside:
            return shape_.place[*branch] == 0 ? on_no_way(context)
                                              : whole_number(shape_.side_by_side[*branch]);
        case Question::against_chain:
            return truth(shape_.reversed[*branch]);
        case Question::shorted:
            return truth(shape_.shorted[*branch]);
        case Question::from_joined:
            return truth(shape_.from_joined[*branch]);
        case Question::to_joined:
            return truth(shape_.to_joined[*branch]);
        default: {
            std::vector<model::Reference> openers;
            if (openers_.empty()) openers_ = solve::openers_of(network_);
            for (const BranchIndex opener : openers_[*branch])
                openers.push_back({items_[opener], {}});
            Value value;
            value.content = std::move(openers);
            return value;
        }
    }
}

/// The way may pass anything but what opens; the branch itself is reached at its nearer end.
Value Circuit::distance(BranchIndex branch, const Context& context, Account* account) {
    std::vector<Quality> lengths(network_.branches.size());
    Context own = context;
    for (BranchIndex b = 0; b < lengths.size(); ++b)
        if (!how_[b]->length.empty()) lengths[b] = quality_of(how_[b]->length, items_[b], own);
    auto way = [&](auto&& length_of) {
        return shortest_way(network_, shape_, branch, [&](BranchIndex b) -> double {
            const model::Number* number = lengths[b].value.number();
            return number == nullptr ? 0.0 : length_of(*number);
        });
    };
    const auto least = way([](const model::Number& n) { return n.range.low; });
    if (!least) return on_no_way(context);
    const auto most = way([](const model::Number& n) { return n.range.high; });
    Value value;
    bool missing = false;
    for (const BranchIndex b : least->branches) {
        note(lengths[b], context);
        missing = missing || (!how_[b]->length.empty() && lengths[b].value.number() == nullptr);
        value.basis = value.basis | lengths[b].value.basis;
        if (account != nullptr && lengths[b].value.number() != nullptr)
            account->parts.push_back({items_[b], 0.0, 0.0, 0.0, lengths[b].value.number()->nominal});
    }
    if (missing) return {};
    double nominal = 0.0;
    for (const BranchIndex b : least->branches)
        if (const model::Number* number = lengths[b].value.number()) nominal += number->nominal;
    value.content = model::Number{{least->length, std::max(least->length, most->length)}, nominal, {}};
    return value;
}

Circuit::CaseValues Circuit::read_case(std::size_t in_case, const Context& context) const {
    CaseValues values(items_.size());
    Context own = context;
    for (BranchIndex b = 0; b < items_.size(); ++b) {
        auto read = [&](const std::vector<language::Expression>& of_case, Quality& into) {
            if (in_case < of_case.size() && !of_case[in_case].empty())
                into = quality_of(of_case[in_case], items_[b], own);
        };
        read(how_[b]->resistance, values[b].resistance);
        read(how_[b]->voltage, values[b].voltage);
        read(how_[b]->drawn, values[b].drawn);
    }
    return values;
}

/// Those of the whole box: see Box::whole.
const Circuit::CaseValues& Circuit::values_of(std::size_t in_case, const Context& context) {
    if (context.box == nullptr) {
        if (!remembered_[in_case]) remembered_[in_case] = read_case(in_case, context);
        return *remembered_[in_case];
    }
    const std::vector<Value>& whole = context.box->whole.empty() ? context.box->values : context.box->whole;
    if (!in_box_ || in_box_->in_case != in_case || in_box_->inputs != context.box->inputs ||
        !alike(in_box_->whole, whole)) {
        in_box_ = {in_case, context.box->inputs, whole, read_case(in_case, context)};
    }
    return in_box_->values;
}

std::vector<Circuit::Trial> Circuit::greatest_faults(BranchIndex branch) const {
    std::vector<Trial> found;
    const solve::Branch& at = network_.branches[branch];
    auto add = [&](const std::vector<Node>& some, const std::vector<Node>& others) {
        for (const Node a : some)
            for (const Node b : others)
                found.push_back({branch, std::pair{a, b}, {}});
    };
    const std::vector<Node> ends{at.from, at.to};
    for (const solve::Chain& chain : shape_.chains) {
        if (chain.length == 0) continue;
        const Node here = shape_.joined[at.from];
        const bool conductor = at.role == Role::conductor;
        const bool positive = conductor && here == shape_.joined[chain.positive.front()];
        const bool negative = conductor && here == shape_.joined[chain.negative.front()];
        if (positive && !negative) add(ends, chain.negative);
        if (negative && !positive) add(chain.positive, ends);
        if (!positive && !negative) add(chain.positive, chain.negative);
    }
    return found;
}

std::vector<Circuit::Trial> Circuit::least_faults(BranchIndex branch) const {
    std::vector<Trial> found;
    for (BranchIndex b = 0; b < network_.branches.size(); ++b) {
        const solve::Branch& sink = network_.branches[b];
        if (sink.role == Role::sink && shape_.in_circuit[b])
            found.push_back({branch, std::pair{sink.from, sink.to}, {}});
    }
    return found;
}

/// Every sink; and what is left of the branch's closed ways when no sink is: where that is the branch alone,
/// what the sinks draw is all that counts.
std::vector<bool> Circuit::bears_on_current(BranchIndex branch) const {
    solve::Network without_sinks = network_;
    for (solve::Branch& each : without_sinks.branches)
        if (each.role == Role::sink) each.to = each.from;
    const std::vector<std::size_t> blocks = solve::blocks_of(without_sinks);
    std::size_t in_block = 0;
    for (const std::size_t block : blocks)
        in_block += block == blocks[branch] ? 1 : 0;
    std::vector<bool> bears;
    for (BranchIndex b = 0; b < network_.branches.size(); ++b)
        bears.push_back(network_.branches[b].role == Role::sink ||
                        (in_block > 1 && blocks[b] == blocks[branch]));
    return bears;
}

std::vector<Circuit::Trial> Circuit::trials(Question question, BranchIndex branch) const {
    std::vector<Trial> asked;
    if (question == Question::greatest_fault) asked = greatest_faults(branch);
    if (question == Question::least_fault) asked = least_faults(branch);
    std::vector<Trial> found;
    for (Trial& trial : asked) {
        solve::Network faulted = network_;
        faulted.branches.push_back({trial.joined->first, trial.joined->second, Role::conductor, false});
        for (solve::Branch& each : faulted.branches)  // a sink is no way for a fault
            if (each.role == Role::sink) each.to = each.from;
        const std::vector<std::size_t> blocks = solve::blocks_of(faulted);
        if (trial.joined->first == trial.joined->second || blocks[branch] != blocks.back()) continue;
        for (BranchIndex b = 0; b < network_.branches.size(); ++b)
            trial.matters.push_back(blocks[b] == blocks.back());
        found.push_back(std::move(trial));
    }
    if (question == Question::resistance && shape_.in_circuit[branch])
        found.push_back({branch, std::nullopt, shape_.in_circuit});
    if (question == Question::current && shape_.in_circuit[branch])
        found.push_back({branch, std::nullopt, bears_on_current(branch)});
    return found;
}

Value Circuit::from_values(const rules::Solved& asked, BranchIndex branch, const Context& context,
                           Account* account) {
    const std::vector<Trial> all = trials(asked.question, branch);
    if (all.empty()) return on_no_way(context);
    // In a box with slopes this context's own quantities would be those of the cut box.
    const CaseValues& values = values_of(asked.in_case, context);
    const bool least = asked.question == Question::least_fault;
    std::optional<Value> worst;
    for (const Trial& trial : all) {
        Account own;
        Value value = answer(trial, values, asked.question == Question::resistance, context, &own);
        const model::Number* number = value.number();
        if (number == nullptr) return {};
        const bool first = !worst;
        if (first) worst = value;
        model::Number& so_far = std::get<model::Number>(worst->content);
        const bool worse = least ? number->nominal < so_far.nominal : number->nominal > so_far.nominal;
        if (account != nullptr && (first || worse)) *account = std::move(own);
        worst->basis = worst->basis | value.basis;
        auto pick = [least](double a, double b) { return least ? std::min(a, b) : std::max(a, b); };
        so_far = {{pick(so_far.range.low, number->range.low), pick(so_far.range.high, number->range.high)},
                  pick(so_far.nominal, number->nominal),
                  {}};
    }
    return std::move(*worst);
}

Value Circuit::answer(const Trial& trial, const CaseValues& values, bool resistance, const Context& context,
                      Account* account) const {
    Values sums(network_.branches.size());
    Value answer;
    bool missing = false;
    auto take = [&](const Quality& quality, units::Interval& range, double& nominal) {
        note(quality, context);
        answer.basis = answer.basis | quality.value.basis;
        const model::Number* number = quality.value.number();
        missing = missing || number == nullptr;
        if (number == nullptr) return;
        range = number->range;
        nominal = finite_nominal(*number);
    };
    for (BranchIndex b = 0; b < network_.branches.size(); ++b) {
        if (!trial.matters[b]) continue;
        Account::Part part{items_[b], 0.0, 0.0, 0.0, 0.0};
        const Role role = network_.branches[b].role;
        if (role == Role::sink) {
            if (resistance) continue;
            take(values[b].drawn, sums.whole.drawn[b], part.drawn);
            if (!shape_.in_circuit[b] && sums.whole.drawn[b] != units::Interval{0.0, 0.0}) {
                (void)on_no_way(context);  // it draws, but where is not described
                missing = true;
            }
        } else {
            take(values[b].resistance, sums.whole.resistance[b], part.resistance);
            if (role == Role::source && !resistance)
                take(values[b].voltage, sums.whole.voltage[b], part.voltage);
        }
        sums.set_nominal(b, part.resistance, part.voltage, part.drawn);
        account->parts.push_back(part);
    }
    if (missing) return {};
    const solve::Branch& at = network_.branches[trial.branch];
    if (resistance) {
        const units::Interval range = solve::resistance_between(network_, sums.whole, at.from, at.to);
        if (std::isinf(range.low)) return on_no_way(context);
        const units::Interval nominal = solve::resistance_between(network_, sums.nominal, at.from, at.to);
        answer.content = model::Number{range, nominal.low, {}};
        return answer;
    }
    const auto found = solve::current_through(network_, sums.whole, trial.branch, trial.joined);
    const auto nominal = solve::current_through(network_, sums.nominal, trial.branch, trial.joined);
    if (!found || !nominal) {
        if (context.gaps != nullptr) context.gaps->push_back({{}, Gap::Reason::not_a_number, 0});
        return {};
    }
    account->one_way = !found->way.empty() && is_quotient(*account, nominal->range.low);
    answer.content = model::Number{units::absolute(found->range), std::abs(nominal->range.low), {}};
    return answer;
}

}  // namespace packproof::facts
