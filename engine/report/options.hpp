// How a report is to look. Nothing here changes what is found.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "engine/rules/rule_set.hpp"
#include "engine/text/message.hpp"

namespace packproof::report {

/// What the SARIF form tells: all that is told elsewhere, or only what fails.
enum class Profile : std::uint8_t { full, alerts };

struct Options {
    bool colour = false;                     ///< only for a terminal; no meaning rests on colour alone
    bool all = false;                        ///< what conforms and every value that is not stated, too
    std::size_t width = 80;                  ///< cells a line of the text form; taken as at least 40
    std::vector<std::string> not_inspected;  ///< files of the same run whose input has errors
    std::size_t passed_over = 0;             ///< descriptions of which no file was touched

    // Of the SARIF form alone.
    Profile profile = Profile::full;
    const rules::RuleSet* rules = nullptr;  ///< for what a rule says of itself; may be absent
    std::string folder;                     ///< absolute, to which names of files are relative; may be empty
    std::optional<int> exit_code;
    std::vector<text::Message> messages;  ///< on the inputs, as printed to standard error
};

}  // namespace packproof::report
