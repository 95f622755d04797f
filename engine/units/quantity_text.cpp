#include "engine/units/quantity_text.hpp"

#include <array>
#include <utility>

#include <fmt/format.h>

#include "engine/units/gauge.hpp"
#include "engine/units/quantity_scanner.hpp"

namespace packproof::units {

namespace {

constexpr std::array<std::string_view, 3> plus_minus_signs = {"±", "+/-", "+-"};
constexpr std::array<std::string_view, 3> dashes = {"\u2013", "\u2014", "\u2012"};

bool at_word(const Scanner& scan, std::string_view word) {
    return scan.next_is(word) && !is_letter(scan.here(word.size())) &&
           (scan.at == 0 || !is_letter(scan.text[scan.at - 1]));
}

bool at_dash(const Scanner& scan) {
    for (const std::string_view dash : dashes)
        if (scan.next_is(dash)) return true;
    return scan.next_is("- ") || at_word(scan, "to");
}

bool at_unit_end(const Scanner& scan) {
    const char c = scan.here();
    if (is_digit(c) || (is_letter(c) && c != 't')) return false;  // what most characters of a unit are
    constexpr std::array<std::string_view, 8> signs = {"±", "+", "..", "<", ">", "≤", "≥", "~"};
    for (const std::string_view sign : signs)
        if (scan.next_is(sign)) return true;
    return at_dash(scan);
}

/// Everything up to the next sign of a form, spaces at both ends left out.
void read_unit_text(Scanner& scan, WrittenNumber& number) {
    scan.skip_spaces();
    if (scan.done() || at_unit_end(scan) || scan.next_is_minus()) return;
    number.unit_begin = number.unit_end = scan.at;
    while (!scan.done() && !at_unit_end(scan)) {
        if (scan.skip_spaces()) continue;
        ++scan.at;
        number.unit_end = scan.at;
    }
}

/// "2-3 mm", "2 – 3 mm", "2 to 3 mm".
void refuse_dash(Scanner& scan, const WrittenNumber& first) {
    const std::size_t begin = scan.at;
    if (scan.text.find('+', begin) != std::string_view::npos)
        return scan.fail(begin, scan.end_of_text(), "the lower deviation stands before the upper one",
                         "write for example \"12 +0.1/-0.3 mm\"");
    if (!(scan.take_any(dashes) || scan.take_minus() || scan.take("to"))) return;
    const std::size_t end = scan.at;
    scan.skip_spaces();
    const std::string_view left = scan.piece(first.begin, first.has_unit() ? first.unit_end : first.end);
    scan.fail(begin, end, fmt::format("\"{}\" does not join the ends of a range", scan.piece(begin, end)),
              fmt::format("write \"{} .. {}\"", left, scan.piece(scan.at, scan.end_of_text())));
}

void read_ends(Scanner& scan, WrittenQuantity& quantity) {
    quantity.form = WrittenQuantity::Form::ends;
    quantity.second = read_number(scan);
    if (!scan.error) read_unit_text(scan, quantity.second);
}

void refuse_negative_tolerance(Scanner& scan, const WrittenNumber& tolerance) {
    scan.fail(tolerance.begin, tolerance.end, "a tolerance is not negative",
              fmt::format("write \"± {}\"", scan.piece(tolerance.begin + 1, tolerance.end)));
}

void read_tolerance(Scanner& scan, WrittenQuantity& quantity) {
    quantity.form = WrittenQuantity::Form::tolerance;
    quantity.second = read_number(scan);
    if (!scan.error) read_unit_text(scan, quantity.second);
    if (quantity.second.value.mantissa < 0) refuse_negative_tolerance(scan, quantity.second);
}

/// +0.1/-0.3, the plus already taken.
void read_deviations(Scanner& scan, WrittenQuantity& quantity) {
    quantity.form = WrittenQuantity::Form::deviations;
    quantity.second = read_number(scan);
    if (scan.error) return;
    scan.skip_spaces();
    scan.take("/");
    scan.skip_spaces();
    const std::size_t begin = scan.at;
    if (!scan.take_minus()) {
        scan.fail(begin, begin, "an upper deviation stands without a lower one",
                  "write for example \"12 +0.1/-0 mm\"");
        return;
    }
    quantity.third = read_number(scan);
    if (scan.error) return;
    if (quantity.second.value.mantissa < 0 || quantity.third.value.mantissa < 0)
        scan.fail(quantity.second.begin, quantity.third.end, "a deviation has two signs",
                  "write for example \"12 +0.1/-0.3 mm\"");
    quantity.third.value = negative(quantity.third.value);
    quantity.third.begin = begin;
    read_unit_text(scan, quantity.third);
}

/// (71.7 ± 0.5) mm, as we print it; the bracket is taken already.
void read_bracketed(Scanner& scan, WrittenQuantity& quantity) {
    const std::size_t begin = scan.at;
    quantity.bracketed = true;
    quantity.first = read_number(scan);
    if (scan.error) return;
    scan.skip_spaces();
    const bool good = scan.take_any(plus_minus_signs);
    if (good) quantity.form = WrittenQuantity::Form::tolerance;
    if (good) quantity.second = read_number(scan);
    scan.skip_spaces();
    if (!good || !scan.take(")"))
        return scan.fail(begin, scan.end_of_text(), "brackets hold a value and its tolerance, nothing else",
                         "write for example \"(71.7 ± 0.5) mm\"");
    read_unit_text(scan, quantity.second);
    if (quantity.second.value.mantissa < 0) refuse_negative_tolerance(scan, quantity.second);
}

void read_rest(Scanner& scan, WrittenQuantity& quantity) {
    const bool one_sided = quantity.form != WrittenQuantity::Form::single;
    const std::size_t begin = scan.at;
    const bool joined_by_minus = !quantity.first.has_unit() && scan.next_is_minus();
    if (at_dash(scan) || joined_by_minus) return refuse_dash(scan, quantity.first);
    if (one_sided && !scan.done())
        return scan.fail(begin, scan.end_of_text(),
                         "a one-sided value takes neither a tolerance nor a second end",
                         "write a range, for example \"2 .. 5 mm\"");
    if (scan.take_any(plus_minus_signs)) return read_tolerance(scan, quantity);
    if (scan.take("+")) return read_deviations(scan, quantity);
    if (scan.take("..")) return read_ends(scan, quantity);
}

void read_value(Scanner& scan, WrittenQuantity& quantity) {
    if (quantity.form == WrittenQuantity::Form::single && scan.take("("))
        return read_bracketed(scan, quantity);
    quantity.first = read_number(scan);
    if (!scan.error) read_unit_text(scan, quantity.first);
    if (!scan.error) read_rest(scan, quantity);
}

void refuse_strict_sign(Scanner& scan, std::size_t begin) {
    const std::string_view sign = scan.piece(begin, scan.at);
    scan.skip_spaces();
    const std::string_view rest = scan.piece(scan.at, scan.end_of_text());
    scan.fail(begin, begin + 1, fmt::format("\"{}\" leaves open whether the end belongs to it", sign),
              fmt::format("write \"{}= {}\"", sign, rest));
}

void read_leading_signs(Scanner& scan, WrittenQuantity& quantity) {
    scan.skip_spaces();
    quantity.guess = scan.take("~");
    scan.skip_spaces();
    const std::size_t begin = scan.at;
    if (scan.take("<=") || scan.take("≤"))
        quantity.form = WrittenQuantity::Form::at_most;
    else if (scan.take(">=") || scan.take("≥"))
        quantity.form = WrittenQuantity::Form::at_least;
    else if (scan.take("<") || scan.take(">"))
        refuse_strict_sign(scan, begin);
    scan.skip_spaces();
}

// Wire gauges: the number is a name ("2/0") and AWG stands on either side of it.

bool take_awg(Scanner& scan) {
    scan.skip_spaces();
    if (lower(scan.here()) != 'a' || lower(scan.here(1)) != 'w' || lower(scan.here(2)) != 'g') return false;
    scan.at += 3;
    return true;
}

WrittenNumber read_gauge_number(Scanner& scan) {
    WrittenNumber number;
    const bool before = take_awg(scan);
    const std::size_t unit_before = scan.at;
    scan.skip_spaces();
    number.begin = scan.at;
    while (is_digit(scan.here()) || scan.here() == '/')
        ++scan.at;
    number.end = scan.at;
    const std::string_view size = scan.piece(number.begin, number.end);
    number.gauge = read_gauge(size);
    if (!number.gauge)
        scan.fail(
            number.begin, number.end,
            size.empty() ? "the wire gauge has no size" : fmt::format("\"{}\" is not a wire gauge", size),
            "sizes are 4/0, 3/0, 2/0, 1/0 and 1 to 40, for example \"2/0 AWG\"");
    const bool after = !before && take_awg(scan);
    number.unit_end = before ? unit_before : scan.at;
    number.unit_begin = before || after ? number.unit_end - 3 : number.unit_end;
    return number;
}

void read_gauges(Scanner& scan, WrittenQuantity& quantity) {
    quantity.first = read_gauge_number(scan);
    scan.skip_spaces();
    const bool one_sided = quantity.form != WrittenQuantity::Form::single;
    if (!scan.error && !one_sided && scan.take("..")) {
        quantity.form = WrittenQuantity::Form::ends;
        quantity.second = read_gauge_number(scan);
        scan.skip_spaces();
    }
    if (!scan.done())
        scan.fail(scan.at, scan.end_of_text(), "a wire gauge stands alone",
                  "write the area instead, for example \"67.4 ± 0.5 mm²\"");
}

bool names_gauge(std::string_view text) {
    for (std::size_t i = 0; i + 3 <= text.size(); ++i)
        if (lower(text[i]) == 'a' && lower(text[i + 1]) == 'w' && lower(text[i + 2]) == 'g') return true;
    return false;
}

}  // namespace

std::variant<WrittenQuantity, ReadError> read_form(std::string_view text) {
    Scanner scan{text};
    WrittenQuantity quantity;
    read_leading_signs(scan, quantity);
    if (!scan.error && names_gauge(text)) {
        read_gauges(scan, quantity);
    } else if (!scan.error) {
        read_value(scan, quantity);
        if (!scan.done())
            scan.fail(scan.at, scan.end_of_text(),
                      fmt::format("\"{}\" is one too many", scan.piece(scan.at, scan.end_of_text())),
                      "write one value with at most one tolerance or two ends");
    }
    if (scan.error) return *std::move(scan.error);
    return quantity;
}

}  // namespace packproof::units
