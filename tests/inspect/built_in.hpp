// The rules that are built in and the packs of specs/, for tests of the whole.
#pragma once

#include <string>

#include "engine/inspect/inspect.hpp"
#include "engine/language/check.hpp"
#include "engine/model/build_model.hpp"
#include "engine/rules/built_in.hpp"

namespace packproof::inspect_test {

inline const rules::RuleSet& built_in() {
    static const rules::RuleSet set = rules::built_in_rules();
    return set;
}

inline std::string source_path(const std::string& path) {
    return std::string(PACKPROOF_SOURCE_DIR) + "/" + path;
}

/// True for a formula that speaks of a tolerance itself (least, most, nominal): taking the tolerance away
/// changes the question.
inline bool speaks_of_tolerance(const language::Expression& expression) {
    for (const language::Node& node : expression.nodes) {
        if (node.operation != language::Operation::call) continue;
        const auto function = static_cast<language::Function>(node.index);
        if (function == language::Function::least || function == language::Function::most ||
            function == language::Function::nominal)
            return true;
    }
    for (const std::uint16_t quantity : language::quantities_used(expression))
        if (speaks_of_tolerance(built_in().quantities[quantity].value)) return true;
    return false;
}

/// Whether a solver stands behind a formula: its answers enclose, with its own error on top of each, and are
/// not tight.
inline bool rests_on_solver(const language::Expression& formula) {
    for (const std::uint16_t used : language::quantities_used(formula)) {
        const rules::QuantityDefinition& quantity = built_in().quantities[used];
        if (quantity.asked || rests_on_solver(quantity.value)) return true;
    }
    return false;
}

/// The built-in rules but those behind which a solver stands: for tests that inspect thousands of times.
inline const rules::RuleSet& rules_without_solvers() {
    static const rules::RuleSet set = [] {
        rules::RuleSet rules = built_in();
        for (rules::Rule& rule : rules.rules)
            for (const rules::Application& application : rule.applications)
                if (rests_on_solver(application.demands) || rests_on_solver(application.when))
                    rule.active = false;
        return rules;
    }();
    return set;
}

/// A description of specs/ as a model that can be changed.
struct Pack {
    text::Sources sources;
    text::Messages messages;
    std::optional<document::Description> description;
    std::optional<model::Model> model;

    explicit Pack(const std::string& path) {
        description = document::load_description(source_path(path), sources, messages);
        if (description) model = model::build_model(*description, built_in().vocabulary, sources, messages);
    }

    [[nodiscard]] std::string trouble() const {
        std::string all;
        for (const text::Message& message : messages.sorted())
            all += text::print_message(message, sources) + "\n";
        return all;
    }
};

}  // namespace packproof::inspect_test
