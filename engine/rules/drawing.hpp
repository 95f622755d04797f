// A drawing as rule data: shapes for items of a kind, at places and of sizes that expressions give.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "engine/rules/worksheet.hpp"

namespace packproof::rules {

enum class ShapeForm : std::uint8_t {
    rectangle,  ///< about (x, y), width by height
    line,       ///< from (x, y) to (to_x, to_y)
    circle,     ///< about (x, y)
    text,       ///< its label about (x, y)
    runs        ///< the items as lines from box to box, in the order in which they follow each other
};
enum class ShapeStyle : std::uint8_t { thin, thick, dashed, hatched, filled, none };
enum class ShapeAlign : std::uint8_t { middle, start, end };

/// All lengths in metres: of the thing drawn where the drawing is to scale, else of the paper. x grows to the
/// right, y downwards.
struct Shape {
    model::KindIndex kind = 0;
    ShapeForm form = ShapeForm::rectangle;
    ShapeStyle style = ShapeStyle::thin;
    ShapeAlign align = ShapeAlign::middle;
    language::Expression when;  ///< truth; may be empty
    language::Expression x;
    language::Expression y;
    language::Expression to_x;      ///< of a line
    language::Expression to_y;      ///< of a line
    language::Expression width;     ///< of a rectangle; of a line how broad it is, may be empty
    language::Expression height;    ///< of a rectangle
    language::Expression diameter;  ///< of a circle
    language::Expression from;      ///< of runs: an item
    language::Expression to;        ///< of runs: an item
    Wording label;                  ///< may be empty
    Wording note;                   ///< below the label; may be empty
    language::Expression value;     ///< any; shown below the label instead of a note; may be empty
    bool adds_up = false;           ///< the value of number n is n times as much
    language::Expression room;      ///< width for the label, which is turned where it is wider; may be empty
    int size = 8;                   ///< of the label in points
    bool bold = false;

    // Repeated: number n stands in row (n - 1) / in_row; every second row comes back.
    language::Expression times;                    ///< may be empty: once
    language::Expression in_row;                   ///< number a row; may be empty: one row
    language::Expression across;                   ///< from one to the next along the row
    language::Expression down;                     ///< from row to row
    std::vector<language::Expression> alternates;  ///< of each row: how far y is off, to and fro by turns
    bool to_next = false;  ///< a line ends at the next one's place, whose y is off the other way
};

struct Drawing {
    std::string name;
    std::string title;
    std::string about;
    int place = 0;  ///< drawings stand in its order, then in that of their names
    bool to_scale = false;
    model::KindIndex kind = 0;  ///< of the item that it is a drawing of
    language::Expression when;  ///< truth, on the first item of the kind; may be empty
    std::vector<Shape> shapes;
    std::vector<model::Authority> basis;
};

}  // namespace packproof::rules
