// Reading positions and numbers inside a quantity's text. The first thing that is wrong is kept; all reading
// after it is without effect on the error.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

#include "engine/units/quantity_text.hpp"

namespace packproof::units {

struct Scanner {
    std::string_view text;
    std::size_t at = 0;
    std::optional<ReadError> error = {};

    [[nodiscard]] bool done() const { return at >= text.size(); }
    /// The byte here or some bytes ahead; 0 past the end.
    [[nodiscard]] char here(std::size_t ahead = 0) const {
        return at + ahead < text.size() ? text[at + ahead] : '\0';
    }
    [[nodiscard]] bool next_is(std::string_view token) const {
        return here() == token.front() && text.substr(at).starts_with(token);
    }
    [[nodiscard]] bool next_is_minus() const { return next_is("-") || next_is("\u2212"); }
    [[nodiscard]] std::string_view piece(std::size_t begin, std::size_t end) const {
        return begin < end ? text.substr(begin, end - begin) : std::string_view{};
    }
    /// The text's size without spaces at its end.
    [[nodiscard]] std::size_t end_of_text() const;
    /// The whole text with one piece of it written otherwise.
    [[nodiscard]] std::string with(std::size_t begin, std::size_t end, std::string_view instead) const;

    bool take(std::string_view token) {
        if (!next_is(token)) return false;
        at += token.size();
        return true;
    }
    bool take_minus() { return take("-") || take("\u2212"); }
    template <std::size_t Size>
    bool take_any(const std::array<std::string_view, Size>& tokens) {
        for (const std::string_view token : tokens)
            if (take(token)) return true;
        return false;
    }
    bool skip_spaces();

    void fail(std::size_t begin, std::size_t end, std::string message, std::string hint);
};

[[nodiscard]] inline bool is_digit(char c) {
    return c >= '0' && c <= '9';
}
[[nodiscard]] inline bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}
[[nodiscard]] inline char lower(char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

/// Sign, digits, point, exponent; spaces before it are skipped, the unit is left.
[[nodiscard]] WrittenNumber read_number(Scanner& scan);

}  // namespace packproof::units
