// What must hold whatever the input: each breach ends the fuzz target at once, so that the input is kept.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "engine/document/parts.hpp"
#include "engine/inspect/finding.hpp"
#include "engine/text/message.hpp"

namespace packproof::fuzz {

/// Ends the program with the sentence that is not true.
void demand(bool holds, const char* sentence);

[[nodiscard]] std::string_view as_text(const std::uint8_t* data, std::size_t size);

/// Every message has a place inside its source and a text that is whole UTF-8.
void demand_good_messages(const text::Messages& messages, const text::Sources& sources);

/// All messages as they would be printed: the same input must give the same bytes.
[[nodiscard]] std::string print_messages(const text::Messages& messages, const text::Sources& sources);

/// A text as a description in a folder that does not exist, so that no other file is read; empty with
/// messages if it does not parse.
[[nodiscard]] std::optional<document::Description> description_from(std::string_view text,
                                                                    text::Sources& sources,
                                                                    text::Messages& messages);

/// Everything that a report says, as text.
[[nodiscard]] std::string print_everything(const inspect::Report& report);

}  // namespace packproof::fuzz
