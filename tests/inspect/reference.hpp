// For tests against published numbers: quantities and verdicts of small descriptions by the built-in rules,
// and spots of their tables.
#pragma once

#include <doctest/doctest.h>

#include <cmath>
#include <memory>
#include <string>
#include <vector>

#include "engine/document/read_toml.hpp"
#include "engine/facts/facts.hpp"
#include "engine/inspect/judge.hpp"
#include "engine/rules/table.hpp"
#include "engine/units/read_quantity.hpp"
#include "tests/inspect/built_in.hpp"

namespace packproof::inspect_test {

/// A small description as a model with its facts.
struct Described {
    text::Sources sources;
    text::Messages messages;
    document::Description description;
    std::optional<model::Model> model;
    std::unique_ptr<facts::Facts> facts;

    explicit Described(const std::string& text) {
        description.source = sources.add("reference.toml", text);
        description.name = "reference.toml";
        auto root = document::read_toml(description.source, sources, messages);
        if (root) {
            description.root = std::move(*root);
            model = model::build_model(description, built_in().vocabulary, sources, messages);
        }
        std::string trouble;
        for (const text::Message& message : messages.sorted())
            trouble += text::print_message(message, sources) + "\n";
        REQUIRE_MESSAGE(model, trouble);
        facts = std::make_unique<facts::Facts>(*model, built_in());
    }

    /// The only item of the kind, or the one with this id.
    [[nodiscard]] model::ItemIndex item(model::KindIndex kind, const std::string& id) const {
        for (const model::ItemIndex candidate : model->of_kind[kind])
            if (id.empty() || model->items[candidate].id == id) return candidate;
        return model::no_item;
    }
};

/// A derived quantity of one item of a small description, settled tight.
struct Derived : Described {
    units::Interval range{};
    bool missing = true;

    Derived(const std::string& kind, const std::string& quantity, const std::string& text,
            const std::string& id = {})
        : Described(text) {
        const auto kind_index = built_in().vocabulary.kind(kind);
        REQUIRE(kind_index);
        const model::ItemIndex of = item(*kind_index, id);
        REQUIRE(of != model::no_item);
        for (std::uint16_t q = 0; q < built_in().quantities.size(); ++q) {
            const rules::QuantityDefinition& definition = built_in().quantities[q];
            if (definition.kind != *kind_index || definition.name != quantity) continue;
            const facts::Study study = facts->study(
                [&](const language::Context& context) { return context.quantity(q, of, context); });
            missing = study.refined.missing;
            range = study.refined.range;
            return;
        }
        FAIL("no quantity " << quantity << " of " << kind);
    }
};

inline double point(const Derived& derived) {
    REQUIRE_FALSE(derived.missing);
    CHECK(derived.range.high - derived.range.low <= 1e-9 * std::abs(derived.range.high));
    return derived.range.low;
}

/// The verdict of a rule on the only item of its kind, or on the one with this id.
inline rules::Verdict verdict(const std::string& rule_name, const std::string& text,
                              const std::string& id = {}) {
    const Described described(text);
    const rules::Rule* rule = built_in().rule(rule_name);
    REQUIRE_MESSAGE(rule != nullptr, "no rule ", rule_name);
    for (const rules::Application& application : rule->applications) {
        const model::ItemIndex item = described.item(application.kind, id);
        if (item == model::no_item) continue;
        language::Context context = described.facts->context();
        return inspect::judge(*rule, application, item, context).verdict;
    }
    FAIL("nothing for " << rule_name << " to judge");
    return rules::Verdict::not_applicable;
}

inline bool conforms(const std::string& rule, const std::string& text, const std::string& id = {}) {
    return verdict(rule, text, id) == rules::Verdict::conforms;
}

inline bool fails(const std::string& rule, const std::string& text, const std::string& id = {}) {
    return verdict(rule, text, id) == rules::Verdict::fails;
}

inline model::Value word(std::string_view word) {
    model::Value value;
    value.content = model::Text{word, {}};
    return value;
}

inline model::Value number(const std::string& written, bool absolute = false) {
    const std::size_t space = written.find(' ');
    const auto unit = units::read_unit(space == std::string::npos ? "" : written.substr(space + 1));
    REQUIRE(unit);
    auto read = units::read_quantity(written, {unit->dimension, absolute, false});
    REQUIRE(std::holds_alternative<units::Quantity>(read));
    model::Value value;
    value.content =
        model::Number{std::get<units::Quantity>(read).range, std::get<units::Quantity>(read).nominal, {}};
    return value;
}

inline double looked_up(const std::string& table, const std::string& column,
                        const std::vector<model::Value>& keys) {
    for (const rules::Table& candidate : built_in().tables) {
        if (candidate.name != table) continue;
        for (std::size_t c = 0; c < candidate.columns.size(); ++c) {
            if (candidate.columns[c].name != column) continue;
            const model::Value value = rules::look_up(candidate, c, keys, nullptr);
            REQUIRE_MESSAGE(value.number() != nullptr, table, " has no such row");
            return value.number()->nominal;
        }
    }
    FAIL("no table " << table << "." << column);
    return 0.0;
}

/// Whether a table has no value there.
inline bool beyond(const std::string& table, const std::vector<model::Value>& keys) {
    for (const rules::Table& candidate : built_in().tables)
        if (candidate.name == table) return rules::look_up(candidate, 0, keys, nullptr).number() == nullptr;
    FAIL("no table " << table);
    return false;
}

struct Spot {
    const char* size;
    double value;
};

/// Amperes of table conductor_capacity, size by size.
inline void check_capacity(const char* practice, const char* laying, const char* temperature,
                           std::initializer_list<Spot> spots) {
    for (const Spot& spot : spots) {
        CAPTURE(practice);
        CAPTURE(temperature);
        CAPTURE(spot.size);
        CHECK(looked_up("conductor_capacity", "current",
                        {word(practice), word(laying), number(temperature, true), number(spot.size)}) ==
              spot.value);
    }
}

}  // namespace packproof::inspect_test
