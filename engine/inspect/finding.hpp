// What an inspection says: findings with their working, coverage, and what to find out next. Every text is
// ready to print (not yet made harmless for a medium: each report form does that), every number also in SI.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "engine/language/evaluate.hpp"
#include "engine/model/item.hpp"
#include "engine/rules/rule_set.hpp"
#include "engine/text/source.hpp"

namespace packproof::inspect {

using rules::Class;
using rules::Verdict;

/// A value as text and, if it is a number, in SI base units (an unbounded end is infinite).
struct Shown {
    std::string text;  ///< "200 A", "2500 N (1625 N to 3375 N)"
    bool is_number = false;
    double low = 0.0;
    double high = 0.0;
    std::string si_unit;  ///< "A", "m²"; of a number
};

/// One line of the working: carrying_capacity of main-positive = formula = numbers = result.
struct Step {
    std::string name;
    std::string formula;
    std::string numbers;
    std::string result;
    bool detail = false;  ///< of a part of a solved network: shown where everything is
};

/// A change of one input that would clear the finding, all else as stated.
struct Remedy {
    std::string text;  ///< "rated_current of main-breaker: at most 160 A"
    language::Input input;
    Shown value;
    text::Span span;  ///< where the input's value is written; nowhere for an assumed one
    /// What may be written there instead; nothing where a tolerance or a guess would be lost by it.
    std::vector<std::string> writes = {};
};

/// A further place that a finding speaks of.
struct Elsewhere {
    std::string text;  ///< "rated_current of main-breaker: 200 A"
    text::Span span;
};

/// A value that a rule wants and the description does not give.
struct Wanted {
    std::string text;  ///< "section of main-positive"
    std::string ask;   ///< how to find it out; may be empty
    model::ItemIndex item = model::no_item;
    model::FieldIndex field = 0;
    bool asked = false;  ///< "?": asked already
    std::string note;    ///< "beyond the table of …"; may be empty
};

/// One rule on one item.
struct Finding {
    std::uint32_t rule = 0;
    std::string rule_name;
    std::string asks;
    std::string because;
    Class rule_class = Class::major;
    bool at_once = false;  ///< stands before all others: work stops until it is cleared
    Verdict verdict = Verdict::conforms;
    model::ItemIndex item = model::no_item;
    std::string item_name;  ///< id
    std::string kind_name;
    text::Span place;     ///< the value at fault, else the item
    std::string subject;  ///< what `has` is the value of: "rated_current of main-breaker"
    Shown has;
    std::string origin;      ///< "stated", "measured", "assumed", "computed"
    std::string relation;    ///< "<=", "within", …
    Shown needs;             ///< the limit
    std::string needs_text;  ///< "at most 174 A (carrying_capacity of main-positive)"
    std::string by;          ///< by how much it fails: "26 A (15 %)"; may be empty
    std::vector<Step> working;
    std::vector<Remedy> clears;
    std::string advice;
    std::vector<std::string> shows;  ///< further values: "torque for the middle of the range: 0.59 N·m"
    std::string decides;  ///< undecided: the input whose tolerance decides, "nut_factor of fixture (assumed)"
    std::optional<language::Input> decides_input;  ///< that input, where it is one
    std::vector<Wanted> wanted;                    ///< not stated: what is missing
    std::vector<std::string>
        rests_on;  ///< inputs used: "rated_current of main-breaker = 200 A (stated, pack.toml:12)"
    std::vector<Elsewhere> elsewhere;       ///< where those are written, or the sides of a contradiction
    std::vector<model::Authority> basis;    ///< of the rule, then of tables used
    std::string caution;                    ///< text; may be empty
    std::optional<std::size_t> cause;       ///< finding under which this one is folded
    std::vector<std::size_t> consequences;  ///< findings folded under this one
};

struct Coverage {
    std::size_t applicable = 0;
    std::size_t conforming = 0;
    std::size_t failing = 0;
    std::size_t undecided = 0;
    std::size_t not_stated = 0;
    std::size_t conceded = 0;
    std::size_t not_applicable = 0;
};

/// A value that would decide rules that wait.
struct NextValue {
    Wanted value;
    std::size_t rules = 0;                ///< how many verdicts wait for it
    double weight = 0.0;                  ///< by class of those rules
    std::vector<std::string> rule_names;  ///< those rules, each once, gravest first
};

/// A default that was used.
struct Assumption {
    std::string text;  ///< "nut_factor of fixture: 0.148 to 0.308"
    std::string basis;
};

/// The inspection of one description.
struct Report {
    std::string file;   ///< as the user named it
    std::string title;  ///< the name field of the description's own items of a single kind, or ""
    std::vector<Finding>
        findings;  ///< fails, undecided, not stated, conforms; gravest first, then place, then rule
    Coverage coverage;
    std::vector<NextValue> next;  ///< at most five
    std::vector<Assumption> assumptions;
    /// Choices that decide whose tables count, as stated: "practice of pack: iec".
    std::vector<std::string> chosen;
    std::vector<std::string>
        tried;  ///< choices that were not stated and so tried each: "practice of pack: iec, nec, marine"
    std::string rules_digest;
    std::string input_digest;
    std::string rules_version;
    std::vector<std::string> overlays;  ///< files that were laid over the description

    /// The gravest class among failing findings (folded ones too); empty if none fails.
    [[nodiscard]] std::optional<Class> gravest_failing() const;
    [[nodiscard]] std::optional<Class> gravest_undecided() const;
};

[[nodiscard]] std::string_view rule_set_version();

/// The last line of every report.
[[nodiscard]] std::string_view general_caution();

}  // namespace packproof::inspect
