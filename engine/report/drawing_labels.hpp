// The labels of a drawing on paper: how they are broken into lines, how much room they take, and which of
// them have none. All lengths in millimetres of paper; x grows to the right, y downwards.
#pragma once

#include <cmath>
#include <string>
#include <string_view>
#include <vector>

#include "engine/inspect/drawing.hpp"

namespace packproof::report {

inline constexpr double per_metre = 1000.0;       // millimetres
inline constexpr double per_point = 25.4 / 72.0;  // millimetres
inline constexpr double line_step = 1.2;          // of a text's size
inline constexpr double text_size = 8.0;          // points

struct PaperBox {
    double left = HUGE_VAL;
    double top = HUGE_VAL;
    double right = -HUGE_VAL;
    double bottom = -HUGE_VAL;

    void take(double x, double y);
    void take(const PaperBox& other);
    [[nodiscard]] bool overlaps(const PaperBox& other) const;
    [[nodiscard]] double width() const { return right - left; }
    [[nodiscard]] double height() const { return bottom - top; }
};

/// The label of one mark and the note below it.
struct DrawnLabel {
    struct Line {
        std::string words;
        double size = text_size;  ///< points
        bool bold = false;
        double y = 0.0;  ///< base line
    };
    const inspect::Mark* mark = nullptr;
    double x = 0.0;
    double y = 0.0;       ///< the middle
    bool turned = false;  ///< by a quarter to the left, round x, y
    std::vector<Line> lines;
    PaperBox box;  ///< turned, if it is
};

/// Width in millimetres that a text takes at a size in points, rather too much than too little: nobody knows
/// the font.
[[nodiscard]] double text_width(std::string_view text, double points);

/// No wider than so many columns, "…" for what is left out: whole words, a number with its unit being one,
/// for half a value reads as another one. Where the first alone is too long it is cut, at a whole character.
[[nodiscard]] std::string shortened(std::string_view words, std::size_t columns);

/// Lines no wider than so many columns, at most four, of whole words as above.
[[nodiscard]] std::vector<std::string> label_lines(std::string_view words, std::size_t columns);

/// The labels of a figure drawn at 1 : `scale`, in the order of its marks.
[[nodiscard]] std::vector<DrawnLabel> labels_of(const inspect::Figure& figure, double scale);

/// Takes out what would lie on other labels: of one shape all or none, those of earlier shapes first. Gives
/// an example of each shape that is taken out.
std::vector<std::string> drop_without_room(std::vector<DrawnLabel>& labels);

}  // namespace packproof::report
