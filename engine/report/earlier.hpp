// An earlier report of this program, read back from its JSON form.
#pragma once

#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "engine/inspect/compare.hpp"

namespace packproof::report {

/// What the report says of each description; or, as text, why it cannot be used: no JSON, not a report of
/// this program, a later format, a value that is none.
[[nodiscard]] std::variant<std::vector<inspect::EarlierReport>, std::string> read_earlier(
    std::string_view json);

}  // namespace packproof::report
