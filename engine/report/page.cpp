#include "engine/report/page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "engine/text/safe_print.hpp"

namespace packproof::report {

namespace {

constexpr std::size_t least_width = 40;
constexpr std::size_t label_indent = 4;
constexpr std::size_t text_margin = 16;
constexpr std::size_t longest_unit = 8;  // bytes; a longer word after a number is no unit
constexpr std::string_view no_break_space = "\u00A0";

std::string_view code_of(Ink ink) {
    switch (ink) {
        case Ink::plain:
            return "";
        case Ink::strong:
            return "\x1b[1m";
        case Ink::faint:
            return "\x1b[2m";
        case Ink::alarm:
            return "\x1b[1;31m";
        case Ink::warning:
            return "\x1b[1;33m";
    }
    return "";
}

// A number keeps its unit on its line: the space between them does not break (SI Brochure 5.4.3 has the
// space; that it should not break is common practice).
std::string bind_units(std::string_view words) {
    std::string bound;
    for (std::size_t i = 0; i < words.size(); ++i) {
        const bool after_digit = i > 0 && words[i - 1] >= '0' && words[i - 1] <= '9';
        if (words[i] != ' ' || !after_digit) {
            bound += words[i];
            continue;
        }
        const std::size_t end = std::min(words.find(' ', i + 1), words.size());
        if (end - i - 1 <= longest_unit)
            bound += no_break_space;
        else
            bound += ' ';
    }
    return bound;
}

std::string release_units(std::string_view bound) {
    std::string words;
    for (std::size_t i = 0; i < bound.size(); ++i) {
        if (bound.substr(i, no_break_space.size()) == no_break_space) {
            words += ' ';
            i += no_break_space.size() - 1;
        } else {
            words += bound[i];
        }
    }
    return words;
}

std::vector<std::string> broken_lines(std::string_view words, std::size_t width, std::size_t hang,
                                      std::string_view lead = {}) {
    const std::string wrapped =
        text::wrap(bind_units(text::safe_print(words)), width, lead, std::string(hang, ' '));
    std::vector<std::string> lines;
    std::string_view rest = wrapped;
    while (!rest.empty()) {
        const std::size_t end = std::min(rest.find('\n'), rest.size());
        lines.push_back(release_units(rest.substr(0, end)));
        rest.remove_prefix(std::min(end + 1, rest.size()));
    }
    return lines;
}

}  // namespace

Page::Page(std::size_t width, bool colour) : width_(std::max(width, least_width)), colour_(colour) {}

void Page::put(std::string_view harmless, Ink ink) {
    const bool coloured = colour_ && ink != Ink::plain && !harmless.empty();
    if (coloured) text_ += code_of(ink);
    text_ += harmless;
    if (coloured) text_ += "\x1b[0m";
}

void Page::blank() {
    text_ += '\n';
}

void Page::divide() {
    std::string line;
    for (std::size_t i = 0; i < width_; ++i)
        line += "─";
    put(line, Ink::faint);
    text_ += '\n';
}

void Page::headline(std::string_view left, Ink ink, std::string_view middle, std::string_view right) {
    const std::string head = text::safe_print(left);
    const std::string body = text::safe_print(middle);
    const std::string edge = text::safe_print(right);
    const std::size_t taken = text::display_width(head) + text::display_width(body);
    put(head, ink);
    put(body, Ink::strong);
    if (taken + 2 + text::display_width(edge) <= width_) {
        at_right_edge(taken, edge, Ink::faint);
        return;
    }
    text_ += '\n' + std::string(label_indent, ' ');
    put(edge, Ink::faint);
    text_ += '\n';
}

void Page::row(std::string_view left, std::string_view right) {
    const std::string head = text::safe_print(left);
    put(head, Ink::plain);
    at_right_edge(text::display_width(head), text::safe_print(right), Ink::plain);
}

void Page::at_right_edge(std::size_t taken, std::string_view harmless, Ink ink) {
    const std::size_t needed = text::display_width(harmless);
    if (needed == 0) {
        text_ += '\n';
        return;
    }
    if (taken + 2 + needed > width_) {
        text_ += '\n';
        taken = 0;
    }
    if (taken + needed < width_) text_ += std::string(width_ - taken - needed, ' ');
    put(harmless, ink);
    text_ += '\n';
}

void Page::paragraph(std::string_view words, std::size_t indent, std::size_t hang, Ink ink) {
    for (const std::string& line : broken_lines(words, width_ - indent, hang)) {
        text_ += std::string(indent, ' ');
        put(line, ink);
        text_ += '\n';
    }
}

void Page::numbered(std::size_t number, std::string_view words) {
    const std::string lead = fmt::format("{:<{}}", number, label_indent);
    for (const std::string& line : broken_lines(words, width_, label_indent, lead))
        text_ += line + '\n';
}

void Page::beside(std::size_t margin, std::string_view words, std::size_t hang, std::string_view lead) {
    const auto lines = broken_lines(words, width_ - margin, hang, lead);
    if (lines.empty()) text_ += '\n';
    for (std::size_t i = 0; i < lines.size(); ++i) {
        if (i > 0) text_ += std::string(margin, ' ');
        text_ += lines[i] + '\n';
    }
}

void Page::labelled(std::string_view label, std::string_view words, std::size_t hang, std::string_view lead) {
    text_ += std::string(label_indent, ' ');
    put(label, Ink::faint);
    const std::size_t used = label_indent + text::display_width(label);
    text_ += std::string(used + 1 < text_margin ? text_margin - used : 1, ' ');
    beside(text_margin, words, hang, lead);
}

bool Page::fits_beside_label(std::string_view words) const {
    return text_margin + text::display_width(text::safe_print(words)) <= width_;
}

void Page::counted_line(std::string_view count, std::string_view words) {
    const std::size_t cells = text::display_width(count);
    text_ += std::string(cells + 2 < text_margin ? text_margin - 2 - cells : 0, ' ');
    text_ += count;
    text_ += "  ";
    beside(text_margin, words, 0, {});
}

void Page::labelled_if(std::string_view label, std::string_view words) {
    if (!words.empty()) labelled(label, words);
}

}  // namespace packproof::report
