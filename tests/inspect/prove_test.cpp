#include "engine/inspect/prove.hpp"

#include <doctest/doctest.h>

#include "tests/inspect/built_in.hpp"
#include "tests/rules/rule_text.hpp"

using namespace packproof;
using rules_test::good_rule;
using rules_test::Loaded;
using rules_test::vocabulary;

namespace {

std::string replaced(std::string text, const std::string& from, const std::string& to) {
    const std::size_t at = text.find(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

}  // namespace

TEST_CASE("a rule whose examples give what they say is proved") {
    const Loaded loaded({vocabulary, good_rule});
    REQUIRE(loaded.set);
    const inspect::Proof proof = inspect::prove(*loaded.set, loaded.sources);
    CHECK(proof.rules == 1);
    CHECK(proof.examples == 2);
    CHECK(proof.failed == 0);
}

TEST_CASE("changing a limit by a quarter of a per cent makes the proof fail at the example") {
    const Loaded loaded({vocabulary, replaced(good_rule, "pull <= carries", "pull <= carries * 1.0026")});
    REQUIRE(loaded.set);
    const inspect::Proof proof = inspect::prove(*loaded.set, loaded.sources);
    REQUIRE(proof.failed == 1);
    CHECK(text::print_message(proof.failures[0], loaded.sources) ==
          "rules.toml:14:1: error: example 2 of rule rope-carries should give \"fails\" but gives "
          "\"conforms\"");
}

TEST_CASE("an example that is no description fails and says why") {
    const Loaded loaded({vocabulary, replaced(good_rule, "pull = \"4 kN\"", "pull = \"4 A\"")});
    REQUIRE(loaded.set);
    const inspect::Proof proof = inspect::prove(*loaded.set, loaded.sources);
    REQUIRE(proof.failed == 1);
    CHECK(proof.failures[0].text.find("cannot be judged") != std::string::npos);
}

TEST_CASE("every built-in rule is proved by its own examples, and both forms of the rules are the same set") {
    text::Sources sources;
    text::Messages messages;
    std::vector<text::SourceIndex> files;
    for (const rules::BuiltInFile& file : rules::built_in_files())
        if (file.path.ends_with(".toml"))
            files.push_back(sources.add(std::string(file.path), std::string(file.text)));
    const auto set = rules::load_rules(files, sources, messages, nullptr);
    REQUIRE(set);
    CHECK(set->digest == inspect_test::built_in().digest);
    CHECK(set->rules.size() == inspect_test::built_in().rules.size());
    const inspect::Proof proof = inspect::prove(*set, sources);
    CHECK(proof.rules == set->rules.size());
    CHECK(proof.examples >= 2 * proof.rules);
    for (const text::Message& failure : proof.failures)
        FAIL_CHECK(text::print_message(failure, sources));
}
