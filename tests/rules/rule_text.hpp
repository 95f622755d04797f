// Rule files for tests: a small trade of our own (ropes, hooks), so that nothing depends on rules/.
#pragma once

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "engine/rules/load_rules.hpp"

namespace packproof::rules_test {

inline const char* const vocabulary = R"toml(
[caution.live]
text = "Loads swing."

[kind.yard]
about = "Where it hangs"
single = true
[kind.yard.field]
practice = { form = "choice", choices = ["north", "south"], each_choice = true, about = "whose table applies" }
warmth = { form = "quantity", unit = "°C", temperature = true, about = "air" }

[kind.hook]
about = "What holds a rope"
caution = "live"
[kind.hook.field]
load = { form = "quantity", unit = "kN", more_than = 0, about = "what it may carry" }
span = { form = "range", unit = "mm", about = "rope that fits" }

[kind.rope]
about = "What hangs"
[kind.rope.field]
size = { form = "quantity", unit = "mm", more_than = 0, about = "diameter", ask = "calliper" }
pull = { form = "quantity", unit = "kN", least = 0, about = "what pulls at it" }
hook = { form = "reference", kinds = ["hook"], about = "what it hangs on" }
strands = { form = "count", least = 1, about = "strands", assume = 3, assume_basis = [{ status = "common practice" }] }

[table.strength]
about = "what a rope carries"
key = [{ name = "practice", form = "text" }, { name = "size", unit = "mm", take = "next smaller" }]
column = [{ name = "load", unit = "kN" }]
[[table.strength.block]]
for = { practice = "north" }
basis = [{ document = "Northern rope book", clause = "table 1", status = "checked" }]
rows = [[6, 2], [8, 4], [10, 6]]
[[table.strength.block]]
for = { practice = "south" }
basis = [{ document = "Southern rope book", clause = "table 9", status = "recalled" }]
rows = [[6, 3], [8, 5], [10, "none"]]

[quantity.rope.carries]
unit = "kN"
about = "what the rope may carry"
value = "lookup(strength.load, yard.practice, size)"
)toml";

inline const char* const good_rule = R"toml(
[rule.rope-carries]
asks = "Does the rope carry its pull?"
of = "rope"
demands = "pull <= carries"
class = "critical"
because = "It breaks."
basis = [{ document = "Rope book", clause = "1", status = "recalled" }]
clears = ["size", "pull"]
[[rule.rope-carries.example]]
verdict = "conforms"
with.yard = { practice = "north" }
with.rope.a = { size = "8 mm", pull = "4 kN" }
[[rule.rope-carries.example]]
verdict = "fails"
with.yard = { practice = "north" }
with.rope.a = { size = "8 mm", pull = "4.01 kN" }
)toml";

/// Files loaded one after the other as one set.
struct Loaded {
    text::Sources sources;
    text::Messages messages;
    std::optional<rules::RuleSet> set;

    explicit Loaded(const std::vector<std::string>& texts) {
        std::vector<text::SourceIndex> files;
        for (std::size_t i = 0; i < texts.size(); ++i)
            files.push_back(sources.add(i + 1 == texts.size() ? "rules.toml" : "base.toml", texts[i]));
        set = rules::load_rules(files, sources, messages, nullptr);
    }

    /// All messages as printed, a line each.
    [[nodiscard]] std::string printed() const {
        std::string all;
        for (const text::Message& message : messages.sorted())
            all += text::print_message(message, sources) + "\n";
        return all;
    }
};

/// A rule text with one thing changed, and the message that is due for it.
struct Mistake {
    const char* from;
    const char* to;
    const char* expected;
};

inline std::string replaced(std::string text, const std::string& from, const std::string& to) {
    const std::size_t at = text.find(from);
    REQUIRE_MESSAGE(at != std::string::npos, from);
    return text.replace(at, from.size(), to);
}

}  // namespace packproof::rules_test
