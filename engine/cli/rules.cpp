#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <ostream>

#include "engine/cli/commands.hpp"
#include "engine/cli/output.hpp"
#include "engine/cli/rule_sources.hpp"
#include "engine/inspect/prove.hpp"
#include "engine/report/json_text.hpp"
#include "engine/report/page.hpp"
#include "engine/report/words.hpp"

namespace packproof::cli {

namespace {

using Json = nlohmann::ordered_json;
using rules::Rule;
using rules::RuleSet;

constexpr int form_version = 1;

std::vector<const Rule*> by_name(const RuleSet& set) {
    std::vector<const Rule*> sorted;
    sorted.reserve(set.rules.size());
    for (const Rule& rule : set.rules)
        sorted.push_back(&rule);
    std::sort(sorted.begin(), sorted.end(), [](const Rule* a, const Rule* b) { return a->name < b->name; });
    return sorted;
}

std::vector<std::string> kinds_of(const Rule& rule, const RuleSet& set) {
    std::vector<std::string> kinds;
    for (const auto& application : rule.applications)
        kinds.push_back(set.vocabulary.kinds[application.kind].name);
    return kinds;
}

std::string change_words(const Rule& rule) {
    std::string words = rule.active ? "changed" : "switched off";
    if (rule.active && rule.came_as && *rule.came_as != rule.rule_class)
        words += fmt::format(" from {}", rules::class_name(*rule.came_as));
    if (!rule.change_by.empty()) words += " by " + rule.change_by;
    return words + ": " + rule.change_reason;
}

std::string text_list(const RuleSet& set, std::size_t width) {
    report::Page page(width, false);
    std::size_t active = 0;
    for (const Rule* rule : by_name(set)) {
        page.headline(rule->name, report::Ink::strong, "",
                      fmt::format("{}, {}", rules::class_name(rule->rule_class),
                                  fmt::join(kinds_of(*rule, set), ", ")));
        page.paragraph(rule->asks, 4);
        if (!rule->change_reason.empty()) page.paragraph(change_words(*rule), 4, 2);
        if (!rule->counts) page.paragraph(fmt::format("counts from release {} on", rule->since), 4, 2);
        if (rule->active) ++active;
    }
    page.blank();
    const std::size_t off = set.rules.size() - active;
    page.paragraph(report::counted(active, "rule", "rules") +
                   (off > 0 ? fmt::format(", {} switched off", off) : "") +
                   fmt::format("; digest {}", set.digest));
    return page.take();
}

/// { "form": "packproof-rules", "version": 1, "digest", "rules": [ { "name", "class", "kinds": [kind],
/// "asks",
///   "because", "basis": [ { "document", "clause", "note", "status" } ], "active", "reason", "by",
///   "came_as": class before a change, "since", "counts" } ] }
std::string json_list(const RuleSet& set) {
    Json list = Json::array();
    for (const Rule* rule : by_name(set)) {
        Json basis = Json::array();
        for (const auto& authority : rule->basis)
            basis.push_back(Json{{"document", authority.document},
                                 {"clause", authority.clause},
                                 {"note", authority.note},
                                 {"status", std::string(rules::status_name(authority.status))}});
        list.push_back(
            Json{{"name", rule->name},
                 {"class", std::string(rules::class_name(rule->rule_class))},
                 {"kinds", kinds_of(*rule, set)},
                 {"asks", rule->asks},
                 {"because", rule->because},
                 {"basis", std::move(basis)},
                 {"active", rule->active},
                 {"reason", rule->change_reason},
                 {"by", rule->change_by},
                 {"came_as", std::string(rules::class_name(rule->came_as.value_or(rule->rule_class)))},
                 {"since", rule->since},
                 {"counts", rule->counts}});
    }
    const Json whole{{"form", "packproof-rules"},
                     {"version", form_version},
                     {"digest", set.digest},
                     {"rules", std::move(list)}};
    return report::escape_invisible(whole.dump(2, ' ', false, Json::error_handler_t::replace)) + "\n";
}

}  // namespace

int list_rules(const RulesListCall& call, Surroundings& around, Workspace& workspace) {
    text::Messages messages;
    const bool loaded = load_rule_set(call.rule_folders, around, workspace, messages);
    print_messages(messages, workspace.sources, around);
    if (!loaded) return exit_trouble;
    const std::string list =
        call.as_json ? json_list(workspace.rules) : text_list(workspace.rules, call.width);
    return put_out(list, exit_nothing, around);
}

int prove_rules(const RulesProveCall& call, Surroundings& around, Workspace& workspace) {
    text::Messages messages;
    const bool loaded = load_rule_texts(call.rule_folders, around, workspace, messages);
    if (!loaded) {
        print_messages(messages, workspace.sources, around);
        return exit_trouble;
    }
    const auto proof = inspect::prove(workspace.rules, workspace.sources);
    for (const text::Message& failure : proof.failures)
        messages.add(failure);
    print_messages(messages, workspace.sources, around);
    const std::string counts =
        fmt::format("{}, {}, {} failed\n", report::counted(proof.rules, "rule", "rules"),
                    report::counted(proof.examples, "example", "examples"), proof.failed);
    return put_out(counts, proof.failed > 0 ? exit_fails : exit_nothing, around);
}

}  // namespace packproof::cli
