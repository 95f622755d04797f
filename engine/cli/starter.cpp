#include "engine/cli/starter.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace packproof::cli {

namespace {

constexpr std::string_view template_path = "rules/starter.toml.txt";
constexpr std::string_view opening = "{{";
constexpr std::string_view closing = "}}";

struct Stretch {
    std::size_t begin;
    std::size_t end;
    Blank blank;
};

Blank read_blank(std::string_view inside) {
    const std::size_t first = std::min(inside.find('|'), inside.size());
    const std::string_view rest = inside.substr(std::min(first + 1, inside.size()));
    const std::size_t second = std::min(rest.find('|'), rest.size());
    return {std::string(inside.substr(0, first)), std::string(rest.substr(0, second)),
            std::string(rest.substr(std::min(second + 1, rest.size())))};
}

std::optional<Stretch> next_blank(std::string_view starter, std::size_t from) {
    const std::size_t begin = starter.find(opening, from);
    if (begin == std::string_view::npos) return std::nullopt;
    const std::size_t end = starter.find(closing, begin);
    if (end == std::string_view::npos) return std::nullopt;
    const std::size_t inside = begin + opening.size();
    return Stretch{begin, end + closing.size(), read_blank(starter.substr(inside, end - inside))};
}

// TOML 1.0, basic strings: quotation mark, backslash and control characters are escaped.
std::string escaped(std::string_view value) {
    std::string text;
    for (const char c : value) {
        const auto byte = static_cast<unsigned char>(c);
        if (c == '"' || c == '\\')
            text += fmt::format("\\{}", c);
        else if (byte < 0x20U || byte == 0x7FU)
            text += fmt::format("\\u{:04X}", byte);
        else
            text += c;
    }
    return text;
}

}  // namespace

std::optional<std::string_view> starter_template(const std::vector<rules::BuiltInFile>& files) {
    for (const auto& file : files)
        if (file.path == template_path) return file.text;
    return std::nullopt;
}

std::vector<Blank> blanks_of(std::string_view starter) {
    std::vector<Blank> blanks;
    for (auto next = next_blank(starter, 0); next; next = next_blank(starter, next->end)) {
        const bool known = std::any_of(blanks.begin(), blanks.end(),
                                       [&](const Blank& blank) { return blank.name == next->blank.name; });
        if (!known) blanks.push_back(next->blank);
    }
    return blanks;
}

std::string fill_in(std::string_view starter, const std::map<std::string, std::string>& values) {
    std::string text;
    std::size_t done = 0;
    for (auto next = next_blank(starter, 0); next; next = next_blank(starter, next->end)) {
        text += starter.substr(done, next->begin - done);
        const auto given = values.find(next->blank.name);
        text += escaped(given == values.end() ? next->blank.usual : given->second);
        done = next->end;
    }
    return text + std::string(starter.substr(done));
}

}  // namespace packproof::cli
