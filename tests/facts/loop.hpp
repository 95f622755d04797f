// A tiny trade of its own for circuits: cells, wires, gates that open, posts, lamps that draw. Nothing of it
// comes from rules/.
#pragma once

#include <doctest/doctest.h>

#include <algorithm>
#include <memory>
#include <string>

#include "engine/document/read_toml.hpp"
#include "engine/facts/facts.hpp"
#include "engine/model/build_model.hpp"
#include "tests/rules/rule_text.hpp"

namespace packproof::facts_test {

inline const char* const trade = R"toml(
[kind.cell]
about = "drives"
points = ["minus", "plus"]
[kind.cell.field]
volts = { form = "quantity", unit = "V", about = "voltage" }
inner = { form = "quantity", unit = "Ω", least = 0, about = "its own resistance", assume = "1 Ω", assume_basis = [{ status = "common practice" }] }

[kind.wire]
about = "joins"
[kind.wire.field]
ohms = { form = "quantity", unit = "Ω", least = 0, about = "resistance" }
reach = { form = "quantity", unit = "m", least = 0, about = "length" }
from = { form = "reference", kinds = ["cell", "gate", "post", "lamp"], about = "where it starts" }
to = { form = "reference", kinds = ["cell", "gate", "post", "lamp"], about = "where it ends" }

[kind.gate]
about = "opens"
points = ["in", "out"]
[kind.gate.field]
automatic = { form = "truth", about = "opens by itself" }

[kind.post]
about = "where several meet"
points = ["left", "right"]

[kind.lamp]
about = "draws"
points = ["a", "b"]
[kind.lamp.field]
amps = { form = "quantity", unit = "A", about = "what it draws" }

[network.loop]
about = "how they are joined"
[network.loop.case]
hot = "shorted"
run = "in use"
[[network.loop.branch]]
of = "cell"
role = "source"
from = "minus"
to = "plus"
voltage = "volts"
resistance = "inner"
[[network.loop.branch]]
of = "wire"
from = "from"
to = "to"
length = "reach"
resistance = { hot = "ohms", run = "2 * ohms" }
[[network.loop.branch]]
of = "gate"
from = "in"
to = "out"
opens = "automatic"
resistance = "0 Ω"
[[network.loop.branch]]
of = "lamp"
role = "sink"
from = "a"
to = "b"
current = { run = "amps" }

[quantity.wire.in_loop]
gives = "truth"
about = "current can flow in it"
solves = "in circuit"
network = "loop"
[quantity.wire.opened_by]
gives = "items"
kinds = ["gate"]
about = "what opens it"
solves = "opened by"
network = "loop"
[quantity.wire.short_current]
unit = "A"
about = "into a short"
solves = "greatest fault current"
network = "loop"
case = "hot"
[quantity.gate.least_current]
unit = "A"
about = "when a lamp is shorted"
solves = "least fault current"
network = "loop"
case = "run"
[quantity.wire.flow]
unit = "A"
about = "in use"
solves = "current"
network = "loop"
case = "run"
[quantity.lamp.behind]
unit = "Ω"
about = "of what feeds it"
solves = "resistance"
network = "loop"
case = "run"
[quantity.gate.distance]
unit = "m"
about = "from the nearest cell"
solves = "distance from source"
network = "loop"
)toml";

/// A description in this trade with its facts.
struct Loop {
    rules_test::Loaded loaded;
    text::Sources sources;
    text::Messages messages;
    document::Description description;
    std::optional<model::Model> model;
    std::unique_ptr<facts::Facts> facts;
    std::vector<language::Gap> gaps;      ///< of the last answer
    std::vector<language::Input> inputs;  ///< of the last answer

    explicit Loop(const std::string& text, const char* rules = trade) : loaded({rules}) {
        REQUIRE_MESSAGE(loaded.set, loaded.printed());
        description.source = sources.add("loop.toml", text);
        description.name = "loop.toml";
        auto root = document::read_toml(description.source, sources, messages);
        if (root) {
            description.root = std::move(*root);
            model = model::build_model(description, loaded.set->vocabulary, sources, messages);
        }
        std::string trouble;
        for (const text::Message& message : messages.sorted())
            trouble += text::print_message(message, sources) + "\n";
        REQUIRE_MESSAGE(model, trouble);
        facts = std::make_unique<facts::Facts>(*model, *loaded.set);
    }

    [[nodiscard]] model::ItemIndex item(const std::string& id) const {
        for (model::ItemIndex i = 0; i < model->items.size(); ++i)
            if (model->items[i].id == id) return i;
        return model::no_item;
    }

    [[nodiscard]] language::Input input(const std::string& id, const std::string& field) const {
        const model::ItemIndex of = item(id);
        REQUIRE(of != model::no_item);
        const auto found = model->kind_of(of).field(field);
        REQUIRE(found);
        return {of, *found};
    }

    [[nodiscard]] std::uint16_t quantity(const std::string& name) const {
        for (std::uint16_t q = 0; q < loaded.set->quantities.size(); ++q)
            if (loaded.set->quantities[q].name == name) return q;
        FAIL("no quantity " << name);
        return 0;
    }

    /// What a quantity gives on an item; in a box if there is one.
    model::Value ask(const std::string& name, const std::string& id, const language::Box* box = nullptr) {
        REQUIRE(item(id) != model::no_item);
        gaps.clear();
        inputs.clear();
        language::Context context = facts->context(box);
        context.gaps = &gaps;
        context.inputs = &inputs;
        return context.quantity(quantity(name), item(id), context);
    }

    [[nodiscard]] bool lacks(const language::Input& input, language::Gap::Reason reason) const {
        for (const language::Gap& gap : gaps)
            if (gap.input == input && gap.reason == reason) return true;
        return false;
    }

    [[nodiscard]] bool rests_on(const language::Input& input) const {
        return std::find(inputs.begin(), inputs.end(), input) != inputs.end();
    }
};

}  // namespace packproof::facts_test
