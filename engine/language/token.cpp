#include "engine/language/token.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <optional>

#include "engine/units/read_quantity.hpp"

namespace packproof::language {
namespace {

constexpr std::array<std::string_view, 20> reserved_words{
    "and",  "or",    "not",  "is", "in",    "within", "matches", "if",      "then",  "else",
    "true", "false", "this", "as", "where", "stated", "none",    "assumed", "known", "mentioned"};

/// Words that may follow a number without being its unit. `in` is the inch: nothing numeric stands before
/// the operator of that name.
constexpr std::array<std::string_view, 11> words_after_number{
    "and", "or", "not", "is", "within", "matches", "if", "then", "else", "as", "where"};

struct Lookalike {
    std::string_view written;
    std::string_view meant;
};
constexpr std::array<Lookalike, 9> lookalikes{{{"×", "*"},
                                               {"·", "*"},
                                               {"÷", "/"},
                                               {"≤", "<="},
                                               {"≥", ">="},
                                               {"≠", "!="},
                                               {"−", "-"},
                                               {"’", "'"},
                                               {"‘", "'"}}};

bool is_space(char c) {
    return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}
bool is_digit(char c) {
    return c >= '0' && c <= '9';
}
bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_';
}
bool is_beyond_ascii(char c) {
    return static_cast<unsigned char>(c) >= 0x80;
}

/// Bytes of the character that starts here; a stray continuation byte counts as one.
std::size_t character_length(std::string_view rest) {
    const auto first = static_cast<unsigned char>(rest.front());
    const std::size_t expected = first >= 0xf0 ? 4 : first >= 0xe0 ? 3 : first >= 0xc0 ? 2 : 1;
    std::size_t length = 1;
    while (length < expected && length < rest.size() &&
           (static_cast<unsigned char>(rest[length]) & 0xc0U) == 0x80U)
        ++length;
    return length;
}

class Splitter {
  public:
    Splitter(std::string_view text, std::vector<Mistake>& mistakes) : text_(text), mistakes_(mistakes) {}

    std::vector<Token> split() {
        while (true) {
            while (at_ < text_.size() && is_space(text_[at_]))
                ++at_;
            if (at_ == text_.size()) break;
            read_token();
        }
        add(Token::Kind::end, at_);
        return std::move(tokens_);
    }

  private:
    [[nodiscard]] char here(std::size_t ahead = 0) const {
        return at_ + ahead < text_.size() ? text_[at_ + ahead] : '\0';
    }
    Token& add(Token::Kind kind, std::size_t begin) {
        Token token;
        token.kind = kind;
        token.begin = static_cast<std::uint32_t>(begin);
        token.end = static_cast<std::uint32_t>(at_);
        token.spelling = text_.substr(begin, at_ - begin);
        tokens_.push_back(std::move(token));
        return tokens_.back();
    }
    void mistake(std::size_t begin, std::size_t end, std::string text, std::string hint = {}) {
        mistakes_.push_back({begin, end, std::move(text), std::move(hint)});
    }

    void read_token() {
        const char c = here();
        if (is_digit(c)) return read_number();
        if (is_letter(c)) return read_word();
        if (c == '\'') return read_text();
        read_sign();
    }

    void read_word() {
        const std::size_t begin = at_;
        while (is_letter(here()) || is_digit(here()))
            ++at_;
        add(Token::Kind::word, begin);
    }

    void read_text() {
        const std::size_t begin = at_;
        ++at_;
        while (at_ < text_.size()) {
            if (text_[at_++] != '\'') continue;
            if (here() != '\'') {
                add(Token::Kind::text, begin);
                return;
            }
            ++at_;
        }
        mistake(begin, text_.size(), "a text has no closing quote",
                "texts stand between single quotes: 'like this'");
    }

    void read_sign() {
        static constexpr std::array<std::string_view, 4> two{"<=", ">=", "==", "!="};
        static constexpr std::string_view one = "+-*/^<>().,:[]";
        const std::string_view rest = text_.substr(at_);
        const std::size_t begin = at_;
        if (std::find(two.begin(), two.end(), rest.substr(0, 2)) != two.end()) {
            at_ += 2;
            add(Token::Kind::sign, begin);
            return;
        }
        if (one.find(here()) != std::string_view::npos) {
            ++at_;
            add(Token::Kind::sign, begin);
            return;
        }
        at_ += character_length(rest);
        std::string hint;
        for (const auto& [written, meant] : lookalikes)
            if (rest.starts_with(written)) hint = fmt::format("write '{}'", meant);
        if (rest.front() == '=') hint = "equality is written '=='";
        if (rest.front() == '!') hint = "negation is written 'not'";
        if (rest.front() == '"') hint = "texts stand between single quotes: 'like this'";
        if (rest.front() == '&') hint = "write 'and'";
        if (rest.front() == '|') hint = "write 'or'";
        mistake(begin, at_, fmt::format("unexpected character '{}'", text_.substr(begin, at_ - begin)), hint);
    }

    void read_digits() {
        while (is_digit(here()))
            ++at_;
    }

    void read_number() {
        const std::size_t begin = at_;
        read_digits();
        const bool gauge = here() == '/' && here(1) == '0' && followed_by_gauge(at_ + 2);
        if (gauge) {
            at_ += 2;
        } else {
            if (here() == '.' && is_digit(here(1))) {
                ++at_;
                read_digits();
            }
            const std::size_t sign = (here(1) == '+' || here(1) == '-') ? 1 : 0;
            if ((here() == 'e' || here() == 'E') && is_digit(here(1 + sign))) {
                at_ += 1 + sign;
                read_digits();
            }
        }
        const std::size_t number_end = at_;
        double plain = 0.0;
        const auto parsed = std::from_chars(text_.data() + begin, text_.data() + number_end, plain);
        if (parsed.ec != std::errc{}) {
            mistake(begin, number_end, "the number is too large or too small");
            return;
        }
        if (starts_unit(at_))
            mistake(begin, unit_end(at_), "a number and its unit need a space between them");
        std::size_t unit_begin = at_;
        while (unit_begin < text_.size() && is_space(text_[unit_begin]))
            ++unit_begin;
        if (unit_begin == text_.size() || !starts_unit(unit_begin)) {
            add(Token::Kind::number, begin).number = plain;
            return;
        }
        read_unit_of(begin, unit_begin);
    }

    [[nodiscard]] bool followed_by_gauge(std::size_t from) const {
        while (from < text_.size() && is_space(text_[from]))
            ++from;
        return text_.substr(from).starts_with("AWG");
    }

    [[nodiscard]] bool starts_unit(std::size_t from) const {
        if (from >= text_.size()) return false;
        const char c = text_[from];
        if (c == '%') return true;
        if (is_beyond_ascii(c)) {
            for (const auto& lookalike : lookalikes)
                if (text_.substr(from).starts_with(lookalike.written)) return false;
            return true;
        }
        if (!is_letter(c)) return false;
        std::size_t end = from;
        while (end < text_.size() && (is_letter(text_[end]) || is_digit(text_[end])))
            ++end;
        const std::string_view word = text_.substr(from, end - from);
        return std::find(words_after_number.begin(), words_after_number.end(), word) ==
               words_after_number.end();
    }

    /// A unit has no spaces; a bracket belongs to it only after a sign of multiplication or division.
    [[nodiscard]] std::size_t unit_end(std::size_t from) const {
        static constexpr std::string_view ends = ",]+<>=!':[";
        int open = 0;
        std::size_t end = from;
        for (; end < text_.size(); ++end) {
            const char c = text_[end];
            const char before = end > from ? text_[end - 1] : '\0';
            if (is_space(c) || ends.find(c) != std::string_view::npos) break;
            if (c == '-' && before != '^') break;
            if (c == '(' && before != '/' && before != '*' && before != '.' && !is_beyond_ascii(before))
                break;
            if (c == '(') ++open;
            if (c == ')' && --open < 0) break;
        }
        return end;
    }

    void read_unit_of(std::size_t begin, std::size_t unit_begin) {
        at_ = unit_end(unit_begin);
        const std::string_view written = text_.substr(unit_begin, at_ - unit_begin);
        const std::optional<units::Unit> unit = units::read_unit(written);
        if (!unit) {
            const std::string nearest = units::nearest_unit(written);
            std::string hint;
            if (!nearest.empty())
                hint = fmt::format("nearest is '{}'", nearest);
            else if (written.find_first_of("/*") != std::string_view::npos)
                hint = "an operator after a unit needs a space on both sides";
            mistake(unit_begin, at_, fmt::format("unknown unit '{}'", written), hint);
            return;
        }
        Token& token = add(Token::Kind::number, begin);
        token.unit = *unit;
        token.number = literal_value(token.spelling, *unit, absolute_by_default(*unit));
    }

    std::string_view text_;
    std::vector<Mistake>& mistakes_;
    std::vector<Token> tokens_;
    std::size_t at_ = 0;
};

}  // namespace

std::vector<Token> split_tokens(std::string_view text, std::vector<Mistake>& mistakes) {
    return Splitter(text, mistakes).split();
}

double literal_value(std::string_view spelling, const units::Unit& unit, bool absolute) {
    std::string written;
    for (const char c : spelling)
        if (!is_space(c) || (!written.empty() && written != "-" && written.back() != ' '))
            written.push_back(is_space(c) ? ' ' : c);
    const auto read = units::read_quantity(written, {unit.dimension, absolute, false});
    if (const auto* quantity = std::get_if<units::Quantity>(&read)) return quantity->nominal;
    double number = 0.0;
    std::from_chars(written.data(), written.data() + written.size(), number);
    return (number + (absolute ? unit.offset : 0.0)) * unit.factor;
}

bool absolute_by_default(const units::Unit& unit) {
    return unit.temperature && unit.offset != 0.0;
}

bool is_reserved(std::string_view word) {
    return std::find(reserved_words.begin(), reserved_words.end(), word) != reserved_words.end();
}

std::string unquote(std::string_view spelling) {
    std::string value;
    for (std::size_t i = 1; i + 1 < spelling.size(); ++i) {
        value.push_back(spelling[i]);
        if (spelling[i] == '\'') ++i;
    }
    return value;
}

}  // namespace packproof::language
