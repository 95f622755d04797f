// The words of the form of rule files, with what they mean: of the format, not of the trade.
#pragma once

#include <span>
#include <string_view>

namespace packproof::serve {

struct KeyWord {
    std::string_view table;  ///< "rule", "rule.example", "kind.field"
    std::string_view key;
    std::string_view about;
};
[[nodiscard]] std::span<const KeyWord> key_words();

struct FunctionWord {
    std::string_view name;
    std::string_view use;
    std::string_view about;
};
[[nodiscard]] std::span<const FunctionWord> function_words();

}  // namespace packproof::serve
