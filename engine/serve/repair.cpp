#include "engine/serve/repair.hpp"

#include <algorithm>
#include <array>
#include <string_view>

#include "engine/report/toml_text.hpp"

namespace packproof::serve {

namespace {

// The word in quotes or brackets behind one of the ways in which a nearest word is named.
std::optional<std::string_view> suggested(std::string_view hint) {
    constexpr std::array<std::string_view, 4> ways{"did you mean ", "nearest is ", "write only ",
                                                   "named by its id alone: write "};
    for (const std::string_view way : ways) {
        const std::size_t at = hint.find(way);
        if (at == std::string_view::npos) continue;
        const std::string_view rest = hint.substr(at + way.size());
        if (rest.size() < 2) continue;
        const char close = rest.front() == '[' ? ']' : rest.front();
        if (std::string_view("\"'`]").find(close) == std::string_view::npos) continue;
        const std::size_t end = rest.find(close, 1);
        if (end != std::string_view::npos && end > 1) return rest.substr(1, end - 1);
    }
    return std::nullopt;
}

// The whole value of "write FIELD = VALUE, without quotes" and "... if that is the unit".
std::optional<std::string_view> whole_value(std::string_view hint) {
    if (!hint.starts_with("write ")) return std::nullopt;
    const std::size_t equals = hint.find(" = ");
    if (equals == std::string_view::npos) return std::nullopt;
    for (const std::string_view ending : {", without quotes", " if that is the unit"})
        if (hint.ends_with(ending)) return hint.substr(equals + 3, hint.size() - ending.size() - equals - 3);
    return std::nullopt;
}

// A unit is named with its number: the number may stand before what the message points at.
std::size_t common_before(std::string_view before, std::string_view word) {
    for (std::size_t length = std::min(before.size(), word.size()); length > 0; --length)
        if (before.substr(before.size() - length) == word.substr(0, length)) return length;
    return 0;
}

}  // namespace

std::optional<Repair> repair_of(const text::Message& message, const text::Sources& sources) {
    if (message.span.source >= sources.size() || message.span.end <= message.span.begin) return std::nullopt;
    const std::string_view bytes = sources.bytes(message.span.source);
    if (message.span.end > bytes.size()) return std::nullopt;
    Repair repair{message.span, {}};
    if (const auto value = whole_value(message.hint)) {
        repair.writes = *value;
        return repair;
    }
    const auto word = suggested(message.hint);
    // a word that was cut or made harmless is not the word
    if (!word || word->find("…") != std::string_view::npos || word->find('\\') != std::string_view::npos)
        return std::nullopt;
    const std::string_view old = bytes.substr(message.span.begin, message.span.end - message.span.begin);
    if (old.front() == '"' || old.front() == '\'') {
        repair.writes = report::toml_value(*word, old);
        return repair;
    }
    repair.span.begin -=
        static_cast<std::uint32_t>(common_before(bytes.substr(0, message.span.begin), *word));
    repair.writes = *word;
    return repair;
}

}  // namespace packproof::serve
