#include "engine/document/merge.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <unordered_map>

#include "engine/document/shown.hpp"
#include "engine/text/nearest_name.hpp"

namespace packproof::document {

void merge(Node& base, Node&& over) {
    // By name, because a table may have many members; views stay good because the names outlive the map.
    const std::size_t own = base.children.size();
    base.children.reserve(own + over.children.size());
    std::unordered_map<std::string_view, std::size_t> places;
    for (std::size_t i = 0; i < own; ++i)
        places.emplace(base.children[i].key, i);
    for (Node& child : over.children) {
        const auto found = places.find(child.key);
        if (found == places.end()) {
            base.children.push_back(std::move(child));
            continue;
        }
        Node& old = base.children[found->second];
        if (old.is_table() && child.is_table())
            merge(old, std::move(child));
        else
            old = std::move(child);
    }
}

namespace {

constexpr int most_suggestions = 20;

std::string nearest(const Node& table, std::string_view name) {
    std::vector<std::string_view> names;
    names.reserve(table.children.size());
    for (const Node& child : table.children)
        names.push_back(child.key);
    const std::string_view found = text::nearest_name(name, names);
    return found.empty() ? std::string() : fmt::format("did you mean {}?", in_quotes(found));
}

void drop_member(Node& base, const Node& path, text::Messages& messages, int& suggestions) {
    Node* here = &base;
    std::string_view rest = path.text;
    while (true) {
        const std::size_t dot = rest.find('.');
        const std::string_view name = rest.substr(0, dot);
        const auto found = std::find_if(here->children.begin(), here->children.end(),
                                        [name](const Node& child) { return child.key == name; });
        if (!here->is_table() || found == here->children.end()) {
            messages.error(
                path.span,
                fmt::format("{} is not in the description that this one extends", in_quotes(path.text)),
                suggestions++ < most_suggestions ? nearest(*here, name) : std::string());
            return;
        }
        if (dot == std::string_view::npos) {
            here->children.erase(found);
            return;
        }
        here = &*found;
        rest = rest.substr(dot + 1);
    }
}

}  // namespace

void drop_members(Node& base, const Node& list, text::Messages& messages) {
    if (!list.is_array()) {
        messages.error(list.span,
                       fmt::format("drop is a list of items and fields, not {}", kind_name(list.kind)),
                       "write drop = [\"kind.id\", \"kind.id.field\"]");
        return;
    }
    int suggestions = 0;
    for (const Node& path : list.children) {
        if (path.is_string())
            drop_member(base, path, messages, suggestions);
        else
            messages.error(path.span,
                           fmt::format("an item or field is named by text, not {}", kind_name(path.kind)),
                           "write drop = [\"kind.id\"]");
    }
}

}  // namespace packproof::document
