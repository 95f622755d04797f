// Text to tree. Bounded: at most 4096 bytes and 64 levels. No evaluation, no names resolved.
#pragma once

#include <optional>
#include <vector>

#include "engine/language/tree.hpp"

namespace packproof::language {

/// A mistake inside an expression: [begin, end) are byte offsets in its text.
struct Mistake {
    std::size_t begin = 0;
    std::size_t end = 0;
    std::string text;
    std::string hint;
};

/// All lexical errors, or the first error of syntax.
///
///   expression = "if" expression "then" expression "else" expression | and-term { "or" and-term }
///   and-term   = not-term { "and" not-term }
///   not-term   = { "not" } comparison
///   comparison = sum [ ( "<" | "<=" | ">" | ">=" | "==" | "!=" | "within" ) sum
///                    | "matches" text | "in" ( "[" text { "," text } "]" | path )
///                    | "is" [ "not" ] ( "stated" | "none" | "assumed" | "known" | "mentioned" ) ]
///   sum        = product { ( "+" | "-" ) product }
///   product    = signed { ( "*" | "/" ) signed }
///   signed     = "-" signed | path [ "^" [ "-" ] whole-number ]
///   path       = value { "." name }
///   value      = number [ unit ] | text | "true" | "false" | "this" | "pi" | name | call
///              | "(" expression ")"
///   call       = function "(" expression { "," expression } ")"
///              | "lookup" "(" name "." name { "," expression } ")"
///              | ( "next_up" | "next_down" ) "(" name "," expression ")"
///              | fold "(" expression "as" name [ "where" expression ] [ ":" expression ] ")"
///   function   = min max abs sqrt exp ln lower upper middle nominal least most
///                round_up round_down point position first last
///   fold       = count sum min max all any the
///
/// A unit follows its number after a space and has none inside; a minus before a number belongs to the
/// number, except under a power. Texts stand between single quotes, '' inside is one quote, a backslash is
/// itself.
[[nodiscard]] std::optional<Expression> parse(std::string_view text, std::vector<Mistake>& mistakes);

}  // namespace packproof::language
