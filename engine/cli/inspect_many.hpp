// Many inspections at once, one a thread at a time. What comes out does not depend on how many threads there
// are: results are given in the order of the subjects, each with the files that it was read from.
#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "engine/cli/touched.hpp"
#include "engine/inspect/inspect.hpp"

namespace packproof::cli {

/// A description, and what is laid over it.
struct Subject {
    std::string file;
    std::vector<std::string> overlays;
};

struct Inspected {
    text::Messages messages;
    std::optional<inspect::Report> report;  ///< empty when the input has errors, or nothing was asked of it
    bool passed_over = false;               ///< none of its files is in `touched`
    std::vector<std::size_t> touched;       ///< places in `touched` that are of its files
};

/// Calls `take` once for each subject, in their order, in the calling thread; `sources` then holds its files.
/// `jobs`: threads, 0 for as many as the machine has cores. An exception of a thread is thrown on here.
void inspect_many(std::span<const Subject> subjects, const rules::RuleSet& rules, text::Sources& sources,
                  const inspect::Options& options, const Touched& touched, std::size_t jobs,
                  const std::function<void(const Subject&, Inspected&&)>& take);

}  // namespace packproof::cli
