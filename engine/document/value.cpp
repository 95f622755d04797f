#include "engine/document/value.hpp"

#include <algorithm>

namespace packproof::document {

const Node* Node::find(std::string_view name) const {
    for (const Node& child : children)
        if (child.key == name) return &child;
    return nullptr;
}

std::string_view kind_name(Node::Kind kind) {
    switch (kind) {
        case Node::Kind::table:
            return "a table";
        case Node::Kind::array:
            return "a list";
        case Node::Kind::string:
            return "text";
        case Node::Kind::integer:
            return "a whole number";
        case Node::Kind::real:
            return "a number";
        case Node::Kind::boolean:
            return "true or false";
        case Node::Kind::date:
            return "a date";
    }
    return "a value";
}

namespace {

// One step through a string as written: how many bytes of the file it takes and how many of the value.
struct Step {
    std::size_t written = 1;
    std::size_t meant = 1;
};

std::size_t utf8_length(unsigned long code_point) {
    if (code_point < 0x80) return 1;
    if (code_point < 0x800) return 2;
    return code_point < 0x10000 ? 3 : 4;
}

unsigned long hexadecimal(std::string_view digits) {
    unsigned long result = 0;
    for (char c : digits) {
        const int digit = c <= '9' ? c - '0' : (c | 0x20) - 'a' + 10;
        result = result * 16 + static_cast<unsigned long>(digit);
    }
    return result;
}

// A backslash at a line's end swallows the break and all blanks after it.
std::size_t swallowed_blanks(std::string_view rest) {
    const std::size_t next = rest.find_first_not_of(" \t\r\n", 1);
    return next == std::string_view::npos ? rest.size() : next;
}

Step escape_step(std::string_view rest) {
    if (rest.size() < 2) return {};
    switch (rest[1]) {
        case 'u':
            return {6, utf8_length(hexadecimal(rest.substr(2, 4)))};
        case 'U':
            return {10, utf8_length(hexadecimal(rest.substr(2, 8)))};
        case ' ':
        case '\t':
        case '\r':
        case '\n':
            return {swallowed_blanks(rest), 0};
        default:
            return {2, 1};
    }
}

struct Opening {
    std::size_t length = 1;
    bool escapes = false;
};

Opening opening_of(std::string_view written) {
    Opening result;
    const char quote = written.front();
    result.escapes = quote == '"';
    if (written.size() < 6 || written[1] != quote || written[2] != quote) return result;
    result.length = 3;
    // A line break right after the quotes is not part of the value.
    if (written.substr(3, 2) == "\r\n")
        result.length = 5;
    else if (written[3] == '\n')
        result.length = 4;
    return result;
}

}  // namespace

text::Span span_inside(const text::Sources& sources, const Node& string_node, std::size_t begin,
                       std::size_t end) {
    const text::Span whole = string_node.span;
    if (!string_node.is_string() || whole.source == text::no_source) return whole;
    const std::string_view file = sources.bytes(whole.source);
    if (whole.end > file.size() || whole.end < whole.begin + 2) return whole;
    const std::string_view written = file.substr(whole.begin, whole.end - whole.begin);
    const Opening opening = opening_of(written);
    const std::size_t closing = written.size() - (opening.length >= 3 ? 3 : 1);

    std::size_t at = opening.length;
    std::size_t value = 0;
    const auto go_to = [&](std::size_t wanted) {
        while (value < wanted && at < closing) {
            const bool escape = opening.escapes && written[at] == '\\';
            const Step step = escape ? escape_step(written.substr(at, closing - at)) : Step{};
            at += step.written;
            value += step.meant;
        }
        return static_cast<std::uint32_t>(whole.begin + std::min(at, closing));
    };
    const std::uint32_t first = go_to(begin);
    const std::uint32_t last = go_to(std::max(begin, end));
    return {whole.source, first, last};
}

}  // namespace packproof::document
