#include "engine/report/drawing_svg.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

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

constexpr double per_metre = 1000.0;       // millimetres
constexpr double per_point = 25.4 / 72.0;  // millimetres
constexpr double line_step = 1.2;          // of a text's size
constexpr double text_size = 8.0;          // points
constexpr double run_step = 9.0;           // from one row of runs to the next
constexpr double margin = 1.0;             // millimetres round a drawing

struct Box {
    double left = HUGE_VAL;
    double top = HUGE_VAL;
    double right = -HUGE_VAL;
    double bottom = -HUGE_VAL;
    void take(double x, double y) {
        left = std::min(left, x);
        top = std::min(top, y);
        right = std::max(right, x);
        bottom = std::max(bottom, y);
    }
};

/// A number of millimetres, to a hundredth, without a sign of zero.
std::string mm(double value) {
    const double rounded = std::round(value * 100.0) / 100.0;
    std::string text = fmt::format("{:.2f}", rounded == 0.0 ? 0.0 : rounded);
    while (text.back() == '0')
        text.pop_back();
    if (text.back() == '.') text.pop_back();
    return text;
}

/// Long names are cut, so that they stay within the drawing; lists tell them whole.
std::string cut(std::string_view words) {
    constexpr std::size_t most = 40;
    std::string kept;
    for (const char c : words) {
        const bool begins = (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
        if (begins && text::display_width(kept) + 1 >= most) return kept + "…";
        kept += c;
    }
    return kept;
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

class Plate {
  public:
    explicit Plate(const Room& room) : room_(room) {}

    void add(const Figure& figure) {
        if (y_ > 0.0) y_ += 2.0;
        const Box box = extent_of(figure);
        const bool has_marks = box.left <= box.right;
        const double wide = has_marks ? box.right - box.left : 0.0;
        const double high = has_marks ? box.bottom - box.top : 0.0;
        const double scale = figure.to_scale && has_marks ? scale_for(wide, high, room_) : 1.0;
        head(figure, scale, has_marks);
        if (has_marks) {
            const double left = (room_.width - wide / scale * per_metre) / 2.0;
            for (const Mark& mark : figure.marks)
                draw(mark, box, left, y_ + margin, scale);
            y_ += high / scale * per_metre + 2.0 * margin;
        }
        x_ = 0.0;
        for (const Run& run : figure.runs)
            draw(run);
        if (x_ > 0.0) y_ += run_step;
        if (figure.left_out > 0)
            sentence(fmt::format("Not drawn for want of a place or size: {} shape{}.", figure.left_out,
                                 figure.left_out == 1 ? "" : "s"));
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
    static Box extent_of(const Figure& figure) {
        Box box;
        for (const Mark& mark : figure.marks) {
            const bool is_line = mark.form == ShapeForm::line;
            const double half_wide = is_line ? 0.0 : mark.width / 2.0;
            const double half_high = is_line ? 0.0 : mark.height / 2.0;
            box.take(mark.x - half_wide, mark.y - half_high);
            box.take(mark.x + half_wide, mark.y + half_high);
            if (is_line) box.take(mark.to_x, mark.to_y);
        }
        return box;
    }

    void head(const Figure& figure, double scale, bool has_marks) {
        const double base = y_ + 9.0 * per_point;
        body_ += text_at(0.0, base, figure.title, 9.0, true, ShapeAlign::start);
        if (figure.to_scale && has_marks) {
            const double bar = 100.0 / scale;
            const double left = room_.width - bar - 1.0;
            const std::string words = fmt::format("to scale 1 : {:g}; bar 100 mm", scale);
            body_ += text_at(left - 1.5, base, words, text_size, false, ShapeAlign::end);
            body_ += fmt::format(
                "<path d=\"M{0} {1}V{2}H{3}V{1}\" fill=\"none\" stroke=\"#111\" "
                "stroke-width=\"0.4\"/>\n",
                mm(left), mm(base - 2.0), mm(base), mm(left + bar));
        } else {
            body_ += text_at(room_.width, base, "not to scale", text_size, false, ShapeAlign::end);
        }
        y_ = base + 1.0;
        if (!figure.about.empty()) sentence(figure.about);
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

    void draw(const Mark& mark, const Box& box, double left, double top, double scale) {
        const auto across = [&](double x) { return left + (x - box.left) / scale * per_metre; };
        const auto down = [&](double y) { return top + (y - box.top) / scale * per_metre; };
        const double x = across(mark.x);
        const double y = down(mark.y);
        const double width = mark.width / scale * per_metre;
        const double height = mark.height / scale * per_metre;
        const std::string_view stroke = stroke_of(mark.style);
        if (mark.form == ShapeForm::rectangle)
            body_ += fmt::format("<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"{}/>\n",
                                 mm(x - width / 2), mm(y - height / 2), mm(width), mm(height), stroke);
        if (mark.form == ShapeForm::circle)
            body_ += fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"{}\"{}/>\n", mm(x), mm(y), mm(width / 2),
                                 stroke);
        double middle_x = x;
        double middle_y = y;
        if (mark.form == ShapeForm::line && width > 0.0) {
            body_ += bar(x, y, across(mark.to_x), down(mark.to_y), width / 2.0, stroke);
        } else if (mark.form == ShapeForm::line) {
            body_ += fmt::format("<line x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\"{}/>\n", mm(x), mm(y),
                                 mm(across(mark.to_x)), mm(down(mark.to_y)), stroke);
        }
        if (mark.form == ShapeForm::line) {
            middle_x = (x + across(mark.to_x)) / 2.0;
            middle_y = (y + down(mark.to_y)) / 2.0;
        }
        label(mark, middle_x, middle_y, mark.room / scale * per_metre);
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

    void label(const Mark& mark, double x, double y, double room) {
        if (mark.label.empty() && mark.note.empty()) return;
        const double size = mark.size * per_point;
        const double wide = std::max(text_width(mark.label, mark.size), text_width(mark.note, text_size));
        const bool turned = room > 0.0 && wide > room;
        const std::string turn =
            turned ? fmt::format(" transform=\"rotate(-90 {} {})\"", mm(x), mm(y)) : std::string();
        const bool both = !mark.label.empty() && !mark.note.empty();
        const double first = y + 0.36 * size - (both ? 0.6 * text_size * per_point : 0.0);
        if (!mark.label.empty()) write(mark, x, first, mark.label, mark.size, mark.bold, turn);
        if (!mark.note.empty()) {
            const double second =
                both ? first + line_step * text_size * per_point : y + 0.36 * text_size * per_point;
            write(mark, x, second, mark.note, text_size, false, turn);
        }
    }

    /// With a white edge, so that lines below do not strike it out; white on a filled shape.
    void write(const Mark& mark, double x, double y, const std::string& words, double points, bool bold,
               const std::string& turn) {
        const std::string_view edge =
            mark.style == ShapeStyle::filled && mark.form != ShapeForm::line
                ? " fill=\"#fff\""
                : " stroke=\"#fff\" stroke-width=\"0.6\" paint-order=\"stroke\" stroke-linejoin=\"round\"";
        body_ += text_at(x, y, cut(words), points, bold, mark.align, std::string(edge) + turn);
    }

    static std::string points_of(const Run::Stop& stop) {
        if (stop.enters.empty() || stop.leaves.empty()) return stop.enters + stop.leaves;
        return fmt::format("{} → {}", stop.enters, stop.leaves);
    }
    static double width_of(const Run::Stop& stop) {
        return std::max(text_width(cut(stop.name), text_size) * 1.06,
                        text_width(points_of(stop), text_size)) +
               3.0;
    }
    static double length_of(const Run::Leg& leg) {
        return std::max(text_width(cut(leg.label), text_size), text_width(cut(leg.note), text_size)) + 3.0;
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
                body_ += text_at(x + length / 2, middle - 1.2, cut(leg.label), text_size, true,
                                 ShapeAlign::middle);
                body_ += text_at(x + length / 2, middle + 3.4, cut(leg.note), text_size, false,
                                 ShapeAlign::middle);
                x += length;
            }
            body_ += fmt::format("<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"{}/>\n", mm(x), mm(y_),
                                 mm(wide), mm(high), stroke_of(ShapeStyle::thin));
            body_ += text_at(x + wide / 2, y_ + (points.empty() ? 5.0 : 3.4), cut(stop.name), text_size, true,
                             ShapeAlign::middle);
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
    static constexpr std::array<double, 6> steps{1.0, 2.0, 3.0, 4.0, 5.0, 6.0};
    for (double decade = 1.0; decade < 1e9; decade *= 10.0)
        for (const double step : steps) {
            const double scale = step * decade;
            if (width * per_metre / scale <= room.width && height * per_metre / scale <= room.height)
                return scale;
        }
    return 1e9;
}

double text_width(std::string_view text, double points) {
    return 0.56 * points * per_point * static_cast<double>(text::display_width(text::safe_print(text)));
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
