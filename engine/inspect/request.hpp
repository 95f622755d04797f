// A request for information: what a description leaves open, as questions to whoever can answer them, in the
// order of what the answers decide. It asks; it has no opinion on parts or people.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/inspect/inspect.hpp"

namespace packproof::inspect {

struct Question {
    enum class Form : std::uint8_t {
        value,          ///< nobody has stated it
        tolerance,      ///< stated, but so loosely that a check is undecided
        contradiction,  ///< two papers state different values
        failing,        ///< a rule fails that names what to ask then
        item,           ///< nothing is stated of a whole item of which there is one
    };
    Form form = Form::value;
    model::AnsweredBy answered_by = model::AnsweredBy::supplier;
    std::string title;  ///< "rated voltage of main-breaker"
    std::string text;   ///< the question in one or two sentences
    std::vector<std::string>
        sides;  ///< of a contradiction: "125 A: wiring drawing, issue B (pack.toml:49)"; at least two
    std::vector<std::string>
        parts;        ///< of an item: "cell overvoltage: cell voltage at which ..., at most 3.65 V"
    std::string why;  ///< of the gravest rule that waits
    std::vector<std::string> waiting;   ///< what these rules ask, gravest first, each once
    std::vector<std::string> conceded;  ///< those that somebody lives with meanwhile: who, until when and why
    std::size_t checks = 0;             ///< how many verdicts wait for it
    std::string ask;                    ///< how to find it out; may be empty
    std::string acceptable;             ///< what an answer looks like: "a value in V, with its tolerance"
    std::string limit;   ///< which values would do, with all else as stated: "at least 51.2 V"; may be empty
    bool asked = false;  ///< marked "?" in the description
    Class gravest = Class::observation;
    double weight = 0.0;  ///< of the verdicts that wait, by class
};

struct Request {
    std::string file;
    std::string title;
    std::vector<Question> questions;  ///< by weight, the heaviest first; those of every answerer
    std::size_t rules = 0;            ///< that were asked
    std::string rules_version;
    std::string rules_digest;
    std::string input_digest;
};

/// Empty when the description has errors: `messages` says which.
[[nodiscard]] std::optional<Request> request(const std::string& path, const rules::RuleSet& rules,
                                             text::Sources& sources, text::Messages& messages,
                                             const Options& options = {});

/// The same from a model already built.
[[nodiscard]] Request request_model(const model::Model& model, const rules::RuleSet& rules,
                                    const text::Sources& sources);

}  // namespace packproof::inspect
