// Evaluation on items, by example. Expected numbers are worked by hand beside the case; SI base units.
#include <doctest/doctest.h>

#include "engine/language/compare.hpp"
#include "world.hpp"

using namespace packproof;
using namespace packproof::language;

namespace {

struct Bench : World {
    model::ItemIndex pack = add("pack", "pack");
    model::ItemIndex breaker = add("device", "breaker");
    model::ItemIndex fuse = add("device", "fuse");
    model::ItemIndex main = add("conductor", "main");
    model::ItemIndex spare = add("conductor", "spare");
    model::ItemIndex bar = add("busbar", "bar");
    model::ItemIndex ring = add("lug", "ring");
    model::ItemIndex joint = add("joint", "joint");

    Bench() {
        set(pack, "series", "16");
        set(pack, "ambient", "35 °C");
        set(breaker, "rated_current", "160 A");
        set(breaker, "curve", "slow");
        set(main, "section", "50 mm²");
        set(main, "length", "1.5 ± 0.5 m");
        set(main, "current", "140 A");
        set(main, "limit", "90 °C");
        set(main, "insulation", "rubber");
        set(main, "tinned", "true");
        set(main, "label", "M6x20");
        refer(main, "protected_by", {breaker});
        set(bar, "thickness", "3 ± 0.1 mm");
        set(bar, "width", "20 mm");
        set(ring, "thickness", "2 mm");
        set(ring, "hole", "8.4 mm");
        refer(joint, "layers", {bar, ring});
        set(joint, "torque", "5 ± 0.5 N·m");
        set(joint, "allowed_torque", "4 .. 6 N·m");
    }
};

}  // namespace

TEST_CASE_FIXTURE(Bench, "fields are read on the item at hand, along references and on a single item") {
    CHECK(answer(main, "current") == "140");
    CHECK(answer(main, "this.current") == "140");
    CHECK(answer(main, "protected_by.rated_current") == "160");
    CHECK(answer(main, "pack.series") == "16");
    CHECK(answer(pack, "pack.series + series") == "32");
    CHECK(answer(main, "protected_by") == "item breaker");
}

TEST_CASE_FIXTURE(Bench,
                  "a derived quantity is read like a field, and may stand in for one on another kind") {
    // 17 µΩ·mm × 1 m / 50 mm² = 0.34 mΩ; at 2 m 0.68 mΩ
    CHECK(answer(main, "resistance") == "[0.00034, 0.00068]");
    // a busbar's hole is derived as width / 2 = 10 mm, a lug's is stated 8.4 mm
    CHECK(answer(joint, "max(layers as l : l.hole)") == "0.01");
    CHECK(answer(joint, "min(layers as l : l.hole)") == "0.0084");
}

TEST_CASE_FIXTURE(Bench, "arithmetic keeps to intervals, and to exact numbers where they are exact") {
    CHECK(answer(main, "1.25 * 160 A") == "200");
    CHECK(answer(main, "length + 1 m") == "[2, 3]");
    CHECK(answer(main, "length * length") == "[1, 4]");
    CHECK(answer(main, "1 / length") == "[0.5, 1]");
    CHECK(answer(main, "(length - 1.5 m)^2") == "[0, 0.25]");
    CHECK(answer(main, "-length") == "[-2, -1]");
    CHECK(answer(main, "-2^2") == "-4");
    CHECK(answer(main, "2^-1") == "0.5");
    CHECK(answer(main, "abs(1.5 m - length)") == "[0, 0.5]");
    CHECK(answer(main, "sqrt(length * length)") == "[1, 2]");
    CHECK(answer(main, "min(length, 1.2 m)") == "[1, 1.2]");
    CHECK(answer(main, "max(length, 1.2 m)") == "[1.2, 2]");
    CHECK(answer(main, "exp(0) + ln(1)") == "1");
    CHECK(answer(main, "least(length)") == "1");
    CHECK(answer(main, "most(length)") == "2");
    CHECK(answer(main, "nominal(length)") == "1.5");
    CHECK(answer(joint, "middle(allowed_torque)") == "5");
    CHECK(answer(joint, "upper(allowed_torque) - lower(allowed_torque)") == "2");
}

TEST_CASE_FIXTURE(Bench, "rounding to whole numbers takes what differs in the 13th digit as whole") {
    // 1.1 / 0.1 is 11.000000000000002 in double
    CHECK(answer(main, "round_up(1.1 / 0.1)") == "11");
    CHECK(answer(main, "round_down(0.6 / 0.1)") == "6");
    CHECK(answer(main, "round_up(length / 1 m)") == "[1, 2]");
    CHECK(answer(main, "round_down(2.5)") == "2");
    CHECK(answer(main, "round_up(-2.5)") == "-2");
    CHECK(answer(main, "between(1, 3)") == "[1, 3]");
    CHECK(answer(main, "between(3, 1) + 1") == "[2, 4]");
    CHECK(answer(main, "between(2, 2)") == "2");
}

TEST_CASE_FIXTURE(Bench, "temperatures are points: their difference is a difference") {
    CHECK(answer(main, "limit - pack.ambient") == "55");  // 90 °C - 35 °C
    CHECK(answer(main, "pack.ambient - 0 °C") == "35");
    CHECK(answer(main, "limit - 10 K") == "353.15");  // 80 °C
    CHECK(answer(main, "limit - 10 K < 80.1 °C") == "yes");
    CHECK(answer(main, "pack.ambient >= -20 °C") == "yes");
    CHECK(answer(main, "pack.ambient + 5 °C == 40 °C") == "yes");  // a literal beside a point is a difference
    CHECK(answer(main, "limit - pack.ambient > 50 °C") == "yes");  // and a difference beside a difference
    CHECK(answer(main, "pack.ambient < 309 K") == "yes");          // 35 °C is 308.15 K
}

TEST_CASE_FIXTURE(Bench, "a comparison is open when the limit lies inside the tolerance") {
    CHECK(answer(main, "length <= 2 m") == "yes");
    CHECK(answer(main, "length < 2 m") == "open");
    CHECK(answer(main, "length >= 2 m") == "open");
    CHECK(answer(main, "length > 2 m") == "no");
    CHECK(answer(main, "length < 1 m") == "no");
    CHECK(answer(main, "length == 1.5 m") == "open");
    CHECK(answer(main, "length != 3 m") == "yes");
    CHECK(answer(main, "current == 140 A") == "yes");
    CHECK(answer(joint, "torque within allowed_torque") == "yes");
    CHECK(answer(joint, "torque * 1.2 within allowed_torque") == "open");
    CHECK(answer(joint, "torque * 2 within allowed_torque") == "no");
    // 3 × 0.1 and 0.3 differ in the last bit only
    CHECK(answer(main, "current * 0.1 * 3 <= 42 A") == "yes");
    CHECK(answer(main, "current * 0.1 * 3 < 42 A") == "no");
}

TEST_CASE_FIXTURE(Bench, "a permitted range without an end is unlimited there") {
    set(joint, "allowed_torque", "<= 6 N·m");
    CHECK(answer(joint, "torque within allowed_torque") == "yes");
    CHECK(answer(joint, "torque >= lower(allowed_torque)") ==
          "missing: joint.allowed_torque has no lower end");
    CHECK(answer(joint, "torque <= upper(allowed_torque)") == "yes");
    CHECK(answer(joint, "middle(allowed_torque)") == "missing: joint.allowed_torque has no lower end");
}

TEST_CASE_FIXTURE(Bench, "texts, truths and items are compared") {
    CHECK(answer(main, "insulation == 'rubber'") == "yes");
    CHECK(answer(main, "insulation in ['plastic', 'silicone']") == "no");
    CHECK(answer(main, "label matches 'M[0-9]+x[0-9]+'") == "yes");
    CHECK(answer(main, "label matches 'M[0-9]+'") == "no");  // the whole text
    CHECK(answer(main, "tinned") == "yes");
    CHECK(answer(main, "tinned == false") == "no");
    CHECK(answer(fuse, "any(conductor as c : c.protected_by == this)") ==
          "missing: spare.protected_by not stated");
    CHECK(answer(bar, "any(joint as j : this in j.layers)") == "yes");
    CHECK(answer(bar, "any(joint as j : first(j.layers) == this)") == "yes");
    CHECK(answer(bar, "any(joint as j : last(j.layers) == this)") == "no");
    CHECK(answer(bar, "position(this)") == "0");
    CHECK(answer(spare, "position(this)") == "1");
}

TEST_CASE_FIXTURE(Bench, "a text of several alternatives answers only where all agree") {
    set(main, "insulation", model::Value{model::Text{"rubber", {"rubber", "plastic"}}, {}});
    CHECK(answer(main, "insulation == 'rubber'") == "open");
    CHECK(answer(main, "insulation == 'silicone'") == "no");
    CHECK(answer(main, "insulation in ['rubber', 'plastic']") == "yes");
    CHECK(answer(main, "insulation matches '.*b.*'") == "open");
    CHECK(answer(main, "if insulation == 'rubber' then 1 else 2") == "[1, 2]");
}

TEST_CASE_FIXTURE(Bench, "what is missing is named, and only if it matters") {
    CHECK(answer(spare, "current") == "missing: spare.current not stated");
    CHECK(answer(spare, "current / section > 2 A/mm²") ==
          "missing: spare.current not stated, spare.section not stated");
    CHECK(answer(spare, "protected_by.rated_current") == "missing: spare.protected_by not stated");
    set(spare, "current", "?");
    CHECK(answer(spare, "current > 1 A") == "missing: spare.current asked");
    CHECK(answer(spare, "current > 1 A and length > 1 m") ==
          "missing: spare.current asked, spare.length not stated");
    CHECK(answer(spare, "current > 1 A and pack.series > 20") == "no");
    CHECK(answer(spare, "pack.series > 20 and current > 1 A") == "no");
    CHECK(answer(spare, "current > 1 A or pack.series == 16") == "yes");
    CHECK(answer(spare, "(pack.series > 20 or length > 1 m) and pack.series > 1") ==
          "missing: spare.length not stated");
    CHECK(answer(spare, "if pack.series > 20 then current else 5 A") == "5");
    CHECK(answer(spare, "if length > 1 m then 1 else 1") == "missing: spare.length not stated");
    CHECK(answer(main, "1 / (length - length)") == "[-inf, inf]");
    CHECK(answer(main, "1 / (pack.series - 16)") == "missing: not a number");
    CHECK(answer(main, "sqrt(0 - pack.series)") == "missing: not a number");
    CHECK(answer(main, "ln(pack.series - 16)") == "missing: not a number");
}

TEST_CASE_FIXTURE(Bench, "is stated and is none ask for presence, not for values") {
    CHECK(answer(main, "section is stated") == "yes");
    CHECK(answer(spare, "section is stated") == "no");
    CHECK(answer(spare, "section is not stated") == "yes");
    CHECK(answer(spare, "protected_by.rated_current is stated") == "no");
    set(spare, "section", "?");
    CHECK(answer(spare, "section is stated") == "no");
    CHECK(answer(spare, "section is none") == "no");
    set(spare, "protected_by", "none");
    CHECK(answer(spare, "protected_by is stated") == "yes");
    CHECK(answer(spare, "protected_by is none") == "yes");
    CHECK(answer(spare, "protected_by is not none") == "no");
    CHECK(answer(spare, "protected_by.rated_current is stated") == "no");
    CHECK(answer(spare, "protected_by.rated_current > 1 A") == "missing: spare.protected_by known none");
    set(spare, "current", "none");
    CHECK(answer(spare, "current > 1 A") == "missing: spare.current known none");
    CHECK(answer(spare, "current + 1 A") == "missing: spare.current known none");
    CHECK(answer(main, "resistance is stated") == "yes");
    CHECK(answer(spare, "resistance is stated") == "no");
}

TEST_CASE_FIXTURE(Bench,
                  "an absent value can be asked to leave is stated unknown, but what cannot be is not") {
    Context asking = context();
    asking.absent_is_unknown = true;
    const auto truth = [&](std::string_view text) {
        const Expression tree = compile("conductor", text);
        return truth_of(evaluate(tree, spare, asking));
    };
    CHECK(truth("section is stated") == model::Truth::unknown);
    CHECK(truth("protected_by.rated_current is stated") == model::Truth::unknown);
    set(spare, "protected_by", "none");
    CHECK(truth("protected_by is stated") == model::Truth::yes);
    CHECK(truth("protected_by.rated_current is stated") == model::Truth::no);
    CHECK(truth("section is none") == model::Truth::no);
}

TEST_CASE_FIXTURE(Bench,
                  "is assumed tells a default from what is stated, and does not know of what is absent") {
    CHECK(answer(main, "section is assumed") == "no");
    CHECK(answer(main, "section is not assumed") == "yes");
    assume(main, "section", "50 mm²");
    CHECK(answer(main, "section is assumed") == "yes");
    CHECK(answer(main, "section is not assumed") == "no");
    CHECK(answer(spare, "section is assumed") == "missing: spare.section not stated");
    CHECK(answer(spare, "section is not assumed") == "missing: spare.section not stated");
    set(spare, "section", "?");
    CHECK(answer(spare, "section is assumed") == "missing: spare.section asked");
    set(spare, "section", "none");
    CHECK(answer(spare, "section is assumed") == "no");
    assume(pack, "series", "16");
    CHECK(answer(main, "pack.series is assumed") == "yes");
}

TEST_CASE_FIXTURE(Bench, "is assumed follows references: unknown behind an absent one, no behind none") {
    CHECK(answer(main, "protected_by.rated_current is assumed") == "no");
    assume(breaker, "rated_current", "160 A");
    CHECK(answer(main, "protected_by.rated_current is assumed") == "yes");
    CHECK(answer(spare, "protected_by.rated_current is assumed") == "missing: spare.protected_by not stated");
    set(spare, "protected_by", "none");
    CHECK(answer(spare, "protected_by.rated_current is assumed") == "no");
}

TEST_CASE_FIXTURE(Bench, "is known waits for what is only assumed, and says what it waits for") {
    CHECK(answer(main, "section is known") == "yes");
    set(main, "section", "~50 mm²");
    CHECK(answer(main, "section is known") == "yes");
    set(main, "section", "none");
    CHECK(answer(main, "section is known") == "yes");
    assume(main, "section", "50 mm²");
    CHECK(answer(main, "section is known") == "missing: main.section only assumed");
    CHECK(answer(main, "section is not known") == "missing: main.section only assumed");
    CHECK(answer(main, "section < 1 mm² and section is known") == "no");
    CHECK(answer(main, "section > 1 mm² and section is known") == "missing: main.section only assumed");
    CHECK(answer(spare, "section is known") == "missing: spare.section not stated");
    set(spare, "section", "?");
    CHECK(answer(spare, "section is known") == "missing: spare.section asked");
    CHECK(answer(spare, "protected_by.rated_current is known") == "missing: spare.protected_by not stated");
    set(spare, "protected_by", "none");
    CHECK(answer(spare, "protected_by.rated_current is known") == "no");
}

TEST_CASE_FIXTURE(Bench, "an answer on an assumption rests on it, and a guess does not cloud it") {
    assume(main, "section", "~50 mm²");
    const model::Value yes = ask(main, "section is assumed");
    CHECK(yes.basis.assumed);
    CHECK_FALSE(yes.basis.guess);
    CHECK_FALSE(ask(main, "section is mentioned").basis.assumed);
    set(main, "section", "~50 mm²");
    CHECK_FALSE(ask(main, "section is not assumed").basis.assumed);
    CHECK_FALSE(ask(main, "section is not assumed").basis.guess);
    model.items[main].slots.front().origin = model::Origin::measured;
    CHECK(answer(main, "section is assumed") == "no");
    CHECK(ask(main, "section is assumed").basis.measured);
}

TEST_CASE_FIXTURE(Bench, "is mentioned asks whether the description says anything of a field") {
    CHECK(answer(main, "section is mentioned") == "yes");
    CHECK(answer(main, "section is not mentioned") == "no");
    CHECK(answer(spare, "section is mentioned") == "no");
    CHECK(answer(spare, "section is not mentioned") == "yes");
    set(spare, "section", "?");
    CHECK(answer(spare, "section is mentioned") == "yes");
    set(spare, "section", "none");
    CHECK(answer(spare, "section is mentioned") == "yes");
    assume(spare, "section", "50 mm²");
    CHECK(answer(spare, "section is mentioned") == "no");
    CHECK(answer(main, "protected_by.rated_current is mentioned") == "yes");
    CHECK(answer(spare, "protected_by.rated_current is mentioned") == "no");
    set(spare, "protected_by", "?");
    CHECK(answer(spare, "protected_by.rated_current is mentioned") == "no");
    set(spare, "protected_by", "none");
    CHECK(answer(spare, "protected_by.rated_current is mentioned") == "no");
}

TEST_CASE_FIXTURE(Bench, "is mentioned asks whether the description has the item of a single kind, or none") {
    CHECK(answer(main, "pack is mentioned") == "yes");
    CHECK(answer(pack, "pack is mentioned") == "yes");
    model.items[pack].stated = false;  // implied only
    CHECK(answer(main, "pack is mentioned") == "no");
    CHECK(answer(pack, "pack is not mentioned") == "yes");
    model.of_kind[kind("pack")].clear();  // as `pack = "none"` leaves it
    CHECK(answer(main, "pack is mentioned") == "yes");
    CHECK(answer(main, "pack.series is mentioned") == "no");
}

TEST_CASE_FIXTURE(Bench,
                  "the item of a single kind can be none, and what hangs on it is known not to be stated") {
    Context asking = context();
    asking.absent_is_unknown = true;
    const auto strict = [&](std::string_view text) {
        const Expression tree = compile("conductor", text);
        return truth_of(evaluate(tree, main, asking));
    };
    clear(pack, "series");
    CHECK(answer(main, "pack is none") == "no");
    CHECK(answer(pack, "pack is none") == "no");
    CHECK(strict("pack is none") == model::Truth::no);
    CHECK(strict("pack.series is stated") == model::Truth::unknown);
    model.of_kind[kind("pack")].clear();  // as `pack = "none"` leaves it
    CHECK(answer(main, "pack is none") == "yes");
    CHECK(answer(main, "pack is not none") == "no");
    CHECK(answer(main, "pack.series is stated") == "no");
    CHECK(strict("pack.series is stated") == model::Truth::no);
    CHECK(answer(main, "pack.series is assumed") == "no");
    CHECK(answer(main, "pack.series > 1") == "missing: no such item");
}

TEST_CASE_FIXTURE(Bench, "where absence is unknown, is assumed is unknown too, but is mentioned never is") {
    Context asking = context();
    asking.absent_is_unknown = true;
    const auto truth = [&](std::string_view text) {
        const Expression tree = compile("conductor", text);
        return truth_of(evaluate(tree, spare, asking));
    };
    CHECK(truth("section is assumed") == model::Truth::unknown);
    CHECK(truth("section is mentioned") == model::Truth::no);
    CHECK(truth("section is not mentioned") == model::Truth::yes);
    CHECK(truth("protected_by.rated_current is mentioned") == model::Truth::no);
    set(spare, "section", "?");
    CHECK(truth("section is mentioned") == model::Truth::yes);
}

TEST_CASE_FIXTURE(Bench, "folds go over a kind or a list") {
    refer(spare, "protected_by", {fuse});
    CHECK(answer(pack, "count(conductor as c)") == "2");
    CHECK(answer(breaker, "count(conductor as c where c.protected_by == this)") == "1");
    CHECK(answer(joint, "count(layers as l)") == "2");
    CHECK(answer(joint, "sum(layers as l : l.thickness)") == "[0.0049, 0.0051]");  // 2.9 + 2 .. 3.1 + 2 mm
    CHECK(answer(joint, "sum(layers as l where l.thickness > 1 m : l.thickness)") == "0");
    CHECK(answer(joint, "max(layers as l where l.thickness > 1 m : l.thickness)") == "missing: no such item");
    CHECK(answer(joint, "all(layers as l : l.thickness > 1 mm)") == "yes");
    CHECK(answer(joint, "all(layers as l : l.thickness > 2.5 mm)") == "no");
    CHECK(answer(joint, "all(layers as l where l.thickness > 1 m : false)") == "yes");
    CHECK(answer(joint, "any(layers as l where l.thickness > 1 m : true)") == "no");
    CHECK(answer(joint, "any(layers as l : l.thickness > 3 mm)") == "open");
    CHECK(answer(pack, "the(conductor as c where c.protected_by.rated_current == 160 A)") ==
          "missing: fuse.rated_current not stated");
    CHECK(answer(pack, "the(device as d where d == d).curve") == "missing: no such item");  // two match
    CHECK(answer(breaker, "the(conductor as c where c.protected_by == this).current") == "140");
    CHECK(answer(pack, "the(device as d where false)") == "missing: no such item");
}

TEST_CASE_FIXTURE(Bench, "those are the members that meet a condition, or what they name, each once") {
    CHECK(answer(joint, "count(those(layers as l) as m)") == "2");
    CHECK(answer(joint, "count(those(layers as l where l.thickness > 2.5 mm) as m)") == "1");
    CHECK(answer(joint, "count(those(layers as l where l.thickness > 1 m) as m)") == "0");
    refer(spare, "protected_by", {breaker});
    CHECK(answer(pack, "count(those(conductor as c : c.protected_by) as d)") == "1");
    CHECK(answer(breaker, "this in those(conductor as c : c.protected_by)") == "yes");
    CHECK(answer(fuse, "this in those(conductor as c : c.protected_by)") == "no");
    // open or unknown whether one belongs to them: nobody knows which they are
    CHECK(answer(joint, "count(those(layers as l where l.thickness > 3 mm) as m)").starts_with("missing"));
    refer(spare, "protected_by", {fuse});
    CHECK(answer(pack, "count(those(conductor as c where c.protected_by.rated_current == 160 A) as m)") ==
          "missing: fuse.rated_current not stated");
}

TEST_CASE_FIXTURE(Bench, "a fold counts an open member as possible") {
    // the bar is 2.9 to 3.1 mm thick, so whether it passes 3 mm is open; the ring, 2 mm, does not
    CHECK(answer(joint, "count(layers as l where l.thickness > 3 mm)") == "[0, 1]");
    CHECK(answer(joint, "count(layers as l where l.thickness > 1 mm)") == "2");
    CHECK(answer(joint, "sum(layers as l where l.thickness > 3 mm : 7)") == "[0, 7]");
    CHECK(answer(joint, "sum(layers as l where l.thickness > 3 mm or l.thickness < 2.5 mm : l.thickness)") ==
          "[0.002, 0.0051]");
    CHECK(answer(joint, "max(layers as l where l.thickness > 3 mm or l.thickness < 2.5 mm : l.thickness)") ==
          "[0.002, 0.0031]");
    CHECK(answer(joint, "min(layers as l where l.thickness > 3 mm : 7)") == "missing: no such item");
    CHECK(answer(joint, "the(layers as l where l.thickness > 3 mm)") == "missing: no such item");
}

TEST_CASE_FIXTURE(Bench,
                  "a fold whose condition or value is missing is missing, unless it is decided without") {
    refer(spare, "protected_by", {fuse});
    CHECK(answer(pack, "sum(conductor as c : c.current)") == "missing: spare.current not stated");
    CHECK(answer(pack, "count(conductor as c where c.current > 1 A)") == "missing: spare.current not stated");
    CHECK(answer(pack, "any(conductor as c : c.current > 1 A)") == "yes");
    CHECK(answer(pack, "all(conductor as c : c.current > 1000 A)") == "no");
    CHECK(answer(pack, "all(conductor as c : c.current > 1 A)") == "missing: spare.current not stated");
    // whether the condition holds of the spare does not matter: it meets the demand anyway
    set(spare, "length", "2 m");
    CHECK(answer(pack, "all(conductor as c where c.current > 1 A : c.length > 0.5 m)") == "yes");
    CHECK(answer(pack, "any(conductor as c where c.current > 1 A : c.length > 5 m)") == "no");
    clear(joint, "layers");
    CHECK(answer(joint, "count(layers as l)") == "missing: joint.layers not stated");
    set(joint, "layers", "none");
    CHECK(answer(joint, "count(layers as l)") == "0");
    CHECK(answer(joint, "all(layers as l : l.thickness > 1 mm)") == "yes");
}

TEST_CASE_FIXTURE(Bench, "a guess marks every answer that rests on it and no other") {
    set(main, "current", "~ 140 A");
    CHECK(ask(main, "current * 2").basis.guess);
    CHECK(ask(main, "current > 1 A and pack.series == 16").basis.guess);
    CHECK_FALSE(ask(main, "current > 1 A or pack.series == 16").basis.measured);
    CHECK_FALSE(ask(main, "current > 1 A and pack.series == 17").basis.guess);  // no without it
    CHECK(ask(main, "sum(conductor as c where c == this : c.current)").basis.guess);
    CHECK(ask(main, "if current > 1 A then 1 else 2").basis.guess);
}

TEST_CASE_FIXTURE(Bench,
                  "lookups are asked of the table, with the keys' values, and not when a key is missing") {
    Context asking = context();
    std::vector<Gap> gaps;
    asking.gaps = &gaps;
    asking.lookup = [](std::uint32_t table, std::uint32_t column, std::span<const model::Value> keys) {
        CHECK(table == 0);
        CHECK(column == 0);
        REQUIRE(keys.size() == 2);
        CHECK(keys[0].text()->value == "rubber");
        const double square_millimetres = keys[1].number()->range.low * 1e6;
        if (square_millimetres > 100.0) return model::Value{};
        return model::Value{model::Number{{3.0 * square_millimetres, 3.0 * square_millimetres}, 0.0, {}}, {}};
    };
    const Expression tree = compile("conductor", "lookup(capacity.current, insulation, section)");
    CHECK(evaluate(tree, main, asking).number()->range.low == doctest::Approx(150.0));
    set(main, "section", "120 mm²");
    CHECK(evaluate(tree, main, asking).missing());
    REQUIRE(gaps.size() == 1);
    CHECK(gaps[0].reason == Gap::Reason::beyond_table);
    gaps.clear();
    set(spare, "insulation", "rubber");
    CHECK(evaluate(tree, spare, asking).missing());
    REQUIRE(gaps.size() == 1);
    CHECK(gaps[0].input == input(spare, "section"));
}

TEST_CASE_FIXTURE(Bench, "a box replaces inputs, reaches derived quantities and seeds slopes") {
    Box box;
    box.inputs = {input(main, "length"), input(main, "section")};
    box.values = {model::Value{model::Number{{2.0, 2.0}, 2.0, {}}, {}},
                  model::Value{model::Number{{1e-4, 1e-4}, 1e-4, {}}, {}}};
    Context asking = context();
    asking.box = &box;
    const model::Value value = evaluate(compile("conductor", "resistance"), main, asking);
    // R = 1.7e-8 × 2 / 1e-4 = 3.4e-4; dR/dl = 1.7e-4; dR/dS = -R/S = -3.4
    REQUIRE(value.number()->slopes.size() == 2);
    CHECK(value.number()->range.low == doctest::Approx(3.4e-4));
    CHECK(value.number()->slopes[0].low == doctest::Approx(1.7e-4));
    CHECK(value.number()->slopes[1].high == doctest::Approx(-3.4));
    box.slopes = false;
    CHECK(evaluate(compile("conductor", "resistance"), main, asking).number()->slopes.empty());
}

TEST_CASE_FIXTURE(Bench, "an open comparison may be settled from outside, in plain evaluation only") {
    Context asking = context();
    int asked = 0;
    asking.settle = [&](const Expression&, NodeIndex, model::ItemIndex item,
                        std::span<const model::ItemIndex>) {
        ++asked;
        CHECK(item == main);
        return model::Truth::yes;
    };
    const Expression tree = compile("conductor", "length - length <= 0 m");
    CHECK(truth_of(evaluate(tree, main, asking)) == model::Truth::yes);
    CHECK(asked == 1);
    Box box;
    asking.box = &box;
    CHECK(truth_of(evaluate(tree, main, asking)) == model::Truth::open);
    CHECK(asked == 1);
}

TEST_CASE("a difference in the 13th digit decides nothing") {
    const double hair = 1.0 + 1e-14;
    using model::Truth;
    CHECK(less_equal({hair, hair}, {1.0, 1.0}) == Truth::yes);
    CHECK(less_equal({hair, 2.0}, {0.0, 1.0}) == Truth::open);
    CHECK(less_equal({1.0 + 1e-11, 2.0}, {0.0, 1.0}) == Truth::no);
    CHECK(compare(Operation::less, {0.0, 1.0}, {hair, 2.0}) == Truth::open);
    CHECK(compare(Operation::equal, {hair, 2.0}, {0.0, 1.0}) == Truth::open);
    CHECK(compare(Operation::equal, {hair, hair}, {1.0, 1.0}) == Truth::yes);
    CHECK(compare(Operation::unequal, {1.0 + 1e-11, 2.0}, {0.0, 1.0}) == Truth::yes);
}
