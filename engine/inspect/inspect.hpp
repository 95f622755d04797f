// One inspection from text to report: the main flow of the program.
#pragma once

#include <optional>
#include <string>

#include "engine/document/parts.hpp"
#include "engine/facts/solvers.hpp"
#include "engine/inspect/finding.hpp"
#include "engine/rules/rule_set.hpp"
#include "engine/text/day.hpp"
#include "engine/text/message.hpp"

namespace packproof::inspect {

struct Options {
    document::Folders folders;
    document::Limits limits;
    std::string item;         ///< only findings on this item; empty: all
    bool conforming = false;  ///< findings that conform get their values and working too
    /// On which the ends of concessions are judged; without a day none is honoured.
    std::optional<text::Day> day = {};
    bool is_today = false;                  ///< nobody named that day
    bool new_rules_count = false;           ///< rules that are announced for a later release count already
    facts::SolverMemory* memory = nullptr;  ///< answers of solvers kept between inspections; may be null
};

/// A description read into its model.
struct Loaded {
    model::Model model;
    text::SourceIndex source = text::no_source;  ///< of the description itself
    std::string name;                            ///< as the user named it
    std::string digest;                          ///< of all its files, hexadecimal
};

/// The model of a description that was read, its concessions weighed: what every way to a report begins with.
/// Empty when it has errors: `messages` says which.
[[nodiscard]] std::optional<model::Model> model_of(const document::Description& description,
                                                   const rules::RuleSet& rules, text::Sources& sources,
                                                   text::Messages& messages, const Options& options);

/// Empty when the description has errors: `messages` says which.
[[nodiscard]] std::optional<Loaded> load(const std::string& path, const rules::RuleSet& rules,
                                         text::Sources& sources, text::Messages& messages,
                                         const Options& options = {});

/// Empty when the description has errors: `messages` says which; no half report.
[[nodiscard]] std::optional<Report> inspect(const std::string& path, const rules::RuleSet& rules,
                                            text::Sources& sources, text::Messages& messages,
                                            const Options& options = {});

/// The same from a model already built (rule examples, tests).
[[nodiscard]] Report inspect_model(const model::Model& model, const rules::RuleSet& rules,
                                   const text::Sources& sources, const Options& options = {});

/// The verdict of one rule on one item, nothing else: what `rules prove` needs.
[[nodiscard]] Verdict judge(const rules::RuleSet& rules, std::size_t rule, const model::Model& model,
                            model::ItemIndex item);

}  // namespace packproof::inspect
