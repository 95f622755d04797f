// Tables of the trade: keys, columns, rows from several sources. A lookup narrows key by key; each key says
// in which direction it may be taken. Nothing is extrapolated.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "engine/model/type.hpp"
#include "engine/model/vocabulary.hpp"
#include "engine/units/unit.hpp"

namespace packproof::rules {

enum class Take : std::uint8_t { exact, next_larger, next_smaller, interpolate };

struct TableKey {
    std::string name;
    bool is_text = false;
    units::Unit unit;
    bool absolute = false;
    Take take = Take::exact;
    bool beyond_last = false;  ///< next smaller: a value above the last row takes the last row
};

struct TableColumn {
    std::string name;
    bool is_text = false;
    units::Unit unit;
    bool absolute = false;
};

struct Cell {
    double number = 0.0;  ///< SI
    std::string text;
    bool none = false;
    bool gauge = false;  ///< of a key, written as a wire size: met by its area rounded to four digits
};

struct TableRow {
    std::vector<Cell> keys;
    std::vector<Cell> columns;
    std::uint16_t block = 0;
};

struct TableBlock {
    std::vector<model::Authority> basis;
};

struct Table {
    std::string name;
    std::string about;
    std::vector<TableKey> keys;
    std::vector<TableColumn> columns;
    std::vector<TableBlock> blocks;
    std::vector<TableRow> rows;  ///< ascending, lexicographically by key
    text::Span span;
};

/// The column's value for the keys given: intervals give the hull of all rows that they can mean, slopes
/// follow the rows' direction. Missing where any part of a key lies beyond the table or on a "none".
/// `blocks_used` (may be null) collects the blocks whose rows were used.
[[nodiscard]] model::Value look_up(const Table& table, std::size_t column, std::span<const model::Value> keys,
                                   std::vector<std::uint16_t>* blocks_used);

/// Of a series (one numeric key, no column): the smallest entry >= x (up) or the largest <= x (down).
[[nodiscard]] model::Value next_in_series(const Table& table, bool up, const model::Value& x);

}  // namespace packproof::rules
