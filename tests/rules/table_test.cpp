#include "engine/rules/table.hpp"

#include <doctest/doctest.h>
#include <fmt/core.h>

#include <limits>

#include "tests/rules/rule_text.hpp"

using namespace packproof;
using model::Value;

namespace {

Value number(double low, double high) {
    Value value;
    value.content = model::Number{{low, high}, (low + high) / 2.0, {units::Interval::point(1.0)}};
    return value;
}

Value word(std::string_view one, std::vector<std::string_view> alternatives = {}) {
    Value value;
    value.content = model::Text{one, std::move(alternatives)};
    return value;
}

const rules::Table& strength() {
    static const rules_test::Loaded loaded({rules_test::vocabulary});
    REQUIRE_MESSAGE(loaded.set, loaded.printed());
    return loaded.set->tables.front();
}

rules::Table steps(rules::Take take) {
    rules::Table table;
    table.name = "steps";
    rules::TableKey key;
    key.take = take;
    table.keys = {key};
    table.columns = {rules::TableColumn{}};
    table.blocks.resize(1);
    for (const auto& [x, y] : {std::pair{1.0, 10.0}, {2.0, 20.0}, {4.0, 60.0}}) {
        rules::TableRow row;
        row.keys = {rules::Cell{x, "", false}};
        row.columns = {rules::Cell{y, "", false}};
        table.rows.push_back(row);
    }
    return table;
}

units::Interval range(const Value& value) {
    REQUIRE(value.number() != nullptr);
    return value.number()->range;
}

}  // namespace

TEST_CASE("a key taken next smaller gives the row at or below it and nothing beyond either end") {
    const std::vector<Value> exactly = {word("north"), number(0.008, 0.008)};
    CHECK(range(rules::look_up(strength(), 0, exactly, nullptr)) == units::Interval{4000.0, 4000.0});
    const std::vector<Value> between = {word("north"), number(0.0099, 0.0099)};
    CHECK(range(rules::look_up(strength(), 0, between, nullptr)) == units::Interval{4000.0, 4000.0});
    for (const double outside : {0.0059, 0.0101}) {
        const std::vector<Value> beyond = {word("north"), number(outside, outside)};
        CHECK(rules::look_up(strength(), 0, beyond, nullptr).missing());
    }
}

TEST_CASE("a key in doubt gives the hull of every row that it can mean") {
    const std::vector<Value> wide = {word("north"), number(0.0075, 0.0101 - 0.0001)};
    CHECK(range(rules::look_up(strength(), 0, wide, nullptr)) == units::Interval{2000.0, 6000.0});
}

TEST_CASE("a choice that is not made gives the hull over every choice, and missing where one has no value") {
    const std::vector<Value> either = {word("north", {"north", "south"}), number(0.006, 0.006)};
    CHECK(range(rules::look_up(strength(), 0, either, nullptr)) == units::Interval{2000.0, 3000.0});
    const std::vector<Value> hole = {word("north", {"north", "south"}), number(0.010, 0.010)};
    CHECK(rules::look_up(strength(), 0, hole, nullptr).missing());
}

TEST_CASE("a value from a block from memory carries that on") {
    const std::vector<Value> south = {word("south"), number(0.006, 0.006)};
    CHECK(rules::look_up(strength(), 0, south, nullptr).basis.recalled);
    const std::vector<Value> north = {word("north"), number(0.006, 0.006)};
    CHECK_FALSE(rules::look_up(strength(), 0, north, nullptr).basis.recalled);
}

TEST_CASE("the blocks used are told") {
    std::vector<std::uint16_t> used;
    const std::vector<Value> south = {word("south"), number(0.006, 0.006)};
    (void)rules::look_up(strength(), 0, south, &used);
    CHECK(used == std::vector<std::uint16_t>{1});
}

TEST_CASE("a key taken next larger gives the row at or above it") {
    const rules::Table table = steps(rules::Take::next_larger);
    auto at = [&](double x) {
        const std::vector<Value> key = {number(x, x)};
        return rules::look_up(table, 0, key, nullptr);
    };
    CHECK(range(at(0.5)).low == 10.0);
    CHECK(range(at(2.0)).low == 20.0);
    CHECK(range(at(2.0001)).low == 60.0);
    CHECK(at(4.0001).missing());
}

TEST_CASE("a key taken exactly gives nothing between rows") {
    const rules::Table table = steps(rules::Take::exact);
    const std::vector<Value> on = {number(2.0, 2.0)};
    const std::vector<Value> off = {number(2.1, 2.1)};
    const std::vector<Value> wide = {number(1.0, 2.0)};
    CHECK(range(rules::look_up(table, 0, on, nullptr)).low == 20.0);
    CHECK(rules::look_up(table, 0, off, nullptr).missing());
    CHECK(rules::look_up(table, 0, wide, nullptr).missing());
}

TEST_CASE("a wire size is met by its area rounded to four digits, whatever way the key is taken") {
    // ASTM B258: diameter 0.127 mm × 92^((36 - n) / 39), area π/4 d²; rounded to four digits by hand
    const std::vector<std::pair<const char*, double>> sizes = {
        {"14 AWG", 2.081},  {"12 AWG", 3.309},  {"10 AWG", 5.261}, {"8 AWG", 8.366}, {"6 AWG", 13.30},
        {"4 AWG", 21.15},   {"3 AWG", 26.67},   {"2 AWG", 33.63},  {"1 AWG", 42.41}, {"1/0 AWG", 53.48},
        {"2/0 AWG", 67.43}, {"3/0 AWG", 85.03}, {"4/0 AWG", 107.2}};
    for (const char* const take : {"next smaller", "next larger", "exact"}) {
        std::string rows;
        for (std::size_t i = 0; i < sizes.size(); ++i)
            rows += (i == 0 ? "" : ", ") + fmt::format("[\"{}\", {}]", sizes[i].first, i + 1);
        const rules_test::Loaded loaded(
            {rules_test::vocabulary,
             "[table.wires]\nabout = \"wires\"\nbasis = [{ status = \"computed\" }]\n"
             "key = [{ name = \"section\", unit = \"mm²\", take = \"" +
                 std::string(take) + "\" }]\ncolumn = [{ name = \"row\" }]\nrows = [" + rows + "]\n"});
        REQUIRE_MESSAGE(loaded.set, loaded.printed());
        const rules::Table& wires = loaded.set->tables.back();
        REQUIRE(wires.name == "wires");
        for (std::size_t i = 0; i < sizes.size(); ++i) {
            const auto row = static_cast<double>(i + 1);
            CAPTURE(sizes[i].first);
            for (const double area : {sizes[i].second, wires.rows[i].keys[0].number * 1e6}) {
                const std::vector<Value> key = {number(area * 1e-6, area * 1e-6)};
                CHECK(range(rules::look_up(wires, 0, key, nullptr)) == units::Interval{row, row});
            }
        }
    }
}

TEST_CASE("a tenth of a percent below a wire size is below it, and a plain section has no such room") {
    const rules_test::Loaded loaded(
        {rules_test::vocabulary,
         "[table.wires]\nabout = \"wires\"\nbasis = [{ status = \"computed\" }]\n"
         "key = [{ name = \"section\", unit = \"mm²\", take = \"next smaller\", beyond = \"last\" }]\n"
         "column = [{ name = \"row\" }]\nrows = [[50, 1], [\"2/0 AWG\", 2], [70, 3]]\n"});
    REQUIRE_MESSAGE(loaded.set, loaded.printed());
    const rules::Table& wires = loaded.set->tables.back();
    const auto row = [&](double area) {
        const std::vector<Value> key = {number(area * 1e-6, area * 1e-6)};
        return range(rules::look_up(wires, 0, key, nullptr)).low;
    };
    CHECK(row(67.36) == 1.0);  // 67.4309 × 0.9990 = 67.363
    CHECK(row(67.40) == 2.0);  // 67.4309 × 0.9995 = 67.397
    CHECK(row(69.98) == 2.0);  // 70 × 0.9997
    CHECK(row(70.0) == 3.0);
    const std::vector<Value> across = {number(67.36e-6, 67.43e-6)};
    CHECK(range(rules::look_up(wires, 0, across, nullptr)) == units::Interval{1.0, 2.0});
    CHECK(wires.rows[1].keys[0].number == doctest::Approx(67.4309e-6).epsilon(1e-6));
}

TEST_CASE("an interpolated key is linear between rows, with knots inside a wide key counted") {
    const rules::Table table = steps(rules::Take::interpolate);
    const std::vector<Value> half = {number(3.0, 3.0)};
    CHECK(range(rules::look_up(table, 0, half, nullptr)).low == doctest::Approx(40.0));  // (20 + 60) / 2
    const std::vector<Value> wide = {number(1.5, 3.0)};
    const units::Interval hull = range(rules::look_up(table, 0, wide, nullptr));
    CHECK(hull.low == doctest::Approx(15.0));
    CHECK(hull.high == doctest::Approx(40.0));
}

TEST_CASE("slopes through a table keep their direction only") {
    const rules::Table table = steps(rules::Take::next_smaller);
    const std::vector<Value> wide = {number(1.0, 4.0)};
    const Value value = rules::look_up(table, 0, wide, nullptr);
    REQUIRE(value.number()->slopes.size() == 1);
    CHECK(value.number()->slopes[0].low == 0.0);
    CHECK(value.number()->slopes[0].high == std::numeric_limits<double>::infinity());
}

TEST_CASE("the next entry of a series is the nearest on that side") {
    rules::Table series = steps(rules::Take::exact);
    series.columns.clear();
    auto up = [&](double x) { return rules::next_in_series(series, true, number(x, x)); };
    auto down = [&](double x) { return rules::next_in_series(series, false, number(x, x)); };
    CHECK(range(up(2.0)).low == 2.0);
    CHECK(range(up(2.1)).low == 4.0);
    CHECK(up(4.1).missing());
    CHECK(range(down(3.9)).low == 2.0);
    CHECK(down(0.9).missing());
}
