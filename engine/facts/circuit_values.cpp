#include "engine/facts/circuit_values.hpp"

#include <algorithm>
#include <cmath>
#include <queue>

namespace packproof::facts {

using language::Context;
using model::Value;
using solve::BranchIndex;
using solve::Node;

Quality quality_of(const language::Expression& expression, model::ItemIndex item, Context& own) {
    Quality quality;
    own.gaps = &quality.gaps;
    own.inputs = &quality.inputs;
    quality.value = language::evaluate(expression, item, own);
    own.gaps = nullptr;
    own.inputs = nullptr;
    return quality;
}

void note(const Quality& quality, const Context& context) {
    if (context.gaps != nullptr)
        context.gaps->insert(context.gaps->end(), quality.gaps.begin(), quality.gaps.end());
    if (context.inputs != nullptr)
        context.inputs->insert(context.inputs->end(), quality.inputs.begin(), quality.inputs.end());
}

bool alike(const std::vector<Value>& a, const std::vector<Value>& b) {
    const auto same = [](const Value& x, const Value& y) {
        if (const model::Number* p = x.number(), *q = y.number(); p != nullptr && q != nullptr)
            return p->range == q->range && p->nominal == q->nominal;
        if (const model::Text* p = x.text(), *q = y.text(); p != nullptr && q != nullptr)
            return p->value == q->value && p->alternatives == q->alternatives;
        return false;
    };
    return a.size() == b.size() && std::equal(a.begin(), a.end(), b.begin(), same);
}

Value whole_number(std::uint32_t n) {
    Value value;
    value.content = model::Number{units::Interval::point(n), static_cast<double>(n), {}};
    return value;
}

double finite_nominal(const model::Number& number) {
    for (const double value : {number.nominal, number.range.low, number.range.high})
        if (std::isfinite(value)) return value;
    return 0.0;
}

Values::Values(std::size_t branches) {
    for (solve::Electrical* values : {&whole, &nominal}) {
        values->resistance.assign(branches, {1.0, 1.0});
        values->voltage.assign(branches, {0.0, 0.0});
        values->drawn.assign(branches, {0.0, 0.0});
    }
}

void Values::set_nominal(BranchIndex branch, double resistance, double voltage, double drawn) {
    whole.resistance[branch].low = std::max(0.0, whole.resistance[branch].low);
    nominal.resistance[branch] = units::Interval::point(std::max(0.0, resistance));
    nominal.voltage[branch] = units::Interval::point(voltage);
    nominal.drawn[branch] = units::Interval::point(drawn);
}

std::optional<Way> shortest_way(const solve::Network& network, const solve::Shape& shape, BranchIndex to,
                                const std::function<double(BranchIndex)>& length) {
    constexpr BranchIndex none = static_cast<BranchIndex>(-1);
    std::vector<double> best(network.nodes, units::unbounded);
    std::vector<BranchIndex> by(network.nodes, none);
    std::vector<std::vector<BranchIndex>> at(network.nodes);
    for (BranchIndex b = 0; b < network.branches.size(); ++b) {
        const solve::Branch& branch = network.branches[b];
        if (branch.role != solve::Branch::Role::conductor || branch.opens || b == to) continue;
        at[branch.from].push_back(b);
        at[branch.to].push_back(b);
    }
    using Step = std::pair<double, Node>;
    std::priority_queue<Step, std::vector<Step>, std::greater<>> open;
    for (const solve::Chain& chain : shape.chains)
        for (const auto* poles : {&chain.negative, &chain.positive})
            for (const Node pole : *poles)
                if (best[pole] != 0.0) open.emplace(best[pole] = 0.0, pole);
    while (!open.empty()) {
        const auto [so_far, node] = open.top();
        open.pop();
        if (so_far > best[node]) continue;
        for (const BranchIndex b : at[node]) {
            const Node next =
                network.branches[b].from == node ? network.branches[b].to : network.branches[b].from;
            const double there = so_far + length(b);
            if (!(there < best[next])) continue;
            best[next] = there;
            by[next] = b;
            open.emplace(there, next);
        }
    }
    const solve::Branch& target = network.branches[to];
    Node node = best[target.from] <= best[target.to] ? target.from : target.to;
    if (!std::isfinite(best[node])) return std::nullopt;
    Way way{best[node], {}};
    for (; by[node] != none; node = network.branches[by[node]].from == node ? network.branches[by[node]].to
                                                                            : network.branches[by[node]].from)
        way.branches.push_back(by[node]);
    std::reverse(way.branches.begin(), way.branches.end());
    return way;
}

}  // namespace packproof::facts
