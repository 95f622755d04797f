// Expressions that parse but mean nothing, with their whole messages and places; between them expressions
// close by that are right (no message).
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
    {"conductor", "sectoin > 2 mm²", "0..7 unknown field 'sectoin' of conductor (nearest is 'section')"},
    {"conductor", "sectoin > lenght",
     "0..7 unknown field 'sectoin' of conductor (nearest is 'section')\n10..16 unknown field 'lenght' of "
     "conductor (nearest is 'length')"},
    {"conductor", "pac.series", "0..3 unknown field 'pac' of conductor (nearest is 'pack')"},
    {"conductor", "pack.serise", "5..11 unknown field 'serise' of pack (nearest is 'series')"},
    {"conductor", "device.rated_current > 1 A",
     "0..6 'device' is a kind of which there may be many items (name one by a reference, or use count, sum, "
     "any … over 'device as x')"},
    {"conductor", "protected_by.rated_curent",
     "13..25 unknown field 'rated_curent' of device (nearest is 'rated_current')"},
    {"conductor", "protected_by.rated_current.x",
     "27..28 'protected_by.rated_current' is a current and has no fields"},
    {"conductor", "section.x", "8..9 'section' is an area and has no fields"},
    {"conductor", "current < section", "0..17 compares a current with an area"},
    {"conductor", "current + section", "0..17 adds an area to a current"},
    {"conductor", "current - section", "0..17 subtracts an area from a current"},
    {"conductor", "current * limit",
     "10..15 a temperature cannot be multiplied (take a difference first: 't - 0 °C' or a literal in K)"},
    {"conductor", "limit / 2",
     "0..5 a temperature cannot be divided (take a difference first: 't - 0 °C' or a literal in K)"},
    {"conductor", "-limit", "0..6 a temperature cannot be negated"},
    {"conductor", "limit + limit",
     "0..13 adds a temperature to a temperature (add a temperature difference (K))"},
    {"conductor", "limit + 5 °C + pack.ambient",
     "0..28 adds a temperature to a temperature (add a temperature difference (K))"},
    {"conductor", "5 K - limit", ""},
    {"conductor", "limit - pack.ambient > limit",
     "0..28 compares a temperature difference with a temperature"},
    {"conductor", "limit^2", "0..7 a temperature cannot be raised to a power"},
    {"conductor", "section^16", ""},
    {"conductor", "abs(limit)",
     "4..9 what abs takes must be a difference, not a temperature (write 't - 0 °C')"},
    {"conductor", "sqrt(current)", "5..12 a current has no square root in whole dimensions"},
    {"conductor", "sqrt(section)", ""},
    {"conductor", "exp(current)",
     "4..11 what exp takes must be a plain number, not a current (divide by a value in the unit that you "
     "mean)"},
    {"conductor", "ln(2, 3)", "0..8 ln takes one value, not 2"},
    {"conductor", "min(1)", "0..6 min takes at least two values (or write min(items as x : value))"},
    {"conductor", "between(1)", "0..10 between takes two values, not 1"},
    {"conductor", "min(1, current)", "7..14 min compares a plain number with a current"},
    {"conductor", "min(20 °C, limit, 300 K)", ""},
    {"conductor", "max(limit, 20 K)", ""},
    {"conductor", "not section", "4..11 what 'not' joins must be a condition, not an area"},
    {"conductor", "section and tinned", "0..7 what 'and' joins must be a condition, not an area"},
    {"conductor", "tinned < true", "0..13 a condition has no order (only == and != compare it)"},
    {"conductor", "label < 'a'", "0..11 text has no order (only == and != compare it)"},
    {"conductor", "label == 5", "0..10 compares text with a plain number"},
    {"conductor", "tinned == 'a'", "0..13 compares a condition with text"},
    {"conductor", "protected_by == this", "0..20 compares an item of device with an item of conductor"},
    {"conductor", "pack == protected_by", "0..20 compares an item of pack with an item of device"},
    {"conductor", "protected_by == protected_by", ""},
    {"conductor", "insulation == 'ruber'",
     "14..21 'ruber' is not one of the choices of insulation (nearest is 'rubber')"},
    {"conductor", "'ruber' == insulation",
     "0..7 'ruber' is not one of the choices of insulation (nearest is 'rubber')"},
    {"conductor", "insulation in ['rubber', 'plastik']",
     "25..34 'plastik' is not one of the choices of insulation (nearest is 'plastic')"},
    {"conductor", "label in ['anything']", ""},
    {"conductor", "label matches '('", "15..16 the regular expression is wrong: missing ): ("},
    {"conductor", "label matches 'a\\C'", "15..18 the regular expression is wrong: \\C is not allowed"},
    {"conductor", "label matches '(a{100}){100}'",
     "15..28 the regular expression is wrong: invalid repetition size: {100}"},
    {"conductor", "section within section",
     "15..22 what stands after 'within' must be a permitted range, not an area"},
    {"conductor", "section within pack",
     "15..19 what stands after 'within' must be a permitted range, not an item of pack"},
    {"conductor", "section < 0 mm²", "0..16 this comparison can never hold ('section' cannot reach 0 mm²)"},
    {"conductor", "section <= 0 mm²", "0..17 this comparison can never hold ('section' cannot reach 0 mm²)"},
    {"conductor", "0 mm² >= section", "0..17 this comparison can never hold ('section' cannot reach 0 mm²)"},
    {"conductor", "section > 0 mm²", ""},
    {"conductor", "section == -1 mm²",
     "0..18 this comparison can never hold ('section' cannot reach -1 mm²)"},
    {"conductor", "abs(length) < 0 m",
     "0..17 this comparison can never hold ('abs(length)' cannot reach 0 m)"},
    {"conductor", "1 < 2", "0..5 compares two constants: the answer never changes"},
    {"conductor", "pi > 3", "0..6 compares two constants: the answer never changes"},
    {"conductor", "pack.series < 0", ""},
    {"conductor", "count(conductor as c) < 0",
     "0..25 this comparison can never hold ('count(conductor as c)' cannot reach 0)"},
    {"conductor", "5 is stated", "0..1 only a field can be stated"},
    {"conductor", "this is stated", "0..4 only a field can be stated"},
    {"conductor", "(section + section) is none",
     "1..18 only a field or the item of a single kind can be none"},
    {"conductor", "5 is assumed", "0..1 only a field can be assumed"},
    {"conductor", "pack is assumed", "0..4 only a field can be assumed"},
    {"conductor", "pack is known", "0..4 only a field can be known"},
    {"conductor", "pack is none", ""},
    {"conductor", "resistance is known",
     "0..10 'resistance' is derived: it cannot be known (ask it of the fields that it is derived from)"},
    {"conductor", "pack is stated", "0..4 only a field can be stated"},
    {"conductor", "this is mentioned", "0..4 only a field or the item of a single kind can be mentioned"},
    {"conductor", "5 is mentioned", "0..1 only a field or the item of a single kind can be mentioned"},
    {"conductor", "device is mentioned",
     "0..6 'device' is a kind of which there may be many items (name one by a reference, or use count, sum, "
     "any … over 'device as x')"},
    {"conductor", "resistance is assumed",
     "0..10 'resistance' is derived: it cannot be assumed (ask it of the fields that it is derived from)"},
    {"conductor", "resistance is mentioned",
     "0..10 'resistance' is derived: it cannot be mentioned (ask it of the fields that it is derived from)"},
    {"joint", "any(layers as l : l.hole is mentioned)",
     "18..24 'l.hole' is derived: it cannot be mentioned (ask it of the fields that it is derived from)"},
    {"conductor", "pack is mentioned and pack.series is not assumed", ""},
    {"pack", "pack is mentioned", ""},
    {"conductor", "sectio is mentioned", "0..6 unknown field 'sectio' of conductor (nearest is 'section')"},
    {"conductor", "if section then 1 else 2",
     "3..10 what stands after 'if' must be a condition, not an area"},
    {"conductor", "if tinned then 1 else current", "0..29 one branch is a plain number, the other a current"},
    {"conductor", "if tinned then 20 °C else limit", ""},
    {"conductor", "lookup(capacty.current, insulation, section)",
     "7..14 unknown table 'capacty' (nearest is 'capacity')"},
    {"conductor", "lookup(capacity.curent, insulation, section)",
     "16..22 unknown column 'curent' of table capacity (nearest is 'current')"},
    {"conductor", "lookup(capacity.current, insulation)",
     "0..36 table capacity takes 2 keys, not 1 (its keys are insulation, section)"},
    {"conductor", "lookup(capacity.current, section, insulation)",
     "25..32 key insulation of table capacity must be text, not an area\n34..44 key section of table "
     "capacity must be an area, not text"},
    {"conductor", "lookup(capacity.current, insulation, section, section)",
     "0..54 table capacity takes 2 keys, not 3 (its keys are insulation, section)"},
    {"conductor", "next_up(fuse_size, current)", "8..17 unknown table 'fuse_size' (nearest is 'fuse_sizes')"},
    {"conductor", "next_up(capacity, current)",
     "8..16 table capacity is not a series: it needs one key, a number"},
    {"conductor", "next_up(fuse_sizes, section)",
     "20..27 a value of series fuse_sizes must be a current, not an area"},
    {"conductor", "next_up(fuse_sizes, current) > 10 A", ""},
    {"conductor", "position(section)", "9..16 what position takes must be an item, not an area"},
    {"conductor", "point(this)", "6..10 point takes a field that is a reference"},
    {"conductor", "lower(section)", "6..13 what lower takes must be a permitted range, not an area"},
    {"conductor", "middle(limit)", "7..12 what middle takes must be a permitted range, not a temperature"},
    {"conductor", "section == protected_by", "0..23 compares an area with an item of device"},
    {"joint", "layers.thickness",
     "7..16 'layers' is a list: its items have 'thickness', not the list (use sum, min, max, all, any or the "
     "over it)"},
    {"joint", "on.rated_current",
     "3..16 unknown field 'rated_current' of busbar (it may be an item of device or busbar: each needs the "
     "field)"},
    {"joint", "on.thickness > 1 mm",
     "3..12 unknown field 'thickness' of device (it may be an item of device or busbar: each needs the "
     "field)"},
    {"joint", "layers == layers", "0..16 compares a list of busbar or lug with a list of busbar or lug"},
    {"joint", "the(layers as l).hole", ""},
    {"joint", "the(layers as l).width",
     "17..22 unknown field 'width' of lug (it may be an item of busbar or lug: each needs the field)"},
    {"joint", "sum(layers as l : l.hole)", ""},
    {"joint", "sum(layers as l where l.hole : l.hole)",
     "22..28 what stands after 'where' must be a condition, not a length"},
    {"joint", "sum(conductor as c : c.limit)",
     "21..28 temperatures cannot be summed (sum differences: 't - 0 °C')"},
    {"joint", "all(layers as l : l.hole)", "18..24 what stands after ':' must be a condition, not a length"},
    {"joint", "count(on as o)", "6..8 'on' is an item of device or busbar, not a kind or a list of items"},
    {"joint", "count(torque as o)", "6..12 'torque' is a torque or energy, not a kind or a list of items"},
    {"joint", "count(nothing as o)", "6..13 unknown field 'nothing' of joint"},
    {"joint", "torque within allowed_torque", ""},
    {"joint", "current within allowed_torque", "0..7 unknown field 'current' of joint"},
    {"joint", "allowed_torque < 5 N·m",
     "0..23 compares a permitted range (take lower(x), upper(x), or write 'x within range')"},
    {"joint", "the(layers as l) in layers", ""},
    {"joint", "pack in layers", "0..14 an item of pack is never in a list of busbar or lug"},
    {"joint", "torque in layers", "0..6 what stands before 'in' must be an item, not a torque or energy"},
    {"joint", "if torque > 1 N·m then on else the(layers as l)", ""},
};

}  // namespace

TEST_CASE("every expression that means nothing gets its messages, all in one run") {
    const World world;
    for (const Case& one : cases) {
        CAPTURE(one.text);
        CHECK(world.mistakes(one.kind, one.text) == one.mistakes);
    }
}
