// Two halves of a comparison with SPICE: `write FOLDER [DESCRIPTION...]` writes a netlist of each
// description's networks, and of random ones if none is named, with the answers of packproof; `compare
// FOLDER` holds those against what SPICE printed into NAME.out. Every answer must agree to 1e-6 of its value.
#include <fmt/core.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <map>
#include <random>
#include <set>
#include <sstream>
#include <tuple>

#include "engine/facts/facts.hpp"
#include "engine/model/build_model.hpp"
#include "engine/rules/built_in.hpp"
#include "tests/reference/netlist.hpp"

namespace {

using namespace packproof;
using reference::Netlist;
using reference::Points;
using Role = solve::Branch::Role;

constexpr double agreement = 1e-6;  // of the value
constexpr double nothing = 1e-6;    // A; below it both count as none

bool write(const std::filesystem::path& path, const std::string& text) {
    std::ofstream file(path, std::ios::binary);
    file << text;
    return static_cast<bool>(file);
}

bool save(const Netlist& netlist, const std::filesystem::path& folder, const std::string& name) {
    return write(folder / (name + ".cir"), netlist.circuit()) &&
           write(folder / (name + ".expected"), netlist.expectation_lines());
}

/// What is not stated does not bear on an answer that there is; it stands as the solver's placeholder.
Points points_of(const std::vector<facts::CircuitBranch>& branches) {
    Points points;
    for (const facts::CircuitBranch& branch : branches) {
        points.network.nodes = std::max({points.network.nodes, branch.ends.from + 1, branch.ends.to + 1});
        points.network.branches.push_back(branch.ends);
        points.resistance.push_back(branch.resistance.value_or(1.0));
        points.voltage.push_back(branch.voltage.value_or(0.0));
        points.drawn.push_back(branch.drawn.value_or(0.0));
    }
    return points;
}

/// Every current and resistance that some quantity asks, on every branch that may be asked.
class Writer {
  public:
    Writer(const model::Model& model, const rules::RuleSet& rules, Netlist& netlist)
        : model_(model), rules_(rules), facts_(model, rules), netlist_(netlist) {}

    void write_all() {
        std::set<std::tuple<std::uint16_t, std::uint16_t, rules::Question>> asked;
        for (const rules::QuantityDefinition& quantity : rules_.quantities) {
            if (quantity.solved && rules::needs_case(quantity.solved->question))
                asked.emplace(quantity.solved->network, quantity.solved->in_case, quantity.solved->question);
        }
        for (const auto& [network, in_case, question] : asked)
            write_question({question, network, in_case});
    }

  private:
    /// Currents are those of conductors and sources; a resistance is that behind a sink.
    void write_question(const rules::Solved& asked) {
        const rules::NetworkDefinition& network = rules_.networks[asked.network];
        facts::Circuit circuit(network, model_, facts_.context());
        const auto branches = circuit.branches(asked.in_case, facts_.context());
        const Points points = points_of(branches);
        const bool resistance = asked.question == rules::Question::resistance;
        std::vector<std::string> in_use;
        if (asked.question == rules::Question::current) in_use = netlist_.add(points, std::nullopt);
        for (std::size_t b = 0; b < branches.size(); ++b) {
            const solve::Branch& ends = branches[b].ends;
            if ((ends.role == Role::sink) != resistance) continue;
            const model::Value value = circuit.solve(asked, branches[b].item, facts_.context());
            const model::Number* answer = value.number();
            if (answer == nullptr) continue;
            std::vector<std::string> results;
            if (resistance) results.push_back(netlist_.add_resistance(points, ends.from, ends.to));
            if (!in_use.empty()) results.push_back(in_use[b]);
            for (const auto& joined : circuit.faults(asked.question, branches[b].item))
                results.push_back(netlist_.add(points, joined)[b]);
            netlist_.expect(
                resistance ? answer->nominal * 1e6 : answer->nominal,
                asked.question == rules::Question::least_fault ? Netlist::Pick::least
                                                               : Netlist::Pick::greatest,
                results,
                fmt::format("{}, {}, case {}", model_.items[branches[b].item].id,
                            rules::question_name(asked.question), network.cases[asked.in_case].name));
        }
    }

    const model::Model& model_;
    const rules::RuleSet& rules_;
    facts::Facts facts_;
    Netlist& netlist_;
};

bool write_description(const std::string& path, const std::filesystem::path& folder) {
    text::Sources sources;
    text::Messages messages;
    const rules::RuleSet rules = rules::built_in_rules();
    const auto description = document::load_description(path, sources, messages);
    std::optional<model::Model> model;
    if (description) model = model::build_model(*description, rules.vocabulary, sources, messages);
    if (!model) {
        for (const text::Message& message : messages.sorted())
            fmt::print(stderr, "{}\n", text::print_message(message, sources));
        return false;
    }
    const std::string name = std::filesystem::path(path).stem().string();
    Netlist netlist(name);
    Writer(*model, rules, netlist).write_all();
    if (netlist.expectations() == 0) {
        fmt::print(stderr, "{}: nothing in it can be solved\n", path);
        return false;
    }
    return save(netlist, folder, name);
}

/// Ways side by side and in series, with bridges: a tree over all nodes, as many branches again anywhere.
Points random_network(std::mt19937& random) {
    auto below = [&random](std::uint32_t n) { return static_cast<std::uint32_t>(random() % n); };
    Points points;
    points.network.nodes = 4 + below(5);
    auto add = [&](solve::Node from, solve::Node to, Role role) {
        points.network.branches.push_back({from, to, role, false});
        // 10 µΩ to 10 mΩ, evenly over the powers of ten; a cell of 2.5 to 3.65 V; 1 to 200 A
        points.resistance.push_back(1e-5 * std::pow(10.0, below(3000) / 1000.0));
        points.voltage.push_back(role == Role::source ? 2.5 + below(1151) / 1000.0 : 0.0);
        points.drawn.push_back(role == Role::sink ? 1.0 + below(200) : 0.0);
    };
    for (solve::Node node = 1; node < points.network.nodes; ++node)
        add(below(node), node, node % 3 == 1 ? Role::source : Role::conductor);
    for (solve::Node extra = 0; extra < points.network.nodes; ++extra) {
        const solve::Node from = below(points.network.nodes);
        const solve::Node to = (from + 1 + below(points.network.nodes - 1)) % points.network.nodes;
        add(from, to, extra % 4 == 3 ? Role::sink : Role::conductor);
    }
    return points;
}

solve::Electrical exact(const Points& points) {
    solve::Electrical values;
    for (std::size_t b = 0; b < points.network.branches.size(); ++b) {
        values.resistance.push_back(units::Interval::point(points.resistance[b]));
        values.voltage.push_back(units::Interval::point(points.voltage[b]));
        values.drawn.push_back(units::Interval::point(points.drawn[b]));
    }
    return values;
}

bool write_random(const std::filesystem::path& folder, std::uint32_t seed) {
    std::mt19937 random(seed);
    const std::string name = fmt::format("random-{:02}", seed);
    Netlist netlist(name);
    const Points points = random_network(random);
    const solve::Electrical values = exact(points);
    const solve::Node last = points.network.nodes - 1;
    for (const auto& joined : {std::optional<std::pair<solve::Node, solve::Node>>{},
                               std::optional(std::pair{solve::Node{0}, last})}) {
        const std::vector<std::string> currents = netlist.add(points, joined);
        for (std::size_t b = 0; b < currents.size(); ++b) {
            if (currents[b].empty()) continue;
            const auto found = solve::current_through(points.network, values, b, joined);
            if (!found) return false;
            netlist.expect(std::abs(found->range.low), Netlist::Pick::greatest, {currents[b]},
                           fmt::format("branch {}{}", b, joined ? ", fault" : ""));
        }
    }
    netlist.expect(solve::resistance_between(points.network, values, 0, last).low * 1e6,
                   Netlist::Pick::greatest, {netlist.add_resistance(points, 0, last)}, "resistance");
    return save(netlist, folder, name);
}

std::map<std::string, double> printed_by_spice(const std::filesystem::path& path) {
    std::map<std::string, double> found;
    std::ifstream file(path);
    for (std::string line; std::getline(file, line);) {
        std::istringstream words(line);
        std::string name;
        std::string equals;
        std::string number;
        if (words >> name >> equals >> number && equals == "=")
            found[name] = std::strtod(number.c_str(), nullptr);
    }
    return found;
}

struct Count {
    int passed = 0;
    int failed = 0;
};

void compare_line(const std::string& line, const std::string& circuit,
                  const std::map<std::string, double>& printed, Count& count) {
    std::istringstream words(line);
    double expected = 0.0;
    std::string pick;
    std::string names;
    std::string label;
    words >> expected >> pick >> names >> std::ws;
    std::getline(words, label);
    std::optional<double> found;
    bool all_there = true;
    std::istringstream list(names);
    for (std::string name; std::getline(list, name, ',');) {
        const auto result = printed.find(name);
        all_there = all_there && result != printed.end();
        if (result == printed.end()) continue;
        const double size = std::abs(result->second);
        if (!found) found = size;
        found = pick == "least" ? std::min(*found, size) : std::max(*found, size);
    }
    const bool agrees = found && all_there &&
                        std::abs(*found - expected) <= std::max(agreement * std::abs(expected), nothing);
    ++(agrees ? count.passed : count.failed);
    if (!agrees)
        fmt::print("{}: {}: packproof {:.9g}, SPICE {}\n", circuit, label, expected,
                   found ? fmt::format("{:.9g}", *found) : std::string("nothing"));
}

int compare(const std::filesystem::path& folder) {
    Count all;
    std::vector<std::filesystem::path> files;
    for (const auto& entry : std::filesystem::directory_iterator(folder))
        if (entry.path().extension() == ".expected") files.push_back(entry.path());
    std::sort(files.begin(), files.end());
    for (std::filesystem::path file : files) {
        Count here;
        const std::string name = file.stem().string();
        std::ifstream lines(file);
        const auto printed = printed_by_spice(file.replace_extension(".out"));
        for (std::string line; std::getline(lines, line);)
            compare_line(line, name, printed, here);
        fmt::print("{}: {} agree, {} differ\n", name, here.passed, here.failed);
        all.passed += here.passed;
        all.failed += here.failed;
    }
    fmt::print("{} passed, {} failed\n", all.passed, all.failed);
    return all.failed == 0 && all.passed > 0 ? 0 : 1;
}

}  // namespace

int main(int count, char** arguments) {
    const std::vector<std::string> words(arguments + 1, arguments + count);
    if (words.size() == 2 && words[0] == "compare") return compare(words[1]);
    if (words.size() < 2 || words[0] != "write") {
        fmt::print(stderr, "usage: spice_netlist write FOLDER [DESCRIPTION...] | compare FOLDER\n");
        return 2;
    }
    bool well = true;
    for (std::size_t w = 2; w < words.size(); ++w)
        well = write_description(words[w], words[1]) && well;
    for (std::uint32_t seed = 1; words.size() == 2 && seed <= 20; ++seed)
        well = write_random(words[1], seed) && well;
    return well ? 0 : 1;
}
