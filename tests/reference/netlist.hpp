// A netlist for SPICE of many copies of networks, each copy one question, and what packproof answers to it.
// Resistances and voltages are written a million times as large, so that none is too small for SPICE; the
// currents stay as they are.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "engine/solve/currents.hpp"

namespace packproof::reference {

/// A network at points: values as of solve::Electrical.
struct Points {
    solve::Network network;
    std::vector<double> resistance;
    std::vector<double> voltage;
    std::vector<double> drawn;
};

class Netlist {
  public:
    explicit Netlist(std::string title);

    /// Adds a copy and returns the names of the currents of its branches, "" of sinks. With `joined` two
    /// nodes are shorted and nothing is drawn; else what lies in a circuit draws.
    std::vector<std::string> add(const Points& points,
                                 std::optional<std::pair<solve::Node, solve::Node>> joined);
    /// Adds a copy without voltages and returns the name of the voltage, Ω times a million, that one ampere
    /// makes between two nodes.
    std::string add_resistance(const Points& points, solve::Node from, solve::Node to);

    enum class Pick { greatest, least };
    /// The greatest or least magnitude among named results must be this.
    void expect(double value, Pick pick, const std::vector<std::string>& results, const std::string& label);

    [[nodiscard]] std::size_t expectations() const { return expected_; }
    /// For `ngspice -b`: prints every result that was named.
    [[nodiscard]] std::string circuit() const;
    /// A line each: value, greatest or least, names joined by commas, label.
    [[nodiscard]] const std::string& expectation_lines() const { return expectations_; }

  private:
    void ground(const Points& points, const std::string& copy,
                std::optional<std::pair<solve::Node, solve::Node>> joined);

    std::string lines_;
    std::string prints_;
    std::string expectations_;
    std::size_t copies_ = 0;
    std::size_t expected_ = 0;
};

}  // namespace packproof::reference
