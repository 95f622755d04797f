// What is measured, once for the stopwatch (benchmarks.cpp) and once for counted instructions
// (count_instructions.cpp). Each ends the program with a message if its input is not inspected in full: a
// figure for a run that stopped at an error would be worth nothing.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "engine/rules/rule_set.hpp"

namespace packproof::benchmarks {

/// The parser library alone on a text: what reading a description costs at the least.
std::size_t parse_alone(std::string_view text);

/// The texts of all files of a description: itself, its parts, what it extends.
[[nodiscard]] std::vector<std::string> texts_of(const std::string& path);

/// From a file to findings, rules already loaded, nothing printed. Returns how many verdicts there were.
std::size_t inspect_file(const std::string& path, const rules::RuleSet& rules);

/// The rules that are built in, from their flat form.
std::size_t read_built_in_rules();

/// Writes a generated description of `rounds` rounds of about 150 lines to a file in `folder`; returns its
/// path.
std::string write_generated(const std::string& folder, std::size_t rounds);

}  // namespace packproof::benchmarks
