#include "engine/units/quantity_text.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include <fmt/format.h>

#include "engine/units/gauge.hpp"

namespace packproof::units {

namespace {

constexpr int most_digits = 18;
constexpr int largest_exponent = 30;  // nothing that is built is larger or smaller than 10^±30

constexpr std::array<std::string_view, 6> spaces = {" ", "\t", "\u00A0", "\u202F", "\u2009", "\u2007"};
constexpr std::array<std::string_view, 3> plus_minus_signs = {"±", "+/-", "+-"};
constexpr std::array<std::string_view, 2> minus_signs = {"-", "\u2212"};
constexpr std::array<std::string_view, 3> dashes = {"\u2013", "\u2014", "\u2012"};

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}
bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}
char lower(char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

/// A reading position in the text. After the first error all further reading is without effect.
class Scanner {
  public:
    explicit Scanner(std::string_view text) : text_(text) {}

    std::string_view text_;
    std::size_t at_ = 0;
    std::optional<ReadError> error_;

    [[nodiscard]] bool done() const { return at_ >= text_.size(); }
    [[nodiscard]] char here(std::size_t ahead = 0) const {
        return at_ + ahead < text_.size() ? text_[at_ + ahead] : '\0';
    }
    [[nodiscard]] bool next_is(std::string_view token) const { return text_.substr(at_).starts_with(token); }
    [[nodiscard]] std::string_view piece(std::size_t begin, std::size_t end) const {
        return text_.substr(begin, end - begin);
    }

    bool take(std::string_view token) {
        if (!next_is(token)) return false;
        at_ += token.size();
        return true;
    }
    template <std::size_t Size>
    bool take_any(const std::array<std::string_view, Size>& tokens) {
        for (const std::string_view token : tokens)
            if (take(token)) return true;
        return false;
    }
    bool skip_spaces() {
        const std::size_t begin = at_;
        while (take_any(spaces)) {}
        return at_ > begin;
    }

    void fail(std::size_t begin, std::size_t end, std::string text, std::string hint) {
        if (!error_) error_ = ReadError{begin, end, std::move(text), std::move(hint)};
    }
    /// The rest of the line without spaces at its end.
    [[nodiscard]] std::size_t end_of_text() const {
        std::size_t end = text_.size();
        for (bool cut = true; cut;) {
            cut = false;
            for (const std::string_view space : spaces)
                if (end > 0 && piece(0, end).ends_with(space)) {
                    end -= space.size();
                    cut = true;
                }
        }
        return end;
    }
};

/// Commas between digits, as a decimal sign or between thousands.
void refuse_comma(Scanner& scan, std::size_t begin) {
    std::string repaired;
    std::size_t commas = 0;
    std::size_t end = begin;
    while (end < scan.text_.size() &&
           (is_digit(scan.text_[end]) || scan.text_[end] == ',' || scan.text_[end] == '.'))
        commas += scan.text_[end++] == ',' ? 1U : 0U;
    while (end > begin && !is_digit(scan.text_[end - 1]))
        --end;
    const std::string_view number = scan.piece(begin, end);
    const std::size_t comma = number.find(',');
    const bool group_of_three = number.size() - comma == 4 && number[0] != '0';
    const bool has_point = number.find('.') != std::string_view::npos;
    for (const char c : number)
        if (c != ',') repaired.push_back(c);
    if (commas == 1 && !has_point && group_of_three) {
        scan.fail(begin, end, fmt::format("\"{}\" reads two ways", number),
                  fmt::format("write \"{}\" or \"{}.{}\"", repaired, number.substr(0, comma),
                              number.substr(comma + 1)));
    } else if (commas > 1 || has_point) {
        scan.fail(begin, end, fmt::format("\"{}\" has a comma between its digits", number),
                  fmt::format("write \"{}\"", repaired));
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
    while (stop < scan.text_.size() && is_digit(scan.text_[stop]))
        ++stop;
    scan.fail(begin, stop, fmt::format("\"{}\" has something between its digits", scan.piece(begin, stop)),
              fmt::format("write \"{}{}\"", scan.piece(begin, end), scan.piece(end + mark.size(), stop)));
}

void check_what_follows(Scanner& scan, std::size_t begin) {
    const std::size_t end = scan.at_;
    if (scan.here() == ',' && is_digit(scan.here(1))) return refuse_comma(scan, begin);
    if (scan.here() == '.' && scan.here(1) != '.')
        return scan.fail(begin, end + 1, fmt::format("\"{}.\" ends with a point", scan.piece(begin, end)),
                         fmt::format("write \"{}\"", scan.piece(begin, end)));
    for (const std::string_view mark : {"_", "'", " ", "\u00A0", "\u202F", "\u2009"}) {
        const std::size_t next = end + mark.size();
        if (scan.next_is(mark) && next < scan.text_.size() && is_digit(scan.text_[next]))
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
    scan.at_ += has_sign ? 2 : 1;
    int exponent = 0;
    while (is_digit(scan.here())) {
        if (exponent < 10'000) exponent = exponent * 10 + (scan.here() - '0');
        ++scan.at_;
    }
    digits.value.exponent += negative ? -exponent : exponent;
}

bool out_of_range(const Digits& digits) {
    const int size = digits.value.exponent + digits.count;
    return digits.value.mantissa != 0 && (size > largest_exponent || size < -largest_exponent);
}

void refuse_what_is_no_number(Scanner& scan, std::size_t begin) {
    std::size_t end = scan.at_;
    while (end < scan.text_.size() && is_letter(scan.text_[end]))
        ++end;
    std::string word;
    for (const char c : scan.piece(scan.at_, end))
        word.push_back(lower(c));
    if (word == "inf" || word == "infinity" || word == "nan")
        return scan.fail(begin, end, fmt::format("\"{}\" is not a number that a thing can have", word),
                         "for a value with no upper end write for example \">= 10 kA\"");
    if (scan.here() == '.' && is_digit(scan.here(1)))
        return scan.fail(begin, begin + 1, "a number begins with a point", "write \"0.5\", not \".5\"");
    if (scan.done()) return scan.fail(begin, begin, "a number is missing here", "");
    const std::size_t stop = scan.end_of_text();
    scan.fail(begin, stop, fmt::format("\"{}\" is not a number with a unit", scan.piece(begin, stop)), "");
}

/// Sign, digits, point, exponent.
WrittenNumber read_number(Scanner& scan) {
    scan.skip_spaces();
    WrittenNumber number;
    number.begin = scan.at_;
    const bool negative = scan.take_any(minus_signs);
    if (!negative) scan.take("+");
    if (negative) scan.skip_spaces();
    if (!is_digit(scan.here())) {
        refuse_what_is_no_number(scan, number.begin);
        return number;
    }
    Digits digits;
    for (; is_digit(scan.here()); ++scan.at_)
        add_digit(digits, scan.here(), false);
    if (scan.here() == '.' && is_digit(scan.here(1)))
        for (++scan.at_; is_digit(scan.here()); ++scan.at_)
            add_digit(digits, scan.here(), true);
    read_exponent(scan, digits);
    number.end = number.unit_begin = number.unit_end = scan.at_;
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

bool at_word(const Scanner& scan, std::string_view word) {
    return scan.next_is(word) && !is_letter(scan.here(word.size())) &&
           (scan.at_ == 0 || !is_letter(scan.text_[scan.at_ - 1]));
}

bool at_dash(const Scanner& scan) {
    for (const std::string_view dash : dashes)
        if (scan.next_is(dash)) return true;
    return scan.next_is("- ") || at_word(scan, "to");
}

bool at_unit_end(const Scanner& scan) {
    constexpr std::array<std::string_view, 8> signs = {"±", "+", "..", "<", ">", "≤", "≥", "~"};
    for (const std::string_view sign : signs)
        if (scan.next_is(sign)) return true;
    return at_dash(scan);
}

/// Everything up to the next sign of a form, spaces at both ends left out.
void read_unit_text(Scanner& scan, WrittenNumber& number) {
    scan.skip_spaces();
    number.unit_begin = number.unit_end = scan.at_;
    while (!scan.done() && !at_unit_end(scan)) {
        if (scan.skip_spaces()) continue;
        ++scan.at_;
        number.unit_end = scan.at_;
    }
}

/// "2-3 mm", "2 – 3 mm", "2 to 3 mm".
void refuse_dash(Scanner& scan, const WrittenNumber& first) {
    const std::size_t begin = scan.at_;
    if (!(scan.take_any(dashes) || scan.take_any(minus_signs) || scan.take("to"))) return;
    const std::size_t end = scan.at_;
    scan.skip_spaces();
    const std::string_view left = scan.piece(first.begin, first.has_unit() ? first.unit_end : first.end);
    scan.fail(begin, end, fmt::format("\"{}\" does not join the ends of a range", scan.piece(begin, end)),
              fmt::format("write \"{} .. {}\"", left,
                          scan.piece(scan.at_, std::max(scan.at_, scan.end_of_text()))));
}

void read_ends(Scanner& scan, WrittenQuantity& quantity) {
    quantity.form = WrittenQuantity::Form::ends;
    quantity.second = read_number(scan);
    if (!scan.error_) read_unit_text(scan, quantity.second);
}

void read_tolerance(Scanner& scan, WrittenQuantity& quantity) {
    quantity.form = WrittenQuantity::Form::tolerance;
    quantity.second = read_number(scan);
    if (!scan.error_) read_unit_text(scan, quantity.second);
    if (!scan.error_ && quantity.second.value.mantissa < 0)
        scan.fail(quantity.second.begin, quantity.second.end, "a tolerance is not negative",
                  fmt::format("write \"± {}\"", scan.piece(quantity.second.begin + 1, quantity.second.end)));
}

/// +0.1/-0.3, the plus already taken.
void read_deviations(Scanner& scan, WrittenQuantity& quantity) {
    quantity.form = WrittenQuantity::Form::deviations;
    quantity.second = read_number(scan);
    if (scan.error_) return;
    scan.skip_spaces();
    scan.take("/");
    scan.skip_spaces();
    const std::size_t begin = scan.at_;
    if (!scan.take_any(minus_signs)) {
        scan.fail(begin, begin, "an upper deviation stands without a lower one",
                  "write for example \"12 +0.1/-0 mm\"");
        return;
    }
    quantity.third = read_number(scan);
    if (scan.error_) return;
    if (quantity.second.value.mantissa < 0 || quantity.third.value.mantissa < 0)
        scan.fail(quantity.second.begin, quantity.third.end, "a deviation has two signs",
                  "write for example \"12 +0.1/-0.3 mm\"");
    quantity.third.value = negative(quantity.third.value);
    quantity.third.begin = begin;
    read_unit_text(scan, quantity.third);
}

void read_rest(Scanner& scan, WrittenQuantity& quantity) {
    const bool one_sided = quantity.form != WrittenQuantity::Form::single;
    const std::size_t begin = scan.at_;
    const bool joined_by_minus = !quantity.first.has_unit() && (scan.next_is("-") || scan.next_is("\u2212"));
    if (at_dash(scan) || joined_by_minus) return refuse_dash(scan, quantity.first);
    if (one_sided && !scan.done())
        return scan.fail(begin, scan.end_of_text(),
                         "a one-sided value takes neither a tolerance nor a second end",
                         "write a range, for example \"2 .. 5 mm\"");
    if (scan.take_any(plus_minus_signs)) return read_tolerance(scan, quantity);
    if (scan.take("+")) return read_deviations(scan, quantity);
    if (scan.take("..")) return read_ends(scan, quantity);
}

void refuse_strict_sign(Scanner& scan, std::size_t begin) {
    const std::string_view sign = scan.piece(begin, scan.at_);
    scan.skip_spaces();
    const std::string_view rest = scan.piece(scan.at_, std::max(scan.at_, scan.end_of_text()));
    scan.fail(begin, begin + 1, fmt::format("\"{}\" leaves open whether the end belongs to it", sign),
              fmt::format("write \"{}= {}\"", sign, rest));
}

void read_leading_signs(Scanner& scan, WrittenQuantity& quantity) {
    scan.skip_spaces();
    quantity.guess = scan.take("~");
    scan.skip_spaces();
    const std::size_t begin = scan.at_;
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
    scan.at_ += 3;
    return true;
}

WrittenNumber read_gauge_number(Scanner& scan) {
    WrittenNumber number;
    const bool before = take_awg(scan);
    const std::size_t unit_before = scan.at_;
    scan.skip_spaces();
    number.begin = scan.at_;
    while (is_digit(scan.here()) || scan.here() == '/')
        ++scan.at_;
    number.end = scan.at_;
    number.gauge = read_gauge(scan.piece(number.begin, number.end));
    if (!number.gauge)
        scan.fail(number.begin, number.end,
                  fmt::format("\"{}\" is not a wire gauge", scan.piece(number.begin, number.end)),
                  "sizes are 4/0, 3/0, 2/0, 1/0 and 1 to 40, for example \"2/0 AWG\"");
    const bool after = !before && take_awg(scan);
    number.unit_end = before ? unit_before : scan.at_;
    number.unit_begin = before || after ? number.unit_end - 3 : number.unit_end;
    return number;
}

void read_gauges(Scanner& scan, WrittenQuantity& quantity) {
    quantity.first = read_gauge_number(scan);
    scan.skip_spaces();
    const bool one_sided = quantity.form != WrittenQuantity::Form::single;
    if (!scan.error_ && !one_sided && scan.take("..")) {
        quantity.form = WrittenQuantity::Form::ends;
        quantity.second = read_gauge_number(scan);
        scan.skip_spaces();
    }
    if (!scan.done())
        scan.fail(scan.at_, scan.end_of_text(), "a wire gauge stands alone",
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
    if (!scan.error_ && names_gauge(text)) {
        read_gauges(scan, quantity);
    } else if (!scan.error_) {
        quantity.first = read_number(scan);
        if (!scan.error_) read_unit_text(scan, quantity.first);
        if (!scan.error_) read_rest(scan, quantity);
        if (!scan.done())
            scan.fail(scan.at_, scan.end_of_text(),
                      fmt::format("\"{}\" is one too many", scan.piece(scan.at_, scan.end_of_text())),
                      "write one value with at most one tolerance or two ends");
    }
    if (scan.error_) return *std::move(scan.error_);
    return quantity;
}

}  // namespace packproof::units
