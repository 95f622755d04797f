// Everything that the trade knows, as data: vocabulary, cautions, tables, derived quantities, rules. Built by
// load_rules from TOML or by unflatten from the form that is built into the program. Indices are append-only,
// so that a team's additions leave what is already resolved valid.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/document/value.hpp"
#include "engine/language/check.hpp"
#include "engine/model/vocabulary.hpp"
#include "engine/rules/drawing.hpp"
#include "engine/rules/network.hpp"
#include "engine/rules/solver.hpp"
#include "engine/rules/table.hpp"
#include "engine/rules/worksheet.hpp"

namespace packproof::rules {

/// Class of a nonconformity (ISO 2859-1); an observation is none (ISO 19011).
enum class Class : std::uint8_t { critical, major, minor, observation };

struct Caution {
    std::string name;
    std::string text;
    std::string brief;  ///< `text` where room is short; may be empty
};

struct QuantityDefinition {
    model::KindIndex kind = 0;
    std::string name;
    std::string about;
    model::Type type;
    units::Unit unit;                  ///< in which it is shown
    language::Expression value;        ///< of a solved one only the text, which says what is asked
    std::optional<Solved> solved;      ///< asked of a network
    std::optional<SolverAsked> asked;  ///< asked of a solver
    std::vector<model::Authority> basis;
    text::Span span;
};

/// A rule as it applies to one kind of item.
struct Application {
    model::KindIndex kind = 0;
    language::Expression when;  ///< may be empty
    language::Expression demands;
    std::vector<language::Expression> clears;  ///< paths of inputs that a builder may change
    std::vector<language::Expression> shows;
};

enum class Verdict : std::uint8_t { conforms, fails, undecided, not_stated, not_applicable };

struct Example {
    Verdict verdict = Verdict::conforms;
    std::string item;     ///< id of the item judged; empty: the only one
    document::Node with;  ///< a small description
    std::string note;
    text::Span span;
};

struct Rule {
    std::string name;
    std::string asks;
    std::string because;
    std::string advice;
    std::string caution;  ///< empty: that of the item's kind
    std::string since;
    std::string question;  ///< what to ask the supplier where it fails; empty: nothing that he could answer
    Class rule_class = Class::major;
    bool at_once = false;  ///< all work stops until it is cleared: told before everything else
    bool active = true;
    std::string change_reason;     ///< why a team switched it off or re-classed it; empty if it is as it came
    std::string change_by;         ///< who did
    std::optional<Class> came_as;  ///< the class before a team changed it
    bool counts = true;            ///< false: it counts from a later release on (`since`), and is only shown
    text::Span change_span;
    std::vector<model::Authority> basis;
    std::vector<Application> applications;
    std::vector<Example> examples;  ///< only when loaded from text
    text::Span span;
};

struct RuleSet {
    model::Vocabulary vocabulary;
    std::vector<Caution> cautions;
    std::vector<Table> tables;
    std::vector<NetworkDefinition> networks;
    std::vector<SolverDefinition> solvers;
    std::vector<QuantityDefinition> quantities;
    std::vector<Rule> rules;
    std::vector<Worksheet> worksheets;
    std::vector<Drawing> drawings;
    std::string digest;  ///< of all texts it was loaded from, hexadecimal

    [[nodiscard]] const Rule* rule(std::string_view name) const;
    [[nodiscard]] const Caution* caution(std::string_view name) const;
};

[[nodiscard]] std::string_view class_name(Class c);      ///< "critical" …
[[nodiscard]] std::string_view verdict_name(Verdict v);  ///< "conforms", "not stated" …
[[nodiscard]] std::string_view status_name(model::Authority::Status s);
[[nodiscard]] std::optional<Class> read_class(std::string_view name);
[[nodiscard]] std::optional<Verdict> read_verdict(std::string_view name);
/// "IEC 60364-4-43, 433.1 (from memory: verify)", "common practice".
[[nodiscard]] std::string print_authority(const model::Authority& authority);

}  // namespace packproof::rules
