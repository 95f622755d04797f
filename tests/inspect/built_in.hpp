// The rules that are built in and the packs of specs/, for tests of the whole.
#pragma once

#include <string>

#include "engine/inspect/inspect.hpp"
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
