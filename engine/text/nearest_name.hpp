// The likeliest intended name for a mistyped one.
#pragma once

#include <span>
#include <string_view>

namespace packproof::text {

/// The candidate with the least optimal-string-alignment distance, if it is near enough to be a slip
/// (at most a third of the longer word, at least 1); empty otherwise. Case and `-`/`_` differences count as
/// nothing. Ties: the earlier candidate.
[[nodiscard]] std::string_view nearest_name(std::string_view written,
                                            std::span<const std::string_view> candidates);

}  // namespace packproof::text
