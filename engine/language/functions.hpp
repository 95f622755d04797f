// The functions of the expression language, each with what it takes and what it means: the parser finds them
// here, and so does the reference, so that none lacks a page.
#pragma once

#include <span>
#include <string_view>

#include "engine/language/tree.hpp"

namespace packproof::language {

struct FunctionForm {
    /// How it is called: NAME(VALUE, ...), NAME(LIST as x ...), NAME(TABLE, ...), or NAME alone.
    enum class Takes : std::uint8_t { values, members, table, nothing };
    std::string_view name;  ///< stands twice where it takes values or members
    Takes takes = Takes::values;
    std::uint8_t index = 0;  ///< a Function of values, a Fold of members
    std::string_view call;   ///< "abs(value)"
    std::string_view meaning;
    std::string_view gives;
};

/// In the order of the reference: those of one name stand beside each other.
[[nodiscard]] std::span<const FunctionForm> functions();

/// The form that takes values or members under this name, or null.
[[nodiscard]] const FunctionForm* find_function(std::string_view name, FunctionForm::Takes takes);

}  // namespace packproof::language
