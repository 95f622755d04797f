// Would the rules' examples notice a wrong limit? Changes one thing at a time in each expression of the
// built-in rules, judges the examples of every rule that rests on it, and lists the changes that none
// noticed.
#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cstdlib>
#include <deque>
#include <map>
#include <set>
#include <string_view>

#include "engine/inspect/inspect.hpp"
#include "engine/model/build_model.hpp"
#include "engine/rules/built_in.hpp"
#include "engine/rules/load_rules.hpp"
#include "engine/rules/reading.hpp"
#include "tests/mutation/mutants.hpp"

namespace {

using namespace packproof;

/// An example with its model built once: no change to an expression changes it.
struct Case {
    std::size_t rule = 0;
    rules::Verdict verdict = rules::Verdict::conforms;
    document::Description description;
    std::optional<model::Model> model;
    model::ItemIndex item = model::no_item;
};

struct Survivor {
    std::string where;
    mutation::Mutant mutant;
};

model::ItemIndex item_judged(const model::Model& model, const rules::Rule& rule, const std::string& id) {
    for (const rules::Application& application : rule.applications) {
        for (const model::ItemIndex item : model.of_kind[application.kind]) {
            if (id.empty() || model.items[item].id == id) return item;
        }
    }
    return model::no_item;
}

class Trial {
  public:
    Trial() {
        std::vector<text::SourceIndex> files;
        for (const rules::BuiltInFile& file : rules::built_in_files()) {
            if (file.path.ends_with(".toml"))
                files.push_back(sources_.add(std::string{file.path}, std::string{file.text}));
        }
        text::Messages messages;
        auto loaded = rules::load_rules(files, sources_, messages, nullptr);
        if (!loaded) stop("the built-in rules do not load", messages);
        rules_ = std::move(*loaded);
        names_ = rules::name_lists(rules_);
        build_cases();
        find_users();
    }

    void run(const std::set<std::string>& only) {
        for (std::size_t r = 0; r < rules_.rules.size(); ++r) {
            if (only.empty() || only.contains(rules_.rules[r].name)) mutate_rule(r);
        }
        for (std::size_t q = 0; q < rules_.quantities.size(); ++q) {
            if (only.empty() || only.contains(rules_.quantities[q].name)) mutate_quantity(q);
        }
        for (std::size_t n = 0; n < rules_.networks.size(); ++n) {
            if (only.empty() || only.contains(rules_.networks[n].name)) mutate_network(n);
        }
        for (std::size_t s = 0; s < rules_.solvers.size(); ++s) {
            if (only.empty() || only.contains(rules_.solvers[s].name)) mutate_solver(s);
        }
    }

    /// Prints what survived; true if nothing of the gravest kinds did in a rule's own demand.
    bool report() const {
        for (const Survivor& survivor : survivors_)
            fmt::print("{} [{}] {}\n    {}\n", survivor.where, mutation::change_name(survivor.mutant.change),
                       survivor.mutant.what, survivor.mutant.text);
        fmt::print("\n{:<18}{:>9}{:>10}\n", "change", "mutants", "survived");
        for (const auto& [change, count] : count_)
            fmt::print("{:<18}{:>9}{:>10}\n", mutation::change_name(change), count.first, count.second);
        fmt::print("{} mutants in {} rules and {} quantities, {} survived, {} of them grave\n", mutants_,
                   rules_.rules.size(), rules_.quantities.size(), survivors_.size(), grave_);
        return grave_ == 0;
    }

  private:
    [[noreturn]] void stop(const char* why, const text::Messages& messages) const {
        for (const text::Message& message : messages.sorted())
            fmt::print(stderr, "{}\n", text::print_message(message, sources_));
        fmt::print(stderr, "mutate_rules: {}\n", why);
        std::exit(2);
    }

    void build_cases() {
        for (std::size_t r = 0; r < rules_.rules.size(); ++r) {
            for (const rules::Example& example : rules_.rules[r].examples) {
                Case& made = cases_.emplace_back();
                made.rule = r;
                made.verdict = example.verdict;
                made.description.name = "example";
                made.description.source = example.span.source;
                made.description.root = example.with;
                text::Messages messages;
                made.model = model::build_model(made.description, rules_.vocabulary, sources_, messages);
                if (!made.model) stop("an example is no description", messages);
                made.item = item_judged(*made.model, rules_.rules[r], example.item);
                if (made.item == model::no_item) stop("an example has no item for its rule", messages);
                if (!notices_nothing(made))
                    stop(fmt::format("rule {}: an example does not hold as it is", rules_.rules[r].name)
                             .c_str(),
                         messages);
                cases_of_[r].push_back(cases_.size() - 1);
            }
        }
    }

    /// Which rules rest on each quantity, through other quantities too.
    void find_users() {
        std::vector<std::set<std::uint16_t>> uses(rules_.quantities.size());
        bool grown = true;
        for (std::size_t q = 0; q < uses.size(); ++q) {
            const auto direct = rules::used_by(rules_.quantities[q], rules_);
            uses[q].insert(direct.begin(), direct.end());
        }
        while (grown) {
            grown = false;
            for (auto& set : uses) {
                std::set<std::uint16_t> more = set;
                for (const std::uint16_t other : set)
                    more.insert(uses[other].begin(), uses[other].end());
                if (more.size() > set.size()) grown = true;
                set = std::move(more);
            }
        }
        for (std::size_t r = 0; r < rules_.rules.size(); ++r) {
            for (const rules::Application& application : rules_.rules[r].applications) {
                for (const language::Expression* expression : {&application.when, &application.demands}) {
                    if (expression->empty()) continue;
                    for (const std::uint16_t direct : language::quantities_used(*expression)) {
                        users_[direct].insert(r);
                        for (const std::uint16_t deeper : uses[direct])
                            users_[deeper].insert(r);
                    }
                }
            }
        }
    }

    bool notices_nothing(const Case& one) const {
        return inspect::judge(rules_, one.rule, *one.model, one.item) == one.verdict;
    }

    bool survives(const std::set<std::size_t>& affected) const {
        for (const std::size_t rule : affected) {
            const auto found = cases_of_.find(rule);
            if (found == cases_of_.end()) continue;
            for (const std::size_t index : found->second) {
                if (!notices_nothing(cases_[index])) return false;
            }
        }
        return true;
    }

    std::optional<language::Expression> compile(const std::string& text, model::KindIndex kind,
                                                const language::Expression& like) const {
        std::vector<language::Mistake> mistakes;
        auto expression = language::parse(text, mistakes);
        if (!expression || !language::check(*expression, kind, names_.names(rules_.vocabulary), mistakes))
            return std::nullopt;
        if (!(expression->type() == like.type())) return std::nullopt;
        return expression;
    }

    void count(const std::string& where, const mutation::Mutant& mutant, bool survived, bool own_demand) {
        ++mutants_;
        auto& [all, alive] = count_[mutant.change];
        ++all;
        if (!survived) return;
        ++alive;
        survivors_.push_back({where, mutant});
        if (own_demand &&
            (mutant.change == mutation::Change::comparison || mutant.change == mutation::Change::constant))
            ++grave_;
    }

    /// One expression of a rule, changed alike for every kind that the rule is of.
    void mutate_part(std::size_t r, language::Expression rules::Application::*part, const char* name) {
        auto& applications = rules_.rules[r].applications;
        const std::vector<rules::Application> before = applications;
        std::vector<mutation::Mutant> mutants = mutation::mutants_of(before.front().*part);
        if (part == &rules::Application::when && !((before.front().*part).empty()))
            mutants.push_back(
                {mutation::Change::logic, "not (" + (before.front().*part).text + ")", "negated"});
        for (const mutation::Mutant& mutant : mutants) {
            bool makes_sense = true;
            for (std::size_t a = 0; a < applications.size() && makes_sense; ++a) {
                auto changed = compile(mutant.text, before[a].kind, before[a].*part);
                makes_sense = changed.has_value();
                if (changed) applications[a].*part = std::move(*changed);
            }
            if (makes_sense)
                count(fmt::format("rule {}, {}", rules_.rules[r].name, name), mutant, survives({r}),
                      part == &rules::Application::demands);
            applications = before;
        }
    }

    void mutate_rule(std::size_t r) {
        if (rules_.rules[r].applications.empty()) return;
        mutate_part(r, &rules::Application::demands, "demands");
        mutate_part(r, &rules::Application::when, "when");
    }

    void mutate_quantity(std::size_t q) {
        const auto users = users_.find(static_cast<std::uint16_t>(q));
        rules::QuantityDefinition& definition = rules_.quantities[q];
        const std::string where =
            fmt::format("quantity {}.{}", rules_.vocabulary.kinds[definition.kind].name, definition.name);
        if (users == users_.end()) {
            fmt::print("{}: no rule rests on it\n", where);
            return;
        }
        if (!definition.solved && !definition.asked)
            mutate_expression(definition.value, definition.kind, where, users->second);
    }

    void mutate_expression(language::Expression& expression, model::KindIndex kind, const std::string& where,
                           const std::set<std::size_t>& users) {
        const language::Expression before = expression;
        for (const mutation::Mutant& mutant : mutation::mutants_of(before)) {
            auto changed = compile(mutant.text, kind, before);
            if (!changed) continue;
            expression = std::move(*changed);
            count(where, mutant, survives(users), false);
        }
        expression = before;
    }

    /// What a network binds to its branches, for the rules that rest on any quantity solved by it.
    void mutate_network(std::size_t n) {
        std::set<std::size_t> users;
        for (std::size_t q = 0; q < rules_.quantities.size(); ++q) {
            const auto found = users_.find(static_cast<std::uint16_t>(q));
            if (rules_.quantities[q].solved && rules_.quantities[q].solved->network == n &&
                found != users_.end())
                users.insert(found->second.begin(), found->second.end());
        }
        rules::NetworkDefinition& network = rules_.networks[n];
        for (rules::NetworkBranch& branch : network.branches) {
            const std::string& kind = rules_.vocabulary.kinds[branch.kind].name;
            const auto mutate = [&](language::Expression& expression, const std::string& what) {
                if (!expression.empty())
                    mutate_expression(expression, branch.kind,
                                      fmt::format("network {}, {}, {}", network.name, kind, what), users);
            };
            mutate(branch.when, "when");
            mutate(branch.opens, "opens");
            for (auto* values : {&branch.resistance, &branch.voltage, &branch.drawn})
                for (std::size_t c = 0; c < values->size(); ++c)
                    mutate((*values)[c], network.cases[c].name);
        }
    }

    /// What a solver binds to its method, for the rules that rest on any quantity that asks it.
    void mutate_solver(std::size_t s) {
        std::set<std::size_t> users;
        for (std::size_t q = 0; q < rules_.quantities.size(); ++q) {
            const auto found = users_.find(static_cast<std::uint16_t>(q));
            if (rules_.quantities[q].asked && rules_.quantities[q].asked->solver == s &&
                found != users_.end())
                users.insert(found->second.begin(), found->second.end());
        }
        rules::SolverDefinition& solver = rules_.solvers[s];
        const solve::Method& method = rules::method_of(solver);
        const auto mutate = [&](language::Expression& expression, model::KindIndex kind,
                                std::string_view what) {
            if (!expression.empty())
                mutate_expression(expression, kind, fmt::format("solver {}, {}", solver.name, what), users);
        };
        for (std::size_t i = 0; i < solver.inputs.size(); ++i)
            mutate(solver.inputs[i], solver.kind, method.fields[i].name);
        for (rules::SolverRows& rows : solver.rows) {
            mutate(rows.when, rows.kind, "when");
            for (std::size_t i = 0; i < rows.values.size(); ++i)
                mutate(rows.values[i], rows.kind, method.lists[rows.list].fields[i].name);
        }
    }

    text::Sources sources_;
    rules::RuleSet rules_;
    rules::NameLists names_;
    std::deque<Case> cases_;
    std::map<std::size_t, std::vector<std::size_t>> cases_of_;
    std::map<std::uint16_t, std::set<std::size_t>> users_;
    std::vector<Survivor> survivors_;
    std::map<mutation::Change, std::pair<std::size_t, std::size_t>> count_;
    std::size_t mutants_ = 0;
    std::size_t grave_ = 0;
};

}  // namespace

int main(int argc, char** argv) {
    std::set<std::string> only(argv + 1, argv + argc);
    Trial trial;
    trial.run(only);
    return trial.report() ? 0 : 1;
}
