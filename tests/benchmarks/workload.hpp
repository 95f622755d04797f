// What is measured, once for the stopwatch (benchmarks.cpp) and once for counted instructions
// (count_instructions.cpp). Each ends the program with a message if its input is not inspected in full: a
// figure for a run that stopped at an error would be worth nothing.
#pragma once

#include <cstddef>
#include <string>

#include "engine/rules/rule_set.hpp"

namespace packproof::benchmarks {

/// The parser library alone on a text: what reading a description costs at the least.
std::size_t parse_alone(const std::string& text);

/// From a file to findings, rules already loaded, nothing printed.
std::size_t inspect_file(const std::string& path, const rules::RuleSet& rules);

/// The rules that are built in, from their flat form.
std::size_t read_built_in_rules();

[[nodiscard]] std::string read_whole_file(const std::string& path);

/// Writes a generated description of `rounds` rounds of about 150 lines to a file in `folder`; returns its
/// path.
std::string write_generated(const std::string& folder, std::size_t rounds);

}  // namespace packproof::benchmarks
