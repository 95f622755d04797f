// What an editor is told, with places as it counts them: plain data, turned into JSON in protocol.cpp.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "engine/serve/position.hpp"

namespace packproof::serve {

struct Location {
    std::string uri;
    Extent extent;
    friend bool operator==(const Location&, const Location&) = default;
};

/// One change of a text that would clear something.
struct Fix {
    std::string title;
    Location at;
    std::string writes;
    friend bool operator==(const Fix&, const Fix&) = default;
};

enum class Severity : std::uint8_t { error = 1, warning = 2, information = 3, hint = 4 };  // LSP 3.17

struct Related {
    Location at;
    std::string text;
    friend bool operator==(const Related&, const Related&) = default;
};

struct Told {
    Location at;
    Severity severity = Severity::error;
    std::string code;     ///< the rule's name, or "input"
    std::string message;  ///< harmless plain text
    std::vector<Related> related;
    std::vector<std::string> remedies;  ///< in words: also those that no change of the text can express
    std::vector<Fix> fixes;
    friend bool operator==(const Told&, const Told&) = default;
};

struct Publication {
    std::string uri;
    std::optional<std::int64_t> version;
    std::vector<Told> told;
};

struct Hover {
    std::string markdown;
    Extent extent;
};

struct Suggestion {
    enum class Kind : std::uint8_t {
        field = 5,
        unit = 11,
        value = 12,
        choice = 20,
        reference = 18,
        name = 6
    };
    std::string label;
    std::string detail;
    Kind kind = Kind::value;  // CompletionItemKind, LSP 3.17
    Extent replaces;
    std::string writes;
};

}  // namespace packproof::serve
