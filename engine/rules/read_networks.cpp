// Networks from rule files: declared before the quantities that ask them, their expressions compiled after,
// for these use quantities in turn.
#include <fmt/core.h>

#include <algorithm>

#include "engine/rules/entry.hpp"
#include "engine/rules/reading.hpp"
#include "engine/text/nearest_name.hpp"
#include "engine/text/safe_print.hpp"

namespace packproof::rules {

using document::Node;
using model::Type;

namespace {

std::string nearest(std::string_view written, const std::vector<std::string_view>& names) {
    const std::string_view near = text::nearest_name(written, names);
    return near.empty() ? std::string{} : fmt::format("the nearest is \"{}\"", near);
}

std::optional<BranchEnd> read_end(Entry& entry, std::string_view key, const model::Kind& kind) {
    const std::string name = entry.text(key, true);
    if (name.empty()) return std::nullopt;
    if (std::find(kind.points.begin(), kind.points.end(), name) != kind.points.end())
        return BranchEnd{name, 0};
    const auto field = kind.field(name);
    if (field && kind.fields[*field].form == model::Field::Form::reference) return BranchEnd{{}, *field};
    std::vector<std::string_view> names(kind.points.begin(), kind.points.end());
    for (const model::Field& candidate : kind.fields)
        if (candidate.form == model::Field::Form::reference) names.emplace_back(candidate.name);
    entry.error(
        *entry.node().find(key),
        fmt::format("\"{}\" is neither a point nor a reference of {}", text::safe_print(name), kind.name),
        nearest(name, names));
    return std::nullopt;
}

std::optional<model::FieldIndex> read_same_ends(Entry& entry, const model::Kind& kind) {
    const std::string name = entry.text("same_ends_as");
    if (name.empty()) return std::nullopt;
    const auto field = kind.field(name);
    if (field && kind.fields[*field].form == model::Field::Form::reference) return field;
    entry.error(*entry.node().find("same_ends_as"),
                fmt::format("\"{}\" is no reference of {}", text::safe_print(name), kind.name));
    return std::nullopt;
}

/// The value of one case: a text counts for every case, a table for those that it names.
struct CaseValues {
    std::vector<const Node*> of_case;
};

CaseValues read_values(Entry& entry, std::string_view key, const NetworkDefinition& network,
                       Reading& reading) {
    CaseValues values{std::vector<const Node*>(network.cases.size(), nullptr)};
    const Node* node = entry.take(key);
    if (node == nullptr) return values;
    if (node->is_string()) {
        std::fill(values.of_case.begin(), values.of_case.end(), node);
        return values;
    }
    if (!node->is_table()) {
        entry.error(*node, fmt::format("`{}` is an expression, or a table of expressions by case", key));
        return values;
    }
    std::vector<std::string_view> names;
    for (const NetworkCase& one : network.cases)
        names.emplace_back(one.name);
    for (const Node& member : node->children) {
        const auto found = std::find(names.begin(), names.end(), member.key);
        if (found == names.end()) {
            reading.messages.error(place_of(member),
                                   fmt::format("unknown case \"{}\"", text::safe_print(member.key)),
                                   nearest(member.key, names));
        } else if (!member.is_string()) {
            entry.error(member, "an expression in quotes is due here");
        } else {
            values.of_case[static_cast<std::size_t>(found - names.begin())] = &member;
        }
    }
    return values;
}

std::optional<solve::Branch::Role> read_role(Entry& entry) {
    const std::string role = entry.text("role");
    if (role.empty() || role == "conductor") return solve::Branch::Role::conductor;
    if (role == "source") return solve::Branch::Role::source;
    if (role == "sink") return solve::Branch::Role::sink;
    entry.error(*entry.node().find("role"), fmt::format("unknown role \"{}\"", text::safe_print(role)),
                "one of conductor, source, sink");
    return std::nullopt;
}

void read_branch(const Node& node, NetworkDefinition& network, const language::Names& names,
                 Reading& reading) {
    Entry entry(node, fmt::format("a branch of network {}", network.name), reading.messages);
    const std::string kind_name = entry.text("of", true);
    const auto kind = reading.set.vocabulary.kind(kind_name);
    if (!kind) {
        std::vector<std::string_view> kinds;
        for (const model::Kind& known : reading.set.vocabulary.kinds)
            kinds.emplace_back(known.name);
        if (!kind_name.empty())
            entry.error(*node.find("of"), fmt::format("unknown kind \"{}\"", text::safe_print(kind_name)),
                        nearest(kind_name, kinds));
        return;
    }
    NetworkBranch branch;
    branch.kind = *kind;
    const auto role = read_role(entry);
    const auto from = read_end(entry, "from", reading.set.vocabulary.kinds[*kind]);
    const auto to = read_end(entry, "to", reading.set.vocabulary.kinds[*kind]);
    branch.same_ends_as = read_same_ends(entry, reading.set.vocabulary.kinds[*kind]);
    Type truth;
    truth.kind = Type::Kind::truth;
    branch.when = compile_as(entry.take("when"), truth, *kind, names, reading);
    branch.opens = compile_as(entry.take("opens"), truth, *kind, names, reading);
    branch.length = compile_as(entry.take("length"), number_in("m"), *kind, names, reading);
    auto values = [&](std::string_view key, std::string_view unit, bool due) {
        const CaseValues written = read_values(entry, key, network, reading);
        if (due && node.find(key) == nullptr)
            entry.error(node, fmt::format("{} has no `{}`", entry.what(), key));
        if (!due && node.find(key) != nullptr)
            entry.error(*node.find(key), fmt::format("`{}` means nothing in this role", key));
        std::vector<language::Expression> compiled;
        for (const Node* one : written.of_case)
            compiled.push_back(compile_as(one, number_in(unit), *kind, names, reading));
        return compiled;
    };
    if (role) {
        const bool sink = *role == solve::Branch::Role::sink;
        branch.role = *role;
        branch.resistance = values("resistance", "Ω", !sink);
        branch.voltage = values("voltage", "V", *role == solve::Branch::Role::source);
        branch.drawn = values("current", "A", sink);
    } else {  // what they should be is not known: they are neither judged nor unknown
        for (const char* key : {"resistance", "voltage", "current"})
            entry.take(key);
    }
    entry.finish();
    const bool twice = std::any_of(network.branches.begin(), network.branches.end(),
                                   [&](const NetworkBranch& other) { return other.kind == *kind; });
    if (twice)
        reading.messages.error(entry.place(),
                               fmt::format("network {} has {} as a branch already", network.name, kind_name));
    else if (from && to && role) {
        branch.from = *from;
        branch.to = *to;
        network.branches.push_back(std::move(branch));
    }
}

NetworkDefinition& named(RuleSet& set, const std::string& name) {
    for (NetworkDefinition& network : set.networks)
        if (network.name == name) return network;
    set.networks.push_back({name, {}, {}, {}});
    return set.networks.back();
}

void read_cases(Entry& entry, bool fresh, NetworkDefinition& network) {
    const Node* cases = entry.take("case");
    if (cases != nullptr && !cases->is_table()) {
        entry.error(*cases, "cases are a table of names, each with a text that says what it is");
        return;
    }
    if (fresh && (cases == nullptr || cases->children.empty())) {
        entry.error(entry.node(), fmt::format("{} has no `case`", entry.what()));
        return;
    }
    if (cases == nullptr) return;
    for (const Node& one : cases->children) {
        if (fresh && one.is_string())
            network.cases.push_back({one.key, one.text});
        else
            entry.error(one, fresh ? "a case is a name with a text that says what it is"
                                   : fmt::format("network {} has its cases already", network.name));
    }
}

/// A branch without a value that the question needs in its case would leave a gap that no description can
/// fill.
void check_values(const QuantityDefinition& quantity, const NetworkDefinition& network, Reading& reading) {
    const Solved& solved = *quantity.solved;
    for (const NetworkBranch& branch : network.branches) {
        auto need = [&](const std::vector<language::Expression>& of_case, std::string_view what) {
            if (!of_case[solved.in_case].empty()) return;
            reading.messages.error(
                quantity.span, fmt::format("{} of network {} has no `{}` in the case {}",
                                           reading.set.vocabulary.kinds[branch.kind].name, network.name, what,
                                           network.cases[solved.in_case].name));
        };
        if (branch.role == solve::Branch::Role::sink) {
            if (solved.question == Question::current) need(branch.drawn, "current");
            continue;
        }
        need(branch.resistance, "resistance");
        const bool driven = solved.question != Question::resistance;
        if (driven && branch.role == solve::Branch::Role::source) need(branch.voltage, "voltage");
    }
}

}  // namespace

void declare_networks(Reading& reading) {
    for (const Node* node : members(reading, "network")) {
        Entry entry(*node, fmt::format("network {}", text::safe_print(node->key)), reading.messages);
        NetworkDefinition& network = named(reading.set, node->key);
        const bool fresh = network.about.empty();
        const std::string about = entry.text("about", fresh);
        if (fresh) network.about = about;
        read_cases(entry, fresh, network);
        entry.take("branch");
        entry.finish();
    }
}

void read_networks(Reading& reading) {
    const NameLists lists = name_lists(reading.set);
    const language::Names names = lists.names(reading.set.vocabulary);
    for (const Node* node : members(reading, "network")) {
        const Node* branches = node->find("branch");
        if (branches == nullptr) continue;
        if (!branches->is_array()) {
            reading.messages.error(branches->span, "branches stand in [[network." + node->key + ".branch]]");
            continue;
        }
        for (const Node& branch : branches->children)
            read_branch(branch, named(reading.set, node->key), names, reading);
    }
    for (const QuantityDefinition& quantity : reading.set.quantities) {
        if (!quantity.solved || quantity.solved->question == Question::length_of_chain) continue;
        if (reading.messages.has_errors()) break;
        const NetworkDefinition& network = reading.set.networks[quantity.solved->network];
        const bool has_branch =
            std::any_of(network.branches.begin(), network.branches.end(),
                        [&](const NetworkBranch& branch) { return branch.kind == quantity.kind; });
        if (needs_case(quantity.solved->question)) check_values(quantity, network, reading);
        if (!has_branch)
            reading.messages.error(
                quantity.span, fmt::format("{} is no branch of network {}",
                                           reading.set.vocabulary.kinds[quantity.kind].name, network.name));
    }
}

std::optional<Solved> read_solved(Entry& entry, const Type& type, Reading& reading) {
    const std::string asked = entry.text("solves", true);
    const std::string network_name = entry.text("network", true);
    const std::string case_name = entry.text("case");
    Solved solved;
    const auto question = read_question(asked);
    if (!question) {
        if (!asked.empty())
            entry.error(*entry.node().find("solves"),
                        fmt::format("\"{}\" cannot be solved", text::safe_print(asked)),
                        nearest(asked, question_names()));
        return std::nullopt;
    }
    solved.question = *question;
    const auto& networks = reading.set.networks;
    const auto network = std::find_if(networks.begin(), networks.end(),
                                      [&](const NetworkDefinition& n) { return n.name == network_name; });
    if (network == networks.end()) {
        std::vector<std::string_view> names;
        for (const NetworkDefinition& one : networks)
            names.emplace_back(one.name);
        if (!network_name.empty())
            entry.error(*entry.node().find("network"),
                        fmt::format("unknown network \"{}\"", text::safe_print(network_name)),
                        nearest(network_name, names));
        return std::nullopt;
    }
    solved.network = static_cast<std::uint16_t>(network - networks.begin());
    if (needs_case(*question) != !case_name.empty()) {
        entry.error(entry.node(),
                    fmt::format("\"{}\" {}", asked, case_name.empty() ? "needs a `case`" : "has no cases"));
        return std::nullopt;
    }
    const auto found = std::find_if(network->cases.begin(), network->cases.end(),
                                    [&](const NetworkCase& c) { return c.name == case_name; });
    if (!case_name.empty() && found == network->cases.end()) {
        std::vector<std::string_view> names;
        for (const NetworkCase& one : network->cases)
            names.emplace_back(one.name);
        entry.error(*entry.node().find("case"),
                    fmt::format("unknown case \"{}\"", text::safe_print(case_name)),
                    nearest(case_name, names));
        return std::nullopt;
    }
    if (!case_name.empty()) solved.in_case = static_cast<std::uint16_t>(found - network->cases.begin());
    Type given = number_in("");
    switch (*question) {
        case Question::in_circuit:
        case Question::against_chain:
        case Question::shorted:
        case Question::from_joined:
        case Question::to_joined:
            given.kind = Type::Kind::truth;
            break;
        case Question::opened_by:
            given.kind = Type::Kind::items;
            given.kinds = type.kinds;
            break;
        case Question::distance_from_source:
            given = number_in("m");
            break;
        case Question::resistance:
            given = number_in("Ω");
            break;
        case Question::greatest_fault:
        case Question::least_fault:
        case Question::current:
            given = number_in("A");
            break;
        default:
            break;
    }
    if (!(given == type)) {
        entry.error(*entry.node().find("solves"),
                    fmt::format("\"{}\" is {}, but {} is declared", asked,
                                model::type_name(given, reading.set.vocabulary),
                                model::type_name(type, reading.set.vocabulary)));
        return std::nullopt;
    }
    return solved;
}

}  // namespace packproof::rules
