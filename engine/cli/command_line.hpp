// The command line as the user typed it, read into a call. Mistakes come back as a message with the nearest
// word that would have been right.
#pragma once

#include <span>
#include <string>
#include <variant>

#include "engine/cli/call.hpp"
#include "engine/cli/starter.hpp"

namespace packproof::cli {

/// The run ends here: help, version, or a mistake in the call.
struct Ending {
    int code = 0;
    std::string out;
    std::string err;
};

/// `arguments` without the program's name; `blanks` become options of `new`.
[[nodiscard]] std::variant<Call, Ending> read_command_line(std::span<const std::string> arguments,
                                                           std::span<const Blank> blanks);

}  // namespace packproof::cli
