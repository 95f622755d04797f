// Rules, their examples, and a team's changes to rules.
#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <charconv>

#include "engine/document/shown.hpp"
#include "engine/rules/answered_for.hpp"
#include "engine/rules/entry.hpp"
#include "engine/rules/person_name.hpp"
#include "engine/rules/reading.hpp"
#include "engine/text/nearest_name.hpp"
#include "engine/text/safe_print.hpp"

namespace packproof::rules {

using document::Node;

namespace {

std::string nearest_kind(const std::string& written, const model::Vocabulary& vocabulary) {
    std::vector<std::string_view> names;
    for (const model::Kind& kind : vocabulary.kinds)
        names.emplace_back(kind.name);
    const std::string_view near = text::nearest_name(written, names);
    return near.empty() ? std::string{} : fmt::format("the nearest is \"{}\"", near);
}

std::optional<Class> read_class_of(Entry& entry, bool required) {
    const std::string name = entry.text("class", required);
    if (name.empty()) return std::nullopt;
    const auto read = read_class(name);
    if (!read)
        entry.error(*entry.node().find("class"), fmt::format("unknown class \"{}\"", text::safe_print(name)),
                    "one of critical, major, minor, observation");
    return read;
}

std::vector<language::Expression> compile_list(const Node* list, model::KindIndex kind,
                                               const language::Names& names, Reading& reading) {
    std::vector<language::Expression> found;
    if (list == nullptr) return found;
    for (const Node& element : list->children) {
        if (!element.is_string()) {
            reading.messages.error(element.span, "an expression in quotes is due here");
            continue;
        }
        language::Expression expression = compile(element, kind, names, reading);
        if (!expression.empty()) found.push_back(std::move(expression));
    }
    return found;
}

/// "0.2" or "0.2.0": numbers with dots, two or three.
std::optional<std::array<int, 3>> read_release(std::string_view text) {
    std::array<int, 3> numbers{};
    std::size_t parts = 0;
    const char* at = text.data();
    const char* const end = at + text.size();
    while (parts < numbers.size()) {
        const auto [stop, code] = std::from_chars(at, end, numbers[parts]);
        if (code != std::errc() || numbers[parts] < 0) return std::nullopt;
        ++parts;
        at = stop;
        if (at == end || *at != '.') break;
        ++at;
    }
    if (at != end || parts < 2 || text.back() == '.') return std::nullopt;
    return numbers;
}

/// True if the expression is a path that ends in a field: something a person can change.
bool is_field_path(const language::Expression& expression) {
    return expression.nodes[static_cast<std::size_t>(expression.root)].operation ==
           language::Operation::field;
}

std::string place_words(const text::Span& span, const text::Sources& sources) {
    if (!sources.holds(span.source)) return "another file";
    return fmt::format("{}, line {}", document::shown(sources.path(span.source)),
                       sources.place(span.source, span.begin).line);
}

Application read_application(Entry& entry, model::KindIndex kind, const language::Names& names,
                             Reading& reading) {
    Application application;
    application.kind = kind;
    auto truth = [&](const Node* node) {
        if (node == nullptr || !node->is_string()) return language::Expression{};
        language::Expression expression = compile(*node, kind, names, reading);
        if (!expression.empty() && expression.type().kind != model::Type::Kind::truth)
            reading.messages.error(node->span,
                                   fmt::format("`{}` must say something true or false, not {}", node->key,
                                               model::type_name(expression.type(), reading.set.vocabulary)));
        return expression;
    };
    application.when = truth(entry.take("when"));
    application.demands = truth(entry.take("demands"));
    const Node* clears = entry.take("clears");
    application.clears = compile_list(clears, kind, names, reading);
    for (const language::Expression& expression : application.clears)
        if (!is_field_path(expression))
            reading.messages.error(
                clears->span,
                fmt::format("`clears` names fields that a person may change; `{}` is none", expression.text));
    application.shows = compile_list(entry.take("shows"), kind, names, reading);
    return application;
}

std::vector<Example> read_examples(Entry& entry, const std::string& rule, Reading& reading) {
    std::vector<Example> examples;
    const Node* list = entry.take("example");
    if (list != nullptr && !list->is_array()) {
        entry.error(*list, "examples stand in [[rule." + rule + ".example]]");
        list = nullptr;
    }
    bool conforms = false;
    bool fails = false;
    if (list != nullptr) {
        for (const Node& node : list->children) {
            Entry one(node, fmt::format("an example of rule {}", rule), reading.messages);
            Example example;
            example.span = place_of(node);
            const std::string verdict = one.text("verdict", true);
            example.item = one.text("item");
            example.note = one.text("note");
            if (const auto read = read_verdict(verdict)) {
                example.verdict = *read;
                conforms = conforms || *read == Verdict::conforms;
                fails = fails || *read == Verdict::fails;
            } else if (!verdict.empty()) {
                one.error(*node.find("verdict"),
                          fmt::format("unknown verdict \"{}\"", text::safe_print(verdict)),
                          "one of conforms, fails, undecided, not stated, not applicable");
            }
            if (const Node* with = one.take("with")) {
                example.with = *with;
            } else {
                one.error(node, fmt::format("an example of rule {} has no `with`", rule));
            }
            one.finish();
            examples.push_back(std::move(example));
        }
    }
    if (!conforms || !fails)
        reading.messages.error(entry.place(),
                               fmt::format("rule {} has no example that {}", rule,
                                           !conforms && !fails ? "conforms and none that fails"
                                           : conforms          ? "fails"
                                                               : "conforms"),
                               "add [[rule." + rule + ".example]] close to the limit on both sides");
    return examples;
}

/// The blanks in a question: {item}, {has}, {needs}, or a field of the kind.
void check_question(Entry& entry, const Rule& rule, const model::Vocabulary& vocabulary) {
    for (std::size_t at = rule.question.find('{'); at != std::string::npos;
         at = rule.question.find('{', at + 1)) {
        const std::size_t end = std::min(rule.question.find('}', at), rule.question.size());
        const std::string name = rule.question.substr(at + 1, end - at - 1);
        if (name == "item" || name == "has" || name == "needs") continue;
        for (const Application& application : rule.applications)
            if (!vocabulary.kinds[application.kind].field(name))
                entry.error(*entry.node().find("question"),
                            fmt::format("{{{}}} is no field of {}", text::safe_print(name),
                                        vocabulary.kinds[application.kind].name),
                            "{item}, {has}, {needs}, or a field in braces");
    }
}

void read_rule(const Node& node, const language::Names& names, Reading& reading) {
    Entry entry(node, fmt::format("rule {}", text::safe_print(node.key)), reading.messages);
    Rule rule;
    rule.name = node.key;
    rule.span = place_of(node);
    rule.asks = entry.text("asks", true);
    rule.because = entry.text("because", true);
    rule.advice = entry.text("advice");
    rule.since = entry.text("since");
    if (const Node* written = node.find("since"); written != nullptr && written->is_string()) {
        const auto since = read_release(rule.since);
        if (!since)
            entry.error(*written, fmt::format("\"{}\" is no release", text::safe_print(rule.since)),
                        "numbers with dots: since = \"0.2.0\"");
        rule.counts = !since || *since <= *read_release(PACKPROOF_VERSION);
    }
    rule.question = entry.text("question");
    rule.caution = entry.text("caution");
    if (!rule.caution.empty() && reading.set.caution(rule.caution) == nullptr)
        entry.error(*node.find("caution"),
                    fmt::format("unknown caution \"{}\"", text::safe_print(rule.caution)));
    rule.rule_class = read_class_of(entry, true).value_or(Class::major);
    rule.at_once = entry.truth("at_once").value_or(false);
    if (rule.at_once && rule.rule_class != Class::critical)
        entry.error(*node.find("at_once"),
                    fmt::format("{} is not critical: no work stops for it", entry.what()));
    rule.basis = entry.authorities("basis", true);
    const Node* of = entry.take("of");
    if (of == nullptr) entry.error(node, fmt::format("{} has no `of`", entry.what()), "of = \"KIND\"");
    if (node.find("demands") == nullptr) entry.error(node, fmt::format("{} has no `demands`", entry.what()));
    for (const std::string& name : entry.texts("of")) {
        if (const auto kind = reading.set.vocabulary.kind(name)) {
            rule.applications.push_back(read_application(entry, *kind, names, reading));
        } else {
            entry.error(*of, fmt::format("unknown kind \"{}\"", text::safe_print(name)),
                        nearest_kind(name, reading.set.vocabulary));
        }
    }
    check_question(entry, rule, reading.set.vocabulary);
    for (const std::string_view key : {"when", "demands", "clears", "shows"})
        entry.take(key);
    rule.examples = read_examples(entry, text::safe_print(rule.name), reading);
    entry.finish();
    if (reading.set.rule(rule.name) != nullptr) {
        reading.messages.error(
            rule.span, fmt::format("{} exists already", entry.what()),
            "to switch it off or re-class it, write [change." + text::safe_print(rule.name) + "]");
        return;
    }
    reading.set.rules.push_back(std::move(rule));
}

}  // namespace

void read_rules(Reading& reading) {
    const NameLists lists = name_lists(reading.set);
    const language::Names names = lists.names(reading.set.vocabulary);
    for (const Node* node : members(reading, "rule"))
        read_rule(*node, names, reading);
}

void read_changes(Reading& reading) {
    for (const Node* node : members(reading, "change")) {
        Entry entry(*node, fmt::format("the change of {}", text::safe_print(node->key)), reading.messages);
        auto rule = std::find_if(reading.set.rules.begin(), reading.set.rules.end(),
                                 [&](const Rule& candidate) { return candidate.name == node->key; });
        const std::string reason = entry.text("reason", true);
        const auto changed = read_class_of(entry, false);
        const auto active = entry.truth("active");
        const auto counts = entry.truth("counts");
        const std::string by = entry.text("by");
        entry.finish();
        if (rule == reading.set.rules.end()) {
            std::vector<std::string_view> names;
            for (const Rule& candidate : reading.set.rules)
                names.emplace_back(candidate.name);
            const std::string_view near = text::nearest_name(node->key, names);
            reading.messages.error(entry.place(),
                                   fmt::format("unknown rule \"{}\"", text::safe_print(node->key)),
                                   near.empty() ? std::string{} : fmt::format("the nearest is \"{}\"", near));
            continue;
        }
        if (!changed && !active && !counts)
            entry.error(*node, fmt::format("{} changes nothing", entry.what()),
                        "class = \"...\", active = false or counts = true");
        if (counts && !*counts)
            entry.error(*node->find("counts"), "a change cannot put off a rule",
                        "active = false or class = \"...\" says what it does");
        if (rule->came_as) {  // which of two should count is for their authors to say
            entry.error(*node, fmt::format("{} is made twice", entry.what()),
                        "the other one stands in " + place_words(rule->change_span, reading.sources));
            continue;
        }
        rule->came_as = rule->rule_class;
        rule->change_by = by;
        rule->change_span = place_of(*node);
        if (counts) rule->counts = *counts;
        if (changed) rule->rule_class = *changed;
        if (active) rule->active = *active;
        if (is_relaxed(*rule) && is_answered_for(*rule, reading.set.vocabulary) && !is_person_name(by))
            entry.error(*node, fmt::format("{} does not say who answers for it", entry.what()),
                        *rule->came_as == Class::critical ? "the rule is critical: by = \"NAME\""
                                                          : "the rule decides on concessions: by = \"NAME\"");
        rule->change_reason = reason;
    }
}

}  // namespace packproof::rules
