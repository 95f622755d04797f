#include "engine/document/readings_file.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "engine/document/shown.hpp"

namespace packproof::document {
namespace {

constexpr std::string_view toml_ending = ".toml";
constexpr std::string_view readings_ending = ".readings.toml";
constexpr std::string_view concessions_ending = ".concessions.toml";

std::optional<std::string> beside(std::string_view path, std::string_view ending) {
    if (is_beside_file(path) || !path.ends_with(toml_ending)) return std::nullopt;
    return std::string(path.substr(0, path.size() - toml_ending.size())) + std::string(ending);
}

Node* member(Node& table, std::string_view key) {
    const auto found = std::find_if(table.children.begin(), table.children.end(),
                                    [key](const Node& child) { return child.key == key; });
    return found == table.children.end() ? nullptr : &*found;
}

// `[kind]` with fields of its own is an item, not only the head of items.
bool is_item(const Node& kind) {
    const auto is_field = [](const Node& child) { return !child.is_table() || child.key == "source"; };
    return kind.children.empty() || std::any_of(kind.children.begin(), kind.children.end(), is_field);
}

class Joining {
  public:
    Joining(const text::Sources& sources, text::Messages& messages)
        : sources_(sources), messages_(messages) {}

    void join(Node& root, Node&& readings) {
        for (Node& kind : readings.children) {
            Node* own = member(root, kind.key);
            if (own == nullptr)
                root.children.push_back(std::move(kind));
            else if (!own->is_table() || !kind.is_table() || (is_item(*own) && is_item(kind)))
                twice(kind, *own);
            else
                join_items(*own, std::move(kind));
        }
    }

  private:
    void join_items(Node& own, Node&& kind) {
        for (Node& item : kind.children) {
            const Node* other = member(own, item.key);
            if (other == nullptr)
                own.children.push_back(std::move(item));
            else
                twice(item, *other);
        }
    }

    void twice(const Node& here, const Node& there) {
        const text::Span place = there.key_span;
        std::string where = "the description beside it";
        if (place.source != text::no_source)
            where = fmt::format("{}, line {}", shown(sources_.path(place.source)),
                                sources_.place(place.source, place.begin).line);
        messages_.error(here.key_span, fmt::format("{} stands in {} too", in_quotes(here.key), where),
                        is_concessions_file(sources_.path(here.key_span.source))
                            ? "this file adds concessions; what the description states stays there"
                            : "readings add items; what the description states stays there");
    }

    const text::Sources& sources_;
    text::Messages& messages_;
};

}  // namespace

bool is_readings_file(std::string_view path) {
    return path.ends_with(readings_ending);
}

std::optional<std::string> readings_file_of(std::string_view path) {
    return beside(path, readings_ending);
}

bool is_concessions_file(std::string_view path) {
    return path.ends_with(concessions_ending);
}

std::optional<std::string> concessions_file_of(std::string_view path) {
    return beside(path, concessions_ending);
}

bool is_beside_file(std::string_view path) {
    return is_readings_file(path) || is_concessions_file(path);
}

void join_readings(Node& root, Node&& readings, const text::Sources& sources, text::Messages& messages) {
    Joining(sources, messages).join(root, std::move(readings));
}

}  // namespace packproof::document
