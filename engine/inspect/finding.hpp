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
    /// Who can find it out; empty where it is no field of an item.
    std::optional<model::AnsweredBy> answered_by = std::nullopt;
};

/// A permission to use what does not conform, as the description records it.
struct Concession {
    std::string id;
    text::Span place;
    std::string rule;       ///< of the finding that it is for
    std::string item_name;  ///< likewise
    std::string reason;
    std::string by;
    std::string second;  ///< a second person; may be empty
    std::string until;   ///< last day on which it holds, "2027-05-31"; may be empty
    std::string limits;  ///< what it is tied to, in words; may be empty
    bool honoured = false;
    /// Of one that is not honoured, the reasons: the rules that it fails and what the engine itself asks.
    std::vector<std::string> refused_by;
};

/// How a finding stands to an earlier report.
enum class Change : std::uint8_t { unchanged, changed, arrived };

/// On which side of the limit a value may lie.
enum class Bound : std::uint8_t { other, at_most, at_least };

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
    std::string origin;    ///< "stated", "measured", "assumed", "computed"
    std::string relation;  ///< "<=", "within", …
    Bound bound = Bound::other;
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
    /// The concession that speaks of it, honoured or not, in the report's list.
    std::optional<std::size_t> concession = {};
    bool conceded = false;   ///< by an honoured concession: the verdict stays, the gate does not count it
    bool announced = false;  ///< of a rule that is new in this release: shown, not counted yet
    std::optional<Change> change = {};  ///< where an earlier report was compared with
    bool worse = false;                 ///< changed, and not for the better
    std::string before;                 ///< changed: what it was, in words

    /// Closes a gate of its class.
    [[nodiscard]] bool counts() const { return !conceded && !announced; }
};

/// A finding of the earlier report that is not there any more.
struct Gone {
    std::string rule_name;
    std::string kind_name;
    std::string item_name;
    std::string subject;
    Class rule_class = Class::major;
    Verdict verdict = Verdict::fails;
    std::string file;  ///< where it was told then; line and column from 1, 0: at no place in a file
    std::size_t line = 0;
    std::size_t column = 0;
};

/// What became of the findings of an earlier report. Conforming ones are left out of all counts.
struct Comparison {
    std::string earlier;       ///< the file of the earlier report, as the user named it
    std::string earlier_file;  ///< what the description was called in it; empty: it is not in it
    std::string earlier_rules_version;
    std::string earlier_rules_digest;
    std::size_t arrived = 0;
    std::size_t changed = 0;
    std::size_t unchanged = 0;
    std::vector<Gone> gone;
};

/// A critical rule that a team switched off or made less grave: told in every report.
struct Relaxed {
    std::string rule_name;
    bool active = true;
    Class rule_class = Class::critical;  ///< which it has now
    std::string reason;
    std::string by;
};

struct Coverage {
    std::size_t applicable = 0;
    std::size_t conforming = 0;
    std::size_t failing = 0;    ///< and not conceded
    std::size_t undecided = 0;  ///< and not conceded
    std::size_t not_stated = 0;
    std::size_t conceded = 0;  ///< fails or is undecided, and conceded
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
    std::vector<std::string> overlays;    ///< files that were laid over the description
    std::vector<Concession> concessions;  ///< in the order of the description, honoured or not
    std::string judged_on;                ///< the day that their ends were judged on; empty: there are none
    bool judged_today = false;            ///< no day was given
    std::vector<Relaxed> relaxed;
    std::optional<Comparison> comparison;

    /// The gravest class among failing findings that count (folded ones too); empty if there is none.
    [[nodiscard]] std::optional<Class> gravest_failing() const;
    [[nodiscard]] std::optional<Class> gravest_undecided() const;
};

[[nodiscard]] std::string_view rule_set_version();

/// The last line of every report.
[[nodiscard]] std::string_view general_caution();

}  // namespace packproof::inspect
