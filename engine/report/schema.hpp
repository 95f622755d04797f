// The vocabulary as a JSON Schema, so that an editor completes keys and marks mistakes while a description is
// being typed.
#pragma once

#include <string>

#include "engine/model/vocabulary.hpp"

namespace packproof::report {

/// A schema (draft-07) of descriptions, of files of parts and of readings, as they look when the TOML is read
/// as JSON and dates as text. Whatever the program takes is valid; what needs more than one value to be seen
/// (a reference that leads nowhere, a wrong dimension) is not refused. Without anyOf and its like wherever
/// that can be, because editors tell badly what is wrong inside of them.
[[nodiscard]] std::string print_schema(const model::Vocabulary& vocabulary);

}  // namespace packproof::report
