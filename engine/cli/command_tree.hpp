// Commands and options as plain data, taken from what the command line itself is read with, so that man page
// and completion say what --help says.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "engine/cli/starter.hpp"

namespace packproof::cli {

struct ShownOption {
    std::vector<std::string> names;  ///< "-h", "--help"; of what stands without a dash its one name, "FILE"
    std::string value;               ///< "DIR"; empty: takes none
    std::string about;
    std::string usual;  ///< taken if not given; may be empty
    bool dashed = true;
    bool required = false;
    bool several = false;
};

struct ShownCommand {
    std::string name;
    std::string about;
    std::string example;  ///< "packproof inspect cabin.toml"
    std::vector<ShownOption> options;
    std::vector<ShownCommand> commands;
};

/// The program with everything below it. `blanks` are options of the command `new`.
[[nodiscard]] ShownCommand command_tree(std::span<const Blank> blanks);

}  // namespace packproof::cli
