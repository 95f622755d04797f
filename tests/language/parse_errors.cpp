// Wrong texts with their whole messages and places. Offsets are counted by hand in bytes (² and ≤ are two and
// three); an empty message would mean that the text is taken.
#include <doctest/doctest.h>

#include <string_view>

#include "world.hpp"

using namespace packproof::language;

namespace {

struct Case {
    std::string_view kind;
    std::string_view text;
    std::string_view mistakes;  ///< "begin..end text (hint)", byte offsets, one a line
};

constexpr Case cases[] = {
    {"conductor", "", "0..0 the expression is empty"},
    {"conductor", "1 +", "3..3 the expression ends where a value should stand"},
    {"conductor", "1 + * 2", "4..5 '*' stands where a value should stand"},
    {"conductor", "(1 + 2", "6..6 the expression ends where ')' should stand (the bracket opens at byte 1)"},
    {"conductor", "1 + 2)", "5..6 ')' stands where an operator or the end should stand"},
    {"conductor", "section >", "9..9 the expression ends where a value should stand"},
    {"conductor", "section > 2 mm² > 1 mm²",
     "17..18 comparisons cannot be chained (write 'a < b and b < c')"},
    {"conductor", "12mm", "0..4 a number and its unit need a space between them"},
    {"conductor", "12 mn", "3..5 unknown unit 'mn' (nearest is 'mN')"},
    {"conductor", "10 A/x", "3..6 unknown unit 'A/x' (an operator after a unit needs a space on both sides)"},
    {"conductor", "section ≤ 2 mm²", "8..11 unexpected character '≤' (write '<=')"},
    {"conductor", "section = 2 mm²", "8..9 unexpected character '=' (equality is written '==')"},
    {"conductor", "label == \"x\"",
     "9..10 unexpected character '\"' (texts stand between single quotes: 'like this')\n11..12 unexpected "
     "character '\"' (texts stand between single quotes: 'like this')"},
    {"conductor", "label == 'x",
     "9..11 a text has no closing quote (texts stand between single quotes: 'like this')"},
    {"conductor", "'", "0..1 a text has no closing quote (texts stand between single quotes: 'like this')"},
    {"conductor", "a & b", "2..3 unexpected character '&' (write 'and')"},
    {"conductor", "tinned || tinned",
     "7..8 unexpected character '|' (write 'or')\n8..9 unexpected character '|' (write 'or')"},
    {"conductor", "!tinned", "0..1 unexpected character '!' (negation is written 'not')"},
    {"conductor", "#", "0..1 unexpected character '#'"},
    {"conductor", "if tinned then 1", "16..16 the expression ends where 'else' should stand"},
    {"conductor", "if tinned 1 else 2", "10..11 '1' stands where 'then' should stand"},
    {"conductor", "section is",
     "10..10 the expression ends where 'stated', 'none', 'assumed', 'known', 'mentioned' or 'not' and one of "
     "them "
     "should stand"},
    {"conductor", "section is not",
     "14..14 the expression ends where 'stated', 'none', 'assumed', 'known' or 'mentioned' should stand"},
    {"conductor", "section is section",
     "11..18 'section' stands where 'stated', 'none', 'assumed', 'known', 'mentioned' or 'not' and one of "
     "them should "
     "stand"},
    {"conductor", "label matches label",
     "14..19 'label' stands where a regular expression in quotes should stand"},
    {"conductor", "label in ['a' 'b']", "14..17 'b' stands where ']' should stand"},
    {"conductor", "label in ['a', b]", "15..16 'b' stands where a text in quotes should stand"},
    {"conductor", "label in []", "10..11 ']' stands where a text in quotes should stand"},
    {"conductor", "2 ^ 0.5", "4..7 '0.5' stands where a whole exponent of at most 16 should stand"},
    {"conductor", "2 ^ section", "4..11 'section' stands where a whole exponent of at most 16 should stand"},
    {"conductor", "2 ^ 17", "4..6 '17' stands where a whole exponent of at most 16 should stand"},
    {"conductor", "foo(1)", "0..3 unknown function 'foo'"},
    {"conductor", "mim(1, 2)", "0..3 unknown function 'mim' (nearest is 'min')"},
    {"conductor", "count(conductor)",
     "15..16 ')' stands where 'as' and a name for each item should stand (for example count(KIND as x where "
     "CONDITION))"},
    {"conductor", "count(conductor where true)",
     "16..21 'where' stands where 'as' and a name for each item should stand (for example count(KIND as x "
     "where CONDITION))"},
    {"conductor", "sum(conductor as c)",
     "18..19 ')' stands where ':' and what to take of each item should stand"},
    {"conductor", "count(conductor as c : 1)",
     "0..24 count and the take no ':' part (conditions stand after 'where')"},
    {"conductor", "count(conductor as and)", "19..22 'and' stands where a name for each item should stand"},
    {"conductor", "sum(conductor as c : sum(conductor as c : 1))",
     "38..39 the name 'c' is already bound outside"},
    {"conductor", "count()", "0..7 count is given nothing"},
    {"conductor", "lookup(capacity, section)",
     "15..16 ',' stands where '.' should stand (a lookup begins with table.column)"},
    {"conductor", "lookup(capacity.current section)", "24..31 'section' stands where ')' should stand"},
    {"conductor", "next_up(fuse_sizes)", "18..19 ')' stands where ',' should stand"},
    {"conductor", "pack.", "5..5 the expression ends where a field's name should stand"},
    {"conductor", "pack.1", "5..6 '1' stands where a field's name should stand"},
    {"conductor", "and", "0..3 'and' stands where a value should stand"},
    {"conductor", "1e999", "0..5 the number is too large or too small"},
    {"conductor", "not", "3..3 the expression ends where a value should stand"},
    {"conductor", "section section", "8..15 'section' stands where an operator or the end should stand"},
    {"conductor", "1 2", "2..3 '2' stands where an operator or the end should stand"},
    {"conductor", "[1]", "0..1 '[' stands where a value should stand"},
    {"conductor", "true false", "5..10 'false' stands where an operator or the end should stand"},
};

}  // namespace

TEST_CASE("every text that is no expression gets one clear message at its place") {
    const World world;
    for (const Case& one : cases) {
        CAPTURE(one.text);
        CHECK(world.mistakes(one.kind, one.text) == one.mistakes);
    }
}
