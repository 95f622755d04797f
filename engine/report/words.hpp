// The sentences that every form of the report shares. They never say that something is safe or in order.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "engine/inspect/finding.hpp"

namespace packproof::report {

/// "1 check", "4 checks".
[[nodiscard]] std::string counted(std::size_t count, std::string_view one, std::string_view many);

/// The verdict on a whole description: "3 nonconformities: 1 critical, 2 major; 4 checks undecided; ...".
[[nodiscard]] std::string verdict_sentence(const inspect::Report& report);

/// "main-positive (conductor)"; only the id where it is the kind's own name.
[[nodiscard]] std::string item_words(const inspect::Finding& finding);

/// "rated_current of main-breaker: 200 A, stated".
[[nodiscard]] std::string has_words(const inspect::Finding& finding);

/// What it needs, in words: needs_text, else relation and limit.
[[nodiscard]] std::string needs_words(const inspect::Finding& finding);

/// Assumptions of the same field, value and basis on several items made one: "parallel of a, b, c: 1".
[[nodiscard]] std::vector<inspect::Assumption> joined_assumptions(
    std::span<const inspect::Assumption> assumptions);

/// What is missing, whether it was asked for, and what about it: without how to find it out, and who can.
[[nodiscard]] std::string missing_words(const inspect::Wanted& wanted);

/// "supplier", "bench" or "builder".
[[nodiscard]] std::string_view answerer_name(model::AnsweredBy who);

/// The same of a missing value; nothing where it is no field of an item.
[[nodiscard]] std::string_view answerer_name(const inspect::Wanted& wanted);

/// Who permits it until when and why; of one that is not honoured also why not.
[[nodiscard]] std::string concession_words(const inspect::Concession& one);

/// "Since earlier.json: 1 new, 0 changed, 2 unchanged, 1 gone."
[[nodiscard]] std::string comparison_words(const inspect::Comparison& since);

/// "conductor-is-short on long, minor fails".
[[nodiscard]] std::string gone_words(const inspect::Gone& gone);

/// "breaker-protects-conductor: switched off by A. Example: REASON".
[[nodiscard]] std::string relaxed_words(const inspect::Relaxed& one);

/// How it stands to the earlier report: "new", "changed: minor before"; empty without one.
[[nodiscard]] std::string change_words(const inspect::Finding& finding);

/// Folded under another finding of the same report.
[[nodiscard]] bool is_consequence(const inspect::Finding& finding);

}  // namespace packproof::report
