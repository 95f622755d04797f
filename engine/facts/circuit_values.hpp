// The inside of circuit.cpp: values of branches with what they rest on, and ways through a network.
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "engine/language/evaluate.hpp"
#include "engine/solve/currents.hpp"

namespace packproof::facts {

/// What an expression gives on an item, why it is missing and what it rests on.
struct Quality {
    model::Value value;
    std::vector<language::Gap> gaps;
    std::vector<language::Input> inputs;
};

/// In `own`, a context that nobody else collects gaps and inputs by.
[[nodiscard]] Quality quality_of(const language::Expression& expression, model::ItemIndex item,
                                 language::Context& own);

/// Adds its gaps and inputs to those that the context collects.
void note(const Quality& quality, const language::Context& context);

/// Numbers and texts only; others count as different.
[[nodiscard]] bool alike(const std::vector<model::Value>& a, const std::vector<model::Value>& b);

/// An exact number that rests on nothing.
[[nodiscard]] model::Value whole_number(std::uint32_t n);

/// The nominal value, or an end that is finite where it is not.
[[nodiscard]] double finite_nominal(const model::Number& number);

/// What the solver wants, over the tolerances and at the nominal values; of branches that do not matter 1 Ω,
/// no voltage and no current.
struct Values {
    explicit Values(std::size_t branches);
    void set_nominal(solve::BranchIndex branch, double resistance, double voltage, double drawn);

    solve::Electrical whole;
    solve::Electrical nominal;
};

struct Way {
    double length = 0.0;
    std::vector<solve::BranchIndex> branches;
};

/// From an end of a source to the nearer end of a branch, over conductors that do not open (E. W. Dijkstra,
/// Numerische Mathematik 1, 1959). Nothing if no way leads there.
[[nodiscard]] std::optional<Way> shortest_way(const solve::Network& network, const solve::Shape& shape,
                                              solve::BranchIndex to,
                                              const std::function<double(solve::BranchIndex)>& length);

}  // namespace packproof::facts
