// Putting text out: messages to standard error, results to standard output, and noticing when that fails.
#pragma once

#include <string_view>

#include "engine/cli/call.hpp"
#include "engine/cli/surroundings.hpp"
#include "engine/text/message.hpp"

namespace packproof::cli {

void print_messages(const text::Messages& messages, const text::Sources& sources, Surroundings& around);

/// "packproof: error: TEXT" and, if there is one, "packproof: note: HINT".
void print_trouble(std::string_view text, std::string_view hint, Surroundings& around);

/// "packproof: note: TEXT"
void print_note(std::string_view text, Surroundings& around);

/// Writes and flushes. A full disk or a closed pipe: a message, and `exit_trouble` whatever `code` was.
[[nodiscard]] int put_out(std::string_view text, int code, Surroundings& around);

/// Writes a file whole, or says why it cannot be and gives `exit_trouble`; else `code`.
[[nodiscard]] int put_into(const std::string& file, std::string_view text, int code, Surroundings& around);

/// Colour on standard output: --colour before NO_COLOR (present and not empty) before TERM=dumb before
/// whether it is a terminal at all.
[[nodiscard]] bool colour_wanted(Colour asked, const Surroundings& around);

}  // namespace packproof::cli
