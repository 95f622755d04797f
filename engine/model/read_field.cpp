#include "engine/model/read_field.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <charconv>

#include "engine/document/shown.hpp"
#include "engine/model/bounds.hpp"
#include "engine/text/day.hpp"
#include "engine/text/nearest_name.hpp"

namespace packproof::model {
namespace {

using document::in_quotes;
using document::Node;
using document::shown;
using units::Interval;
using units::ReadError;
using Read = std::variant<Reading, ReadError>;

units::Expected expected(const Field& field) {
    return {field.unit.dimension, field.absolute, !field.rate_of.empty()};
}

Read quantity(std::string_view text, const Field& field, units::UnitMemory* memory) {
    auto read = units::read_quantity(text, expected(field), memory);
    if (auto* error = std::get_if<ReadError>(&read)) return std::move(*error);
    auto& quantity = std::get<units::Quantity>(read);
    Read made;
    Reading& result = std::get<Reading>(made);
    result.value.content = Number{quantity.range, quantity.nominal, {}};
    result.value.basis.guess = quantity.guess;
    result.unit = std::move(quantity.unit);
    return made;
}

Read range(std::string_view text, const Field& field, units::UnitMemory* memory) {
    auto read = units::read_range(text, expected(field), memory);
    if (auto* error = std::get_if<ReadError>(&read)) return std::move(*error);
    auto& range = std::get<units::PermittedRange>(read);
    Read made;
    Reading& result = std::get<Reading>(made);
    result.value.content = Range{Interval::point(range.lower), Interval::point(range.upper)};
    result.unit = std::move(range.unit);
    return made;
}

Reading counted(std::int64_t count) {
    const auto number = static_cast<double>(count);
    Reading result;
    result.value.content = Number{Interval::point(number), number, {}};
    return result;
}

Reading truthful(bool truth) {
    Reading result;
    result.value.content = truth ? Truth::yes : Truth::no;
    return result;
}

Reading textual(std::string_view text) {
    Reading result;
    result.value.content = Text{text, {}};
    return result;
}

ReadError whole(std::string_view text, std::string sentence, std::string hint) {
    return {0, text.size(), std::move(sentence), std::move(hint)};
}

std::string list_of(const std::vector<std::string>& choices) {
    constexpr std::size_t most = 12;
    std::string result;
    for (std::size_t i = 0; i < std::min(choices.size(), most); ++i) {
        if (i > 0) result += i + 1 == choices.size() ? " or " : ", ";
        result += choices[i];
    }
    if (choices.size() > most) result += " …";
    return result;
}

Read choice(std::string_view text, const Field& field) {
    const auto found = std::find(field.choices.begin(), field.choices.end(), text);
    if (found != field.choices.end()) return textual(*found);
    const std::vector<std::string_view> names(field.choices.begin(), field.choices.end());
    const std::string_view near = text::nearest_name(text, names);
    return whole(
        text, fmt::format("{} has no choice {}", field.name, in_quotes(text)),
        near.empty() ? "write one of " + list_of(field.choices) : fmt::format("did you mean \"{}\"?", near));
}

Read date(std::string_view text, const Field& field) {
    if (text::read_day(text)) return textual(text);
    return whole(text, fmt::format("{} is not a date for {}", in_quotes(text), field.name),
                 "write year, month and day: 2026-01-31");
}

std::optional<std::int64_t> whole_number(std::string_view text) {
    std::int64_t number = 0;
    const auto end = text.data() + text.size();
    const auto [stop, code] = std::from_chars(text.data(), end, number);
    if (code != std::errc() || stop != end) return std::nullopt;
    return number;
}

bool is_plain_number(std::string_view text) {
    return !text.empty() && text.find_first_not_of("0123456789.+-") == std::string_view::npos;
}

// "yes" and its like; empty: no such word.
std::string_view truth_word(std::string_view text) {
    for (std::string_view word : {"true", "yes", "Yes", "True", "TRUE", "YES", "on"})
        if (text == word) return "true";
    for (std::string_view word : {"false", "no", "No", "False", "FALSE", "NO", "off"})
        if (text == word) return "false";
    return {};
}

}  // namespace

std::string wanted(const Field& field) {
    switch (field.form) {
        case Field::Form::quantity:
            return field.unit.symbol.empty() ? "a number"
                                             : fmt::format("a quantity such as \"1 {}\"", field.unit.symbol);
        case Field::Form::range:
            return field.unit.symbol.empty()
                       ? "a range such as \"1 .. 2\""
                       : fmt::format("a range such as \"1 .. 2 {}\"", field.unit.symbol);
        case Field::Form::count:
            return "a whole number";
        case Field::Form::truth:
            return "true or false";
        case Field::Form::text:
            return "text";
        case Field::Form::choice:
            return "one of " + list_of(field.choices);
        case Field::Form::date:
            return "a date such as 2026-01-31";
        case Field::Form::reference:
            return "an id in quotes";
        case Field::Form::references:
            return "a list of ids such as [\"a\", \"b\"]";
    }
    return "a value";
}

Read read_text(std::string_view text, const Field& field, units::UnitMemory* memory) {
    switch (field.form) {
        case Field::Form::quantity:
            return quantity(text, field, memory);
        case Field::Form::range:
            return range(text, field, memory);
        case Field::Form::count:
            if (const auto number = whole_number(text)) return counted(*number);
            return whole(text, fmt::format("{} is not a whole number", in_quotes(text)), {});
        case Field::Form::truth:
            if (text == "true" || text == "false") return truthful(text == "true");
            return whole(text, fmt::format("{} is neither true nor false", in_quotes(text)), {});
        case Field::Form::text:
            return textual(text);
        case Field::Form::choice:
            return choice(text, field);
        case Field::Form::date:
            return date(text, field);
        case Field::Form::reference:
        case Field::Form::references:
            break;
    }
    return whole(text, fmt::format("{} is a reference and has no value of its own", field.name), {});
}

std::string_view TextKeeper::value(const Node& string_node) {
    const text::Span span = string_node.span;
    if (span.source != text::no_source && span.end >= span.begin + 2) {
        const std::string_view inside =
            sources.bytes(span.source).substr(span.begin + 1, span.end - span.begin - 2);
        if (inside == string_node.text) return inside;
    }
    return texts.emplace_back(string_node.text);
}

std::string_view TextKeeper::written(const Node& node) {
    if (node.is_string()) return value(node);
    if (node.span.source == text::no_source) return {};
    return sources.bytes(node.span.source).substr(node.span.begin, node.span.end - node.span.begin);
}

namespace {

// Reads one node for one field; whatever is wrong goes to the messages.
class FieldReader {
  public:
    FieldReader(const Field& field, const Node& node, TextKeeper keeper, text::Messages& messages, Slot& into)
        : field_(field), node_(node), keeper_(keeper), messages_(messages), slot_(into) {}

    bool read() {
        written_ = keeper_.written(node_);
        const std::string_view text = node_.text;
        if (node_.is_string() && text == "?") return slot({Slot::State::asked, {}, {}});
        if (node_.is_string() && text == "none") {
            Reading none{Slot::State::none, {}, {}};
            none.value.content = KnownNone{};
            return slot(std::move(none));
        }
        switch (field_.form) {
            case Field::Form::count:
                return count();
            case Field::Form::truth:
                return truth();
            case Field::Form::date:
                return date_node();
            case Field::Form::reference:
                return reference();
            case Field::Form::references:
                return references();
            default:
                break;
        }
        if (node_.is_string()) return text_node();
        if (node_.kind == Node::Kind::integer || node_.kind == Node::Kind::real) return bare_number();
        return refuse();
    }

  private:
    bool slot(Reading&& reading) {
        if (!is_rate(reading.value, reading.unit, field_)) {
            std::string beyond = keep_within_bounds(reading.value, reading.unit, field_, written_);
            if (!beyond.empty()) {
                messages_.error(node_.span, std::move(beyond));
                return false;
            }
        }
        slot_.state = reading.state;
        slot_.value = std::move(reading.value);
        slot_.unit = std::move(reading.unit);
        slot_.span = node_.span;
        slot_.written = written_;
        return true;
    }

    bool text_node() {
        auto read = read_text(written_, field_, keeper_.units);
        if (auto* error = std::get_if<ReadError>(&read)) {
            if (number_field() && is_plain_number(written_)) error->hint = with_unit();
            messages_.error(document::span_inside(keeper_.sources, node_, error->begin, error->end),
                            std::move(error->text), std::move(error->hint));
            return false;
        }
        return slot(std::move(std::get<Reading>(read)));
    }

    [[nodiscard]] bool number_field() const {
        return field_.form == Field::Form::quantity || field_.form == Field::Form::range;
    }

    [[nodiscard]] std::string with_unit() const {
        if (field_.unit.symbol.empty()) return {};
        return fmt::format("write {} = \"{} {}\" if that is the unit", field_.name, shown(written_),
                           field_.unit.symbol);
    }

    bool bare_number() {
        if (!number_field()) return refuse();
        if (field_.unit.symbol.empty()) {
            auto read = read_text(written_, field_, keeper_.units);
            if (auto* reading = std::get_if<Reading>(&read)) return slot(std::move(*reading));
        }
        messages_.error(node_.span, fmt::format("{} is a bare number; its unit is missing", field_.name),
                        with_unit());
        return false;
    }

    bool count() {
        if (node_.kind == Node::Kind::integer) return slot(counted(node_.integer));
        if (node_.kind == Node::Kind::real) {
            const bool is_whole =
                node_.real ==
                static_cast<double>(static_cast<std::int64_t>(std::clamp(node_.real, -9e15, 9e15)));
            return refuse(is_whole ? fmt::format("write {} = {:.0f}", field_.name, node_.real)
                                   : std::string());
        }
        if (node_.is_string())
            if (const auto number = whole_number(node_.text))
                return refuse(fmt::format("write {} = {}, without quotes", field_.name, *number));
        return refuse();
    }

    bool truth() {
        if (node_.kind == Node::Kind::boolean) return slot(truthful(node_.boolean));
        const std::string_view word = node_.is_string() ? truth_word(node_.text) : std::string_view();
        return refuse(word.empty() ? std::string()
                                   : fmt::format("write {} = {}, without quotes", field_.name, word));
    }

    bool date_node() {
        if (node_.is_string()) return text_node();
        if (node_.kind != Node::Kind::date) return refuse();
        if (text::read_day(written_)) return slot(textual(written_));
        messages_.error(node_.span,
                        fmt::format("{} wants a day such as 2026-01-31, without a time", field_.name));
        return false;
    }

    bool reference() {
        if (node_.is_string()) return slot({});
        if (node_.is_array()) return refuse("write one id, not a list");
        return refuse();
    }

    bool references() {
        if (node_.is_string()) return slot({});
        if (!node_.is_array()) return refuse();
        for (const Node& element : node_.children)
            if (!element.is_string()) {
                messages_.error(element.span, fmt::format("{} lists ids in quotes, not {}", field_.name,
                                                          document::kind_name(element.kind)));
                return false;
            }
        return slot({});
    }

    bool refuse(std::string hint = {}) {
        const std::string_view instead =
            node_.kind == Node::Kind::real ? written_ : document::kind_name(node_.kind);
        messages_.error(node_.span,
                        fmt::format("{} wants {}, not {}", field_.name, wanted(field_), shown(instead)),
                        std::move(hint));
        return false;
    }

    const Field& field_;
    const Node& node_;
    TextKeeper keeper_;
    text::Messages& messages_;
    Slot& slot_;
    std::string_view written_;
};

}  // namespace

bool read_field(const Field& field, const Node& node, TextKeeper keeper, text::Messages& messages,
                Slot& into) {
    return FieldReader(field, node, keeper, messages, into).read();
}

}  // namespace packproof::model
