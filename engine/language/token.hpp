// An expression's text as words, numbers with their units, texts and signs. Rests on units for the units of
// literals. All lexical mistakes are reported, each with its place.
#pragma once

#include <string_view>
#include <vector>

#include "engine/language/parse.hpp"
#include "engine/units/unit.hpp"

namespace packproof::language {

struct Token {
    enum class Kind : std::uint8_t { end, number, text, word, sign };
    Kind kind = Kind::end;
    std::uint32_t begin = 0;  ///< bytes [begin, end) of the expression, a number with its unit
    std::uint32_t end = 0;
    std::string_view spelling;  ///< those bytes; of a text with its quotes
    double number = 0.0;        ///< of a number: its SI value (see literal_value)
    units::Unit unit;           ///< of a number: its unit; of a plain number the unit without symbol

    [[nodiscard]] bool is(std::string_view wanted) const {
        return (kind == Kind::word || kind == Kind::sign) && spelling == wanted;
    }
};

/// Ends with a token of kind end. `text` must outlive the tokens.
[[nodiscard]] std::vector<Token> split_tokens(std::string_view text, std::vector<Mistake>& mistakes);

/// The SI value of a literal as written ("25 °C"), of a temperature either as a point or as a difference.
[[nodiscard]] double literal_value(std::string_view spelling, const units::Unit& unit, bool absolute);

/// °C is a temperature and K a difference, unless the other side of an operator wants the other reading.
[[nodiscard]] bool absolute_by_default(const units::Unit& unit);

/// The words that cannot be names.
[[nodiscard]] bool is_reserved(std::string_view word);

/// A text literal without its quotes; '' inside stands for one quote.
[[nodiscard]] std::string unquote(std::string_view spelling);

}  // namespace packproof::language
