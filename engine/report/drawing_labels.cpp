#include "engine/report/drawing_labels.hpp"

#include <algorithm>
#include <set>

#include "engine/text/safe_print.hpp"

namespace packproof::report {

namespace {

using inspect::Figure;
using inspect::Mark;
using rules::ShapeAlign;
using rules::ShapeForm;

constexpr std::size_t label_columns = 40;
constexpr std::size_t most_lines = 4;
constexpr double drawn_height = 0.75;  ///< of a text's size: what a line of capitals covers
constexpr double drawn_width = 0.9;    ///< of text_width, which rather counts too much

/// At a whole character.
std::string cut(std::string_view words, std::size_t columns) {
    std::string kept;
    for (const char c : words) {
        const bool begins = (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
        if (begins && text::display_width(kept) + 1 >= columns) return kept + "…";
        kept += c;
    }
    return kept;
}

bool ends_in_a_digit(std::string_view word) {
    return !word.empty() && word.back() >= '0' && word.back() <= '9';
}

/// Words between spaces; a number and what follows it are one.
std::vector<std::string> parts_of(std::string_view words) {
    std::vector<std::string> parts;
    while (!words.empty()) {
        const std::size_t end = std::min(words.find(' '), words.size());
        const std::string_view word = words.substr(0, end);
        words.remove_prefix(std::min(end + 1, words.size()));
        if (word.empty()) continue;
        if (!parts.empty() && ends_in_a_digit(parts.back()))
            parts.back().append(" ").append(word);
        else
            parts.emplace_back(word);
    }
    return parts;
}

/// In the figure's own directions, before it is turned.
PaperBox box_of(const DrawnLabel& label) {
    double wide = 0.0;
    for (const DrawnLabel::Line& line : label.lines)
        wide = std::max(wide, text_width(line.words, line.size) * drawn_width);
    const double before = label.mark->align == ShapeAlign::middle  ? wide / 2.0
                          : label.mark->align == ShapeAlign::start ? 0.0
                                                                   : wide;
    PaperBox box;
    for (const DrawnLabel::Line& line : label.lines) {
        box.take(label.x - before, line.y);
        box.take(label.x - before + wide, line.y - drawn_height * line.size * per_point);
    }
    return box;
}

PaperBox turned_round(const PaperBox& box, double x, double y) {
    PaperBox turned;
    turned.take(x + (box.top - y), y - (box.left - x));
    turned.take(x + (box.bottom - y), y - (box.right - x));
    return turned;
}

DrawnLabel label_of(const Mark& mark, double scale) {
    const double to_paper = per_metre / scale;
    DrawnLabel label;
    label.mark = &mark;
    const bool is_line = mark.form == ShapeForm::line;
    label.x = (is_line ? (mark.x + mark.to_x) / 2.0 : mark.x) * to_paper;
    label.y = (is_line ? (mark.y + mark.to_y) / 2.0 : mark.y) * to_paper;
    for (std::string& words : label_lines(mark.label, label_columns))
        label.lines.push_back({std::move(words), static_cast<double>(mark.size), mark.bold});
    for (std::string& words : label_lines(mark.note, label_columns))
        label.lines.push_back({std::move(words), text_size, false});
    double step = 0.0;
    double wide = 0.0;
    for (const DrawnLabel::Line& line : label.lines) {
        wide = std::max(wide, text_width(line.words, line.size));
        if (label.lines.size() > 1) step = std::max(step, line_step * line.size * per_point);
    }
    double base = label.y - step * (static_cast<double>(label.lines.size()) - 1.0) / 2.0;
    for (DrawnLabel::Line& line : label.lines) {
        line.y = base + 0.36 * line.size * per_point;
        base += step;
    }
    label.turned = mark.room > 0.0 && wide > mark.room * to_paper;
    label.box = box_of(label);
    if (label.turned) label.box = turned_round(label.box, label.x, label.y);
    return label;
}

}  // namespace

void PaperBox::take(double x, double y) {
    left = std::min(left, x);
    top = std::min(top, y);
    right = std::max(right, x);
    bottom = std::max(bottom, y);
}

void PaperBox::take(const PaperBox& other) {
    if (!(other.left <= other.right)) return;
    take(other.left, other.top);
    take(other.right, other.bottom);
}

bool PaperBox::overlaps(const PaperBox& other) const {
    return left < other.right && other.left < right && top < other.bottom && other.top < bottom;
}

double text_width(std::string_view text, double points) {
    return 0.56 * points * per_point * static_cast<double>(text::display_width(text::safe_print(text)));
}

std::string shortened(std::string_view words, std::size_t columns) {
    if (text::display_width(words) < columns) return std::string(words);
    std::string kept;
    for (const std::string& part : parts_of(words)) {
        const std::string longer = kept.empty() ? part : kept + " " + part;
        if (text::display_width(longer) + 2 > columns) return kept.empty() ? cut(part, columns) : kept + " …";
        kept = longer;
    }
    return kept;
}

std::vector<std::string> label_lines(std::string_view words, std::size_t columns) {
    std::vector<std::string> lines;
    for (const std::string& part : parts_of(words)) {
        const bool fits =
            !lines.empty() && text::display_width(lines.back()) + 1 + text::display_width(part) < columns;
        if (fits) {
            lines.back() += " " + part;
            continue;
        }
        if (lines.size() == most_lines) {
            lines.back() = shortened(lines.back(), columns - 2) + " …";
            break;
        }
        lines.push_back(cut(part, columns));
    }
    return lines;
}

std::vector<DrawnLabel> labels_of(const Figure& figure, double scale) {
    std::vector<DrawnLabel> labels;
    for (const Mark& mark : figure.marks)
        if (!mark.label.empty() || !mark.note.empty()) labels.push_back(label_of(mark, scale));
    return labels;
}

std::vector<std::string> drop_without_room(std::vector<DrawnLabel>& labels) {
    std::vector<std::size_t> shapes;
    for (const DrawnLabel& label : labels)
        if (std::find(shapes.begin(), shapes.end(), label.mark->shape) == shapes.end())
            shapes.push_back(label.mark->shape);
    std::sort(shapes.begin(), shapes.end());
    std::vector<const DrawnLabel*> kept;
    std::set<std::size_t> dropped;
    std::vector<std::string> examples;
    for (const std::size_t shape : shapes) {
        const std::size_t before = kept.size();
        for (const DrawnLabel& label : labels) {
            if (label.mark->shape != shape || label.lines.empty()) continue;
            const bool has_room = std::none_of(kept.begin(), kept.end(), [&](const DrawnLabel* other) {
                return label.box.overlaps(other->box);
            });
            if (!has_room) {
                dropped.insert(shape);
                examples.push_back(label.lines.front().words);
                break;
            }
            kept.push_back(&label);
        }
        if (dropped.count(shape) > 0) kept.resize(before);
    }
    std::vector<DrawnLabel> stay;
    for (DrawnLabel& label : labels)
        if (dropped.count(label.mark->shape) == 0) stay.push_back(std::move(label));
    labels = std::move(stay);
    return examples;
}

}  // namespace packproof::report
