#include "engine/units/quantity_scanner.hpp"

#include <utility>

#include <fmt/format.h>

namespace packproof::units {

namespace {

constexpr int most_digits = 18;
constexpr int largest_exponent = 30;  // nothing that is built is larger or smaller than 10^±30

constexpr std::array<std::string_view, 6> spaces = {" ", "\t", "\u00A0", "\u202F", "\u2009", "\u2007"};

}  // namespace

std::size_t Scanner::end_of_text() const {
    Scanner back{text};
    std::size_t end = 0;
    while (!back.done()) {
        if (back.skip_spaces()) continue;
        end = ++back.at;
    }
    return end;
}

std::string Scanner::with(std::size_t begin, std::size_t end, std::string_view instead) const {
    return fmt::format("{}{}{}", piece(0, begin), instead, piece(end, end_of_text()));
}

bool Scanner::skip_spaces() {
    const std::size_t begin = at;
    if (here() > ' ') return false;  // most often: an ASCII letter, digit or sign
    while (take_any(spaces)) {}
    return at > begin;
}

void Scanner::fail(std::size_t begin, std::size_t end, std::string message, std::string hint) {
    if (!error) error = ReadError{begin, end, std::move(message), std::move(hint)};
}

namespace {

/// Commas between digits, as a decimal sign or between thousands.
void refuse_comma(Scanner& scan, std::size_t begin) {
    std::string repaired;
    std::size_t commas = 0;
    std::size_t end = begin;
    while (end < scan.text.size() &&
           (is_digit(scan.text[end]) || scan.text[end] == ',' || scan.text[end] == '.'))
        commas += scan.text[end++] == ',' ? 1U : 0U;
    while (end > begin && !is_digit(scan.text[end - 1]))
        --end;
    const std::string_view number = scan.piece(begin, end);
    const std::size_t comma = number.find(',');
    const bool group_of_three = number.size() - comma == 4 && number[0] != '0';
    const bool has_point = number.find('.') != std::string_view::npos;
    for (const char c : number)
        if (c != ',') repaired.push_back(c);
    if (commas == 1 && !has_point && group_of_three) {
        const std::string point = fmt::format("{}.{}", number.substr(0, comma), number.substr(comma + 1));
        scan.fail(begin, end, fmt::format("\"{}\" reads two ways", number),
                  fmt::format("write \"{}\" or \"{}\"", scan.with(begin, end, repaired),
                              scan.with(begin, end, point)));
    } else if (commas > 1 || has_point) {
        scan.fail(begin, end, fmt::format("\"{}\" has a comma between its digits", number),
                  fmt::format("write \"{}\"", scan.with(begin, end, repaired)));
    } else {
        std::string all{scan.piece(0, scan.end_of_text())};
        for (std::size_t i = 1; i + 1 < all.size(); ++i)
            if (all[i] == ',' && is_digit(all[i - 1]) && is_digit(all[i + 1])) all[i] = '.';
        scan.fail(begin, end, fmt::format("\"{}\" has a decimal comma", number),
                  fmt::format("write \"{}\"", all));
    }
}

void refuse_grouping(Scanner& scan, std::size_t begin, std::size_t end, std::string_view mark) {
    std::size_t stop = end + mark.size();
    while (stop < scan.text.size() && is_digit(scan.text[stop]))
        ++stop;
    if (scan.piece(end + mark.size(), stop) == "1" && scan.piece(stop, scan.text.size()).starts_with("/"))
        return;  // the unit 1/K
    const std::string joined =
        fmt::format("{}{}", scan.piece(begin, end), scan.piece(end + mark.size(), stop));
    scan.fail(begin, stop, fmt::format("\"{}\" has something between its digits", scan.piece(begin, stop)),
              fmt::format("write \"{}\"", scan.with(begin, stop, joined)));
}

void check_what_follows(Scanner& scan, std::size_t begin) {
    const std::size_t end = scan.at;
    if (scan.here() == ',' && is_digit(scan.here(1))) return refuse_comma(scan, begin);
    if (scan.here() == '.' && scan.here(1) != '.')
        return scan.fail(begin, end + 1, fmt::format("\"{}.\" ends with a point", scan.piece(begin, end)),
                         fmt::format("write \"{}\"", scan.with(begin, end + 1, scan.piece(begin, end))));
    if (scan.here() == '/' && is_digit(scan.here(1)))
        return scan.fail(begin, end + 2, fmt::format("\"{}\" is a fraction", scan.piece(begin, end + 2)),
                         "write a decimal number, for example \"0.5 in\"");
    for (const std::string_view mark : {"_", "'", " ", "\u00A0", "\u202F", "\u2009"}) {
        const std::size_t next = end + mark.size();
        if (scan.next_is(mark) && next < scan.text.size() && is_digit(scan.text[next]))
            return refuse_grouping(scan, begin, end, mark);
    }
}

struct Digits {
    Decimal value;
    int count = 0;  ///< significant ones
};

void add_digit(Digits& digits, char c, bool after_point) {
    if (digits.count > 0 || c != '0') ++digits.count;
    if (digits.count <= most_digits) digits.value.mantissa = digits.value.mantissa * 10 + (c - '0');
    if (after_point) --digits.value.exponent;
}

void read_exponent(Scanner& scan, Digits& digits) {
    if (lower(scan.here()) != 'e') return;
    const bool has_sign = scan.here(1) == '-' || scan.here(1) == '+';
    if (!is_digit(scan.here(has_sign ? 2 : 1))) return;
    const bool negative = scan.here(1) == '-';
    scan.at += has_sign ? 2 : 1;
    int exponent = 0;
    while (is_digit(scan.here())) {
        if (exponent < 10'000) exponent = exponent * 10 + (scan.here() - '0');
        ++scan.at;
    }
    digits.value.exponent += negative ? -exponent : exponent;
}

bool out_of_range(const Digits& digits) {
    const int size = digits.value.exponent + digits.count;
    return digits.value.mantissa != 0 && (size > largest_exponent || size < -largest_exponent);
}

void refuse_what_is_no_number(Scanner& scan, std::size_t begin) {
    std::size_t end = scan.at;
    while (end < scan.text.size() && is_letter(scan.text[end]))
        ++end;
    std::string word;
    for (const char c : scan.piece(scan.at, end))
        word.push_back(lower(c));
    if (word == "inf" || word == "infinity" || word == "nan")
        return scan.fail(begin, end, fmt::format("\"{}\" is not a number that a thing can have", word),
                         "for a value with no upper end write for example \">= 10 kA\"");
    if (scan.here() == '.' && is_digit(scan.here(1)))
        return scan.fail(begin, begin + 1, "a number begins with a point",
                         fmt::format("write \"{}\"", scan.with(begin, begin + 1, "0.")));
    if (scan.done()) return scan.fail(begin, begin, "a number is missing here", "");
    const std::size_t stop = scan.end_of_text();
    scan.fail(begin, stop, fmt::format("\"{}\" is not a number with a unit", scan.piece(begin, stop)), "");
}

}  // namespace

WrittenNumber read_number(Scanner& scan) {
    scan.skip_spaces();
    WrittenNumber number;
    number.begin = scan.at;
    const bool negative = scan.take_minus();
    if (!negative) scan.take("+");
    if (negative) scan.skip_spaces();
    if (!is_digit(scan.here())) {
        refuse_what_is_no_number(scan, number.begin);
        return number;
    }
    Digits digits;
    for (; is_digit(scan.here()); ++scan.at)
        add_digit(digits, scan.here(), false);
    if (scan.here() == '.' && is_digit(scan.here(1)))
        for (++scan.at; is_digit(scan.here()); ++scan.at)
            add_digit(digits, scan.here(), true);
    read_exponent(scan, digits);
    number.end = number.unit_begin = number.unit_end = scan.at;
    check_what_follows(scan, number.begin);
    const std::string_view written = scan.piece(number.begin, number.end);
    if (digits.count > most_digits)
        scan.fail(number.begin, number.end,
                  fmt::format("\"{}\" has more than {} digits", written, most_digits), "round it");
    if (out_of_range(digits))
        scan.fail(number.begin, number.end, fmt::format("\"{}\" is out of range", written),
                  fmt::format("numbers lie between 1e-{0} and 1e{0}", largest_exponent));
    number.value = negative ? units::negative(digits.value) : digits.value;
    return number;
}

}  // namespace packproof::units
