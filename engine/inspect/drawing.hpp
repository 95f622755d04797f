// The drawings of the rule set worked out for one description: shapes at their places, and runs of items that
// follow each other.
#pragma once

#include <string>
#include <vector>

#include "engine/inspect/inspect.hpp"

namespace packproof::inspect {

/// One shape at its place. All lengths in metres, nominal; x grows to the right, y downwards.
struct Mark {
    rules::ShapeForm form = rules::ShapeForm::rectangle;
    rules::ShapeStyle style = rules::ShapeStyle::thin;
    rules::ShapeAlign align = rules::ShapeAlign::middle;
    double x = 0.0;
    double y = 0.0;
    double to_x = 0.0;   ///< of a line
    double to_y = 0.0;   ///< of a line
    double width = 0.0;  ///< of a rectangle; of a circle its diameter; of a line how broad it is, 0: a stroke
    double height = 0.0;  ///< of a rectangle; of a circle its diameter
    std::string label;    ///< may be empty
    std::string note;     ///< below the label; may be empty
    double room = 0.0;    ///< width for the label; 0: not limited
    int size = 8;         ///< of the label, points
    bool bold = false;
    std::size_t shape = 0;  ///< of the drawing, by which it was made: its labels belong together
};

/// Items in the order in which they follow each other: stop, leg, stop, leg, stop.
struct Run {
    struct Stop {
        std::string name;
        std::string enters;  ///< the point at which it is reached; may be empty
        std::string leaves;  ///< may be empty
    };
    struct Leg {
        std::string label;
        std::string note;  ///< below the label; may be empty
    };
    std::vector<Stop> stops;
    std::vector<Leg> legs;  ///< one fewer than stops
};

struct Figure {
    std::string name;
    std::string title;
    std::string about;
    bool to_scale = false;
    std::vector<Mark> marks;
    std::vector<Run> runs;
    std::vector<std::string> left_out;  ///< items of which a place, an end or a size is not known, each once
    std::size_t too_many = 0;           ///< how often the most repeated shape is due, if too often to draw
};

/// In the order of the rule set; drawings whose `when` does not hold, or that have nothing to show and leave
/// nothing out, are not among them.
[[nodiscard]] std::vector<Figure> draw(const model::Model& model, const rules::RuleSet& rules);

}  // namespace packproof::inspect
