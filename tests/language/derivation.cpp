// The working: what a reader sees must give the same answer when read as an expression.
#include "engine/language/derivation.hpp"

#include <doctest/doctest.h>
#include <fmt/core.h>

#include "engine/units/print_quantity.hpp"
#include "world.hpp"

using namespace packproof;
using namespace packproof::language;

namespace {

struct Bench : World {
    model::ItemIndex pack = add("pack", "pack");
    model::ItemIndex breaker = add("device", "breaker");
    model::ItemIndex main = add("conductor", "main");
    model::ItemIndex bar = add("busbar", "bar");
    model::ItemIndex joint = add("joint", "joint");

    bool with_nominal = false;

    Bench() {
        set(pack, "series", "16");
        set(breaker, "rated_current", "160 A");
        set(main, "section", "50 mm²");
        set(main, "length", "1.5 ± 0.5 m");
        set(main, "current", "140 A");
        set(main, "insulation", "rubber");
        set(main, "tinned", "true");
        refer(main, "protected_by", {breaker});
        set(bar, "thickness", "3 mm");
        refer(joint, "layers", {bar});
        set(joint, "allowed_torque", "4 .. 6 N·m");
    }

    std::string working(model::ItemIndex item, std::string_view text) {
        const Expression tree = compile(model.kind_of(item).name, text);
        Printer printer;
        printer.value = [this](const model::Value& value, const model::Type& type,
                               const units::Unit& preferred) -> std::string {
            if (const auto* truth = value.truth()) return *truth == model::Truth::yes ? "true" : "false";
            if (const auto* found = value.text()) return fmt::format("'{}'", found->value);
            if (const auto* range = value.range())
                return units::print_range(range->lower.low, range->upper.high, preferred, type.absolute);
            const auto* number = value.number();
            const units::Unit unit =
                units::display_unit(type.dimension, preferred, number->nominal, type.absolute);
            return with_nominal ? units::print_value(number->range, number->nominal, unit, type.absolute)
                                : units::print_interval(number->range, unit, type.absolute);
        };
        printer.unit = [&](const Member& member, bool is_field, model::ItemIndex) {
            return is_field ? vocabulary.kinds[member.kind].fields[member.index].unit : units::Unit{};
        };
        printer.item = [&](model::ItemIndex which) { return model.items[which].id; };
        return with_numbers(tree, tree.root, item, {}, context(), printer);
    }
};

}  // namespace

TEST_CASE_FIXTURE(Bench, "fields are replaced by their values, in the unit of the field") {
    CHECK(working(main, "protected_by.rated_current <= current * 1.25") == "160 A <= 140 A × 1.25");
    CHECK(working(main, "current / section > 3 A/mm²") == "140 A / 50 mm² > 3 A/mm²");
    CHECK(working(main, "insulation == 'rubber' and tinned") == "'rubber' == 'rubber' and true");
    CHECK(working(main, "protected_by == protected_by") == "breaker == breaker");
}

TEST_CASE_FIXTURE(Bench, "brackets stand where the reading needs them and nowhere else") {
    CHECK(working(main, "(1 + 2) * 3") == "(1 + 2) × 3");
    CHECK(working(main, "(1 * 2) + 3") == "1 × 2 + 3");
    CHECK(working(main, "10 - (4 - 3)") == "10 - (4 - 3)");
    CHECK(working(main, "(10 - 4) - 3") == "10 - 4 - 3");
    CHECK(working(main, "12 / (2 * 3)") == "12 / (2 × 3)");
    CHECK(working(main, "12 / 2 * 3") == "12 / 2 × 3");
    CHECK(working(main, "(1 + 2)^2") == "(1 + 2)^2");
    CHECK(working(main, "current ^ 2") == "(140 A)^2");  // "140 A^2" would read as 140 A²
    CHECK(working(pack, "series ^ 2") == "16^2");
    CHECK(working(main, "-(1 + 2)") == "-(1 + 2)");
    CHECK(working(main, "2 - (-3)") == "2 - (-3)");
    CHECK(working(main, "(tinned or tinned) and tinned") == "(true or true) and true");
    CHECK(working(main, "not (tinned and tinned)") == "not (true and true)");
    CHECK(working(main, "length * 2 > 1 m") == "(1 m to 2 m) × 2 > 1 m");
    CHECK(working(main, "length > 1 m") == "1 m to 2 m > 1 m");
    CHECK(working(main, "sqrt(length * length) + pi * 1 m") == "sqrt((1 m to 2 m) × (1 m to 2 m)) + π × 1 m");
}

TEST_CASE_FIXTURE(Bench, "a value with its tolerance does not run into an operator beside it") {
    with_nominal = true;
    set(main, "length", "1 ± 0.1 m");
    CHECK(working(main, "length * 2 > 1 m") == "(1 ± 0.1) m × 2 > 1 m");
    CHECK(working(main, "length / 1 m * 2 > 1") == "(1 ± 0.1) m / 1 m × 2 > 1");
    set(main, "length", "1 ± 0.5 m");
    CHECK(working(main, "length * 2 > 1 m") == "(1 m (0.5 m to 1.5 m)) × 2 > 1 m");
}

TEST_CASE_FIXTURE(Bench, "only the branch that was taken is shown") {
    CHECK(working(main, "2 * (if tinned then 1 + 1 else 3)") == "2 × (1 + 1)");
    CHECK(working(main, "if not tinned then 1 else 3") == "3");
    CHECK(working(main, "2 * (if length > 1.5 m then 1 else 3)") ==
          "2 × (if 1 m to 2 m > 1.5 m then 1 else 3)");
}

TEST_CASE_FIXTURE(Bench, "a fold, a derived quantity and what is missing stand as one value") {
    CHECK(working(joint, "sum(layers as l : l.thickness) + 1 mm") == "3 mm + 1 mm");
    CHECK(working(joint, "torque within allowed_torque") == "not stated within 4 N·m to 6 N·m");
    CHECK(working(joint, "torque is not stated") == "torque is not stated");
    CHECK(working(joint, "torque is assumed or torque is not assumed") ==
          "torque is assumed or torque is not assumed");
    CHECK(working(joint, "pack is mentioned and torque is not mentioned") ==
          "pack is mentioned and torque is not mentioned");
    CHECK(working(joint, "middle(allowed_torque) > 1 N·m") == "middle(4 N·m to 6 N·m) > 1 N·m");
    CHECK(working(main, "min(current, 200 A) > 1 A") == "min(140 A, 200 A) > 1 A");
    CHECK(working(main, "insulation in ['rubber', 'plastic']") == "'rubber' in ['rubber', 'plastic']");
}
