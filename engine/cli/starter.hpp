// The starter description: a template among the built-in files, with blanks {{name|default|what it is}} that
// options of the command `new` fill in. The words of the trade stand in the template, not here.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/rules/built_in.hpp"

namespace packproof::cli {

struct Blank {
    std::string name;
    std::string usual;  ///< taken when nothing is given
    std::string about;
};

/// The template's text, if the program was built with one.
[[nodiscard]] std::optional<std::string_view> starter_template(const std::vector<rules::BuiltInFile>& files);

/// Its blanks, each once, in order.
[[nodiscard]] std::vector<Blank> blanks_of(std::string_view starter);

/// The template with its blanks filled in. Values are put in as TOML allows inside a basic string.
[[nodiscard]] std::string fill_in(std::string_view starter, const std::map<std::string, std::string>& values);

}  // namespace packproof::cli
