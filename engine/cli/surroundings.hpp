// What a run of the program stands on: streams, terminal, built-in rules. Given from outside, so that tests
// run every command on streams and rules of their own.
#pragma once

#include <functional>
#include <iosfwd>
#include <string>
#include <vector>

#include "engine/inspect/finding.hpp"
#include "engine/rules/built_in.hpp"
#include "engine/rules/rule_set.hpp"
#include "engine/text/source.hpp"

namespace packproof::cli {

struct Surroundings {
    std::ostream& out;  ///< the result, and nothing else
    std::ostream& err;  ///< messages, log, progress
    bool out_is_terminal = false;
    bool err_is_terminal = false;
    std::string no_color;  ///< the variable NO_COLOR, empty if absent
    std::string term;      ///< the variable TERM
    std::function<rules::RuleSet()> built_in_rules;
    std::function<std::vector<rules::BuiltInFile>()> built_in_files;
};

/// The large structures of a run. They belong to the caller, who may leave the program without taking them
/// apart: a run ends when its output is flushed.
struct Workspace {
    text::Sources sources;
    rules::RuleSet rules;
    std::vector<inspect::Report> reports;
};

/// Exit codes, as grep and diff have them.
inline constexpr int exit_nothing = 0;  ///< nothing fails at or above the gate
inline constexpr int exit_fails = 1;
inline constexpr int exit_trouble = 2;  ///< the input or the call is wrong

}  // namespace packproof::cli
