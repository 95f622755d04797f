// Inspections of small descriptions with a small rule set (tests/rules/rule_text.hpp): ropes and hooks.
#pragma once

#include <string>

#include "engine/document/read_toml.hpp"
#include "engine/inspect/inspect.hpp"
#include "engine/model/build_model.hpp"
#include "tests/rules/rule_text.hpp"

namespace packproof::inspect_test {

/// One inspection of a text; keeps all that the report points to alive.
struct Inspected {
    rules_test::Loaded loaded;
    text::Sources sources;
    text::Messages messages;
    document::Description description;
    std::optional<model::Model> model;
    std::optional<inspect::Report> report;

    Inspected(const std::vector<std::string>& rule_texts, const std::string& text,
              inspect::Options options = {})
        : loaded(rule_texts) {
        if (!loaded.set) return;
        description.source = sources.add("yard.toml", text);
        auto root = document::read_toml(description.source, sources, messages);
        if (!root) return;
        description.name = "yard.toml";
        description.root = std::move(*root);
        model = model::build_model(description, loaded.set->vocabulary, sources, messages);
        if (model) report = inspect::inspect_model(*model, *loaded.set, sources, options);
    }

    [[nodiscard]] std::string trouble() const {
        std::string all = loaded.printed();
        for (const text::Message& message : messages.sorted())
            all += text::print_message(message, sources) + "\n";
        return all;
    }
};

}  // namespace packproof::inspect_test
