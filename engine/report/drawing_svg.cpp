#include "engine/report/drawing_svg.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include "engine/report/drawing_labels.hpp"
#include "engine/report/html_text.hpp"
#include "engine/text/safe_print.hpp"

namespace packproof::report {

namespace {

using inspect::Figure;
using inspect::Mark;
using inspect::Run;
using rules::ShapeAlign;
using rules::ShapeForm;
using rules::ShapeStyle;

constexpr double run_step = 9.0;          // from one row of runs to the next
constexpr double margin = 1.0;            // millimetres round a drawing
constexpr std::size_t name_columns = 40;  // lists tell longer ones whole
constexpr std::size_t leg_columns = 60;
constexpr std::size_t most_named = 12;
constexpr std::array<double, 18> scales{1.0,  2.0,  3.0,  4.0,   5.0,   6.0,   10.0,  20.0,  30.0,
                                        40.0, 50.0, 60.0, 100.0, 200.0, 300.0, 400.0, 500.0, 600.0};

/// A number of millimetres, to a hundredth, without a sign of zero.
std::string mm(double value) {
    const double rounded = std::round(value * 100.0) / 100.0;
    std::string text = fmt::format("{:.2f}", rounded == 0.0 ? 0.0 : rounded);
    while (text.back() == '0')
        text.pop_back();
    if (text.back() == '.') text.pop_back();
    return text;
}

std::string text_at(double x, double y, std::string_view words, double points, bool bold, ShapeAlign align,
                    std::string_view more = {}) {
    static constexpr std::array<std::string_view, 3> anchors{"middle", "start", "end"};
    return fmt::format("<text x=\"{}\" y=\"{}\" font-size=\"{}\"{} text-anchor=\"{}\"{}>{}</text>\n", mm(x),
                       mm(y), mm(points * per_point), bold ? " font-weight=\"bold\"" : "",
                       anchors[static_cast<std::size_t>(align)], more, html_text(words));
}

std::string_view stroke_of(ShapeStyle style) {
    switch (style) {
        case ShapeStyle::thick:
            return " fill=\"none\" stroke=\"#111\" stroke-width=\"0.9\"";
        case ShapeStyle::dashed:
            return " fill=\"none\" stroke=\"#111\" stroke-width=\"0.35\" stroke-dasharray=\"1.6 1\"";
        case ShapeStyle::hatched:
            return " fill=\"url(#hatch)\" stroke=\"#111\" stroke-width=\"0.3\"";
        case ShapeStyle::filled:
            return " fill=\"#111\" stroke=\"#111\" stroke-width=\"0.2\"";
        case ShapeStyle::none:
            return " fill=\"none\" stroke=\"none\"";
        case ShapeStyle::thin:
            break;
    }
    return " fill=\"#fff\" stroke=\"#111\" stroke-width=\"0.25\"";
}

/// A figure on paper: at which scale, what its labels say there, and the room that all of it takes.
struct Layout {
    double scale = 1.0;
    PaperBox box;
    std::vector<DrawnLabel> labels;
    std::vector<std::string> without_room;  ///< examples of labels that are left out
};

PaperBox extent_of(const Figure& figure, double scale) {
    const double to_paper = per_metre / scale;
    PaperBox box;
    for (const Mark& mark : figure.marks) {
        const bool is_line = mark.form == ShapeForm::line;
        const double half_wide = is_line ? 0.0 : mark.width / 2.0;
        const double half_high = is_line ? 0.0 : mark.height / 2.0;
        box.take((mark.x - half_wide) * to_paper, (mark.y - half_high) * to_paper);
        box.take((mark.x + half_wide) * to_paper, (mark.y + half_high) * to_paper);
        if (is_line) box.take(mark.to_x * to_paper, mark.to_y * to_paper);
    }
    return box;
}

/// The greatest scale at which shapes and labels fit; nothing if there is none.
std::optional<Layout> lay_out(const Figure& figure, const Room& room) {
    for (const double scale : scales) {
        Layout layout{scale, extent_of(figure, scale), {}, {}};
        if (!(layout.box.width() <= room.width && layout.box.height() <= room.height)) continue;
        layout.labels = labels_of(figure, scale);
        layout.without_room = drop_without_room(layout.labels);
        for (const DrawnLabel& label : layout.labels)
            layout.box.take(label.box);
        if (layout.box.width() <= room.width && layout.box.height() <= room.height) return layout;
    }
    return std::nullopt;
}

class Plate {
  public:
    explicit Plate(const Room& room) : room_(room) {}

    void add(const Figure& figure) {
        if (y_ > 0.0) y_ += 2.0;
        const std::optional<Layout> layout = figure.marks.empty() ? std::nullopt : lay_out(figure, room_);
        head(figure, layout ? layout->scale : 0.0);
        if (layout) {
            const double left = (room_.width - layout->box.width()) / 2.0 - layout->box.left;
            const double top = y_ + margin - layout->box.top;
            for (const Mark& mark : figure.marks)
                draw(mark, left, top, per_metre / layout->scale);
            for (const DrawnLabel& label : layout->labels)
                write(label, left, top);
            y_ += layout->box.height() + 2.0 * margin;
        }
        x_ = 0.0;
        for (const Run& run : figure.runs)
            draw(run);
        if (x_ > 0.0) y_ += run_step;
        if (layout && !layout->without_room.empty())
            sentence(fmt::format("No room here for labels such as {}: the lists tell them.",
                                 fmt::join(layout->without_room, ", ")));
        if (!layout && !figure.marks.empty())
            sentence("Not drawn: it fits the paper at no scale of 1 : 600 or more.");
        if (figure.too_many > 0)
            sentence(
                fmt::format("Not drawn: {} of a kind are too many to be read on paper.", figure.too_many));
        if (!figure.left_out.empty()) sentence(left_out_words(figure.left_out));
    }

    std::string take(const std::string& title, const std::string& about) {
        return fmt::format(
                   "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0} {1}\" width=\"{0}mm\" "
                   "height=\"{1}mm\" role=\"img\" aria-labelledby=\"{4}-title {4}-about\" "
                   "font-family=\"'Liberation Sans', Arial, sans-serif\" fill=\"#111\">\n"
                   "<title id=\"{4}-title\">{2}</title>\n<desc id=\"{4}-about\">{3}</desc>\n"
                   "<defs><pattern id=\"hatch\" width=\"1.4\" height=\"1.4\" "
                   "patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\"><path d=\"M0 0V1.4\" "
                   "stroke=\"#111\" stroke-width=\"0.45\"/></pattern></defs>\n",
                   mm(room_.width), mm(y_ + 0.5), html_text(title), html_text(about), room_.name) +
               body_ + "</svg>\n";
    }

  private:
    static std::string left_out_words(const std::vector<std::string>& names) {
        const std::size_t named = std::min(names.size(), most_named);
        std::string words = "Not drawn, for a place, an end or a size is not known: ";
        for (std::size_t i = 0; i < named; ++i)
            words += (i == 0 ? "" : ", ") + shortened(names[i], name_columns);
        if (named < names.size()) words += fmt::format(" and {} more", names.size() - named);
        return words + ".";
    }

    /// `scale` 0: no shape is drawn.
    void head(const Figure& figure, double scale) {
        const double base = y_ + 9.0 * per_point;
        body_ += text_at(0.0, base, figure.title, 9.0, true, ShapeAlign::start);
        if (figure.to_scale && scale > 0.0) {
            const double bar = 100.0 / scale;
            const double left = room_.width - bar - 1.0;
            const std::string words = fmt::format("to scale 1 : {:g}; bar 100 mm", scale);
            body_ += text_at(left - 1.5, base, words, text_size, false, ShapeAlign::end);
            body_ += fmt::format(
                "<path d=\"M{0} {1}V{2}H{3}V{1}\" fill=\"none\" stroke=\"#111\" "
                "stroke-width=\"0.4\"/>\n",
                mm(left), mm(base - 2.0), mm(base), mm(left + bar));
        } else if (scale > 0.0 || !figure.runs.empty()) {
            body_ += text_at(room_.width, base, "not to scale", text_size, false, ShapeAlign::end);
        }
        y_ = base + 1.0;
        const bool shows = scale > 0.0 || !figure.runs.empty();
        if (shows && !figure.about.empty()) sentence(figure.about);
    }

    /// Below each other, over the whole width.
    void sentence(const std::string& words) {
        const auto columns = static_cast<std::size_t>(room_.width / text_width("n", text_size));
        const std::string wrapped = text::wrap(text::safe_print(words), columns, "", "");
        std::string_view rest = wrapped;
        while (!rest.empty()) {
            const std::size_t end = std::min(rest.find('\n'), rest.size());
            y_ += text_size * per_point * line_step;
            body_ += text_at(0.0, y_, rest.substr(0, end), text_size, false, ShapeAlign::start);
            rest.remove_prefix(std::min(end + 1, rest.size()));
        }
        y_ += 1.0;
    }

    void draw(const Mark& mark, double left, double top, double to_paper) {
        const double x = left + mark.x * to_paper;
        const double y = top + mark.y * to_paper;
        const double to_x = left + mark.to_x * to_paper;
        const double to_y = top + mark.to_y * to_paper;
        const double width = mark.width * to_paper;
        const double height = mark.height * to_paper;
        const std::string_view stroke = stroke_of(mark.style);
        if (mark.form == ShapeForm::rectangle)
            body_ += fmt::format("<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"{}/>\n",
                                 mm(x - width / 2), mm(y - height / 2), mm(width), mm(height), stroke);
        if (mark.form == ShapeForm::circle)
            body_ += fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"{}\"{}/>\n", mm(x), mm(y), mm(width / 2),
                                 stroke);
        if (mark.form == ShapeForm::line && width > 0.0)
            body_ += bar(x, y, to_x, to_y, width / 2.0, stroke);
        else if (mark.form == ShapeForm::line)
            body_ += fmt::format("<line x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\"{}/>\n", mm(x), mm(y),
                                 mm(to_x), mm(to_y), stroke);
    }

    /// Reaches by half its breadth beyond both ends.
    static std::string bar(double x, double y, double to_x, double to_y, double half,
                           std::string_view stroke) {
        const double length = std::hypot(to_x - x, to_y - y);
        const double along_x = length > 0.0 ? (to_x - x) / length * half : half;
        const double along_y = length > 0.0 ? (to_y - y) / length * half : 0.0;
        return fmt::format("<path d=\"M{} {}L{} {}L{} {}L{} {}Z\"{}/>\n", mm(x - along_x - along_y),
                           mm(y - along_y + along_x), mm(to_x + along_x - along_y),
                           mm(to_y + along_y + along_x), mm(to_x + along_x + along_y),
                           mm(to_y + along_y - along_x), mm(x - along_x + along_y), mm(y - along_y - along_x),
                           stroke);
    }

    /// With a white edge, so that lines below do not strike it out; white on a filled shape.
    void write(const DrawnLabel& label, double left, double top) {
        const bool on_black = label.mark->style == ShapeStyle::filled && label.mark->form != ShapeForm::line;
        const std::string edge =
            on_black
                ? " fill=\"#fff\""
                : " stroke=\"#fff\" stroke-width=\"0.6\" paint-order=\"stroke\" stroke-linejoin=\"round\"";
        const std::string turn = label.turned ? fmt::format(" transform=\"rotate(-90 {} {})\"",
                                                            mm(left + label.x), mm(top + label.y))
                                              : std::string();
        for (const DrawnLabel::Line& line : label.lines)
            body_ += text_at(left + label.x, top + line.y, line.words, line.size, line.bold,
                             label.mark->align, edge + turn);
    }

    static std::string points_of(const Run::Stop& stop) {
        if (stop.enters.empty() || stop.leaves.empty()) return stop.enters + stop.leaves;
        return fmt::format("{} → {}", stop.enters, stop.leaves);
    }
    static double width_of(const Run::Stop& stop) {
        return std::max(text_width(shortened(stop.name, name_columns), text_size) * 1.06,
                        text_width(points_of(stop), text_size)) +
               3.0;
    }
    static double length_of(const Run::Leg& leg) {
        return std::max(text_width(shortened(leg.label, leg_columns), text_size),
                        text_width(shortened(leg.note, name_columns), text_size)) +
               3.0;
    }

    /// Behind the one before where it fits there, else below it.
    void draw(const Run& run) {
        constexpr double high = run_step - 1.0;
        constexpr double gap = 6.0;
        double whole = 0.0;
        for (const Run::Stop& stop : run.stops)
            whole += width_of(stop);
        for (const Run::Leg& leg : run.legs)
            whole += length_of(leg);
        double x = x_ > 0.0 ? x_ + gap : 0.4;
        if (x_ > 0.0 && x + whole > room_.width) {
            y_ += run_step;
            x = 0.4;
        }
        for (std::size_t i = 0; i < run.stops.size(); ++i) {
            const Run::Stop& stop = run.stops[i];
            const std::string points = points_of(stop);
            const double wide = width_of(stop);
            if (i > 0) {
                const Run::Leg& leg = run.legs[i - 1];
                double length = length_of(leg);
                if (x + length + wide > room_.width) {
                    y_ += run_step;
                    x = 0.0;
                    body_ += text_at(x, y_ + 5.4, "…", text_size, true, ShapeAlign::start);
                    x += 4.0;
                }
                length = std::min(length, std::max(4.0, room_.width - x - wide));
                const double middle = y_ + high / 2.0;
                body_ += fmt::format("<line x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\"{}/>\n", mm(x), mm(middle),
                                     mm(x + length), mm(middle), stroke_of(ShapeStyle::thick));
                body_ += text_at(x + length / 2, middle - 1.2, shortened(leg.label, leg_columns), text_size,
                                 true, ShapeAlign::middle);
                body_ += text_at(x + length / 2, middle + 3.4, shortened(leg.note, name_columns), text_size,
                                 false, ShapeAlign::middle);
                x += length;
            }
            body_ += fmt::format("<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"{}/>\n", mm(x), mm(y_),
                                 mm(wide), mm(high), stroke_of(ShapeStyle::thin));
            body_ += text_at(x + wide / 2, y_ + (points.empty() ? 5.0 : 3.4),
                             shortened(stop.name, name_columns), text_size, true, ShapeAlign::middle);
            if (!points.empty())
                body_ += text_at(x + wide / 2, y_ + 6.8, points, text_size, false, ShapeAlign::middle);
            x += wide;
        }
        x_ = x;
    }

    Room room_;
    double y_ = 0.0;
    double x_ = 0.0;  ///< where the last run ends; 0: none begun
    std::string body_;
};

}  // namespace

double scale_for(double width, double height, const Room& room) {
    for (const double scale : scales)
        if (width * per_metre / scale <= room.width && height * per_metre / scale <= room.height)
            return scale;
    return 0.0;
}

std::string print_drawing(std::span<const Figure> figures, const Room& room) {
    if (figures.empty()) return {};
    Plate plate(room);
    std::string title;
    std::string about;
    for (const Figure& figure : figures) {
        plate.add(figure);
        title += (title.empty() ? "" : "; ") + figure.title;
        about += (about.empty() ? "" : " ") + figure.about;
    }
    return plate.take(title, about);
}

}  // namespace packproof::report
