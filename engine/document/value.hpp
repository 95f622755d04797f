// A TOML file as a tree of located values, in source order. Nothing here knows what the keys mean.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "engine/text/source.hpp"

namespace packproof::document {

struct Node {
    enum class Kind : std::uint8_t { table, array, string, integer, real, boolean, date };

    Kind kind = Kind::table;
    text::Span span;      ///< the value as written (a string with its quotes; a table: its header or braces)
    text::Span key_span;  ///< the key as written; empty for the root and for array elements
    std::string key;
    std::string text;  ///< string: its value; date: as written
    std::int64_t integer = 0;
    double real = 0.0;
    bool boolean = false;
    std::vector<Node> children;  ///< table: members in source order; array: elements

    [[nodiscard]] const Node* find(std::string_view name) const;
    [[nodiscard]] bool is_table() const { return kind == Kind::table; }
    [[nodiscard]] bool is_array() const { return kind == Kind::array; }
    [[nodiscard]] bool is_string() const { return kind == Kind::string; }
};

/// "a table", "a whole number", "text" …
[[nodiscard]] std::string_view kind_name(Node::Kind kind);

/// The source span of bytes [begin, end) of a string node's value, escapes and multi-line quotes counted.
[[nodiscard]] text::Span span_inside(const text::Sources& sources, const Node& string_node, std::size_t begin,
                                     std::size_t end);

}  // namespace packproof::document
