// Drawings as one SVG of true size: a unit of its view box is a millimetre of paper.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "engine/inspect/drawing.hpp"

namespace packproof::report {

/// How large the paper is for drawings to scale, millimetres.
struct Room {
    double width = 190.0;
    double height = 100.0;              ///< of one drawing
    std::string_view name = "drawing";  ///< begins the ids of the image, of which a page may hold several
};

/// The greatest scale of 1 : 1 to 1 : 6, 1 : 10 to 1 : 60, 1 : 100 to 1 : 600 in which `width` by `height`
/// (metres) fit into the room: its second number; 0 if there is none. ISO 5455 prefers 1, 2 and 5 and permits
/// others (recalled); they make more of a page that has little room.
[[nodiscard]] double scale_for(double width, double height, const Room& room);

/// All figures below each other; the same figures give the same bytes. An empty text for no figures. What the
/// labels say is made harmless. No colour, no text below 8 points, no script, no style sheet.
[[nodiscard]] std::string print_drawing(std::span<const inspect::Figure> figures, const Room& room = {});

}  // namespace packproof::report
