#include <fmt/core.h>

#include <algorithm>

#include "engine/document/shown.hpp"
#include "engine/model/draft.hpp"

namespace packproof::model {
namespace {

using document::in_quotes;
using document::Node;

constexpr std::size_t most_items = 2'000;  // rules may look at every pair of items of a kind

bool id_character(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' ||
           c == '_' || c == '+';
}

class Collector {
  public:
    explicit Collector(Draft& draft) : draft_(draft) {}

    void collect() {
        in_parts_ = false;
        root(draft_.description.root);
        // A base is read after what extends it and stands before it, readings and then concessions stand
        // last; within a file the order is the file's.
        const auto late = [this](text::SourceIndex source) {
            if (source == text::no_source) return 0;
            if (source == draft_.description.concessions) return 2;
            return source == draft_.description.readings ? 1 : 0;
        };
        sort_from(0, [late](const Item& a, const Item& b) {
            if (a.span.source == b.span.source) return a.span.begin < b.span.begin;
            const int first = late(a.span.source);
            const int second = late(b.span.source);
            return first != second ? first < second : a.span.source > b.span.source;
        });
        in_parts_ = true;
        for (const Node& part : draft_.description.parts) {
            const std::size_t first = draft_.model.items.size();
            root(part);
            sort_from(first, [](const Item& a, const Item& b) { return a.span.begin < b.span.begin; });
        }
    }

  private:
    void root(const Node& root) {
        std::size_t count = draft_.model.items.size();
        for (const Node& child : root.children)
            count += 1 + child.children.size();
        draft_.model.items.reserve(std::min(count, most_items));
        draft_.written.reserve(std::min(count, most_items));
        for (const Node& child : root.children) {
            const auto kind = draft_.vocabulary.kind(child.key);
            if (kind) check_file(child, *kind);
            if (!kind)
                unknown_kind(child);
            else if (is_known_absence(child, *kind))
                draft_.absent_kinds.push_back(*kind);
            else if (!child.is_table())
                not_a_table(child);
            else
                kind_table(child, *kind);
        }
    }

    // What is built stands in the description itself, and a permission where it is looked for.
    void check_file(const Node& kind_node, KindIndex kind) {
        const bool permits = draft_.vocabulary.kinds[kind].role == Kind::Role::concession;
        const auto stands = [&](const Node& node) {
            const text::SourceIndex source = node.key_span.source;
            if (source == text::no_source) return true;
            const bool in_concessions = source == draft_.description.concessions;
            const bool in_readings = source == draft_.description.readings;
            if (permits ? !in_readings : !in_concessions) return true;
            draft_.messages.error(node.key_span,
                                  fmt::format("{} is {}", in_quotes(node.key),
                                              permits ? "a concession, no reading" : "no concession"),
                                  permits ? "write it into the description or its file of concessions"
                                          : "this file holds concessions; write it into the description");
            return false;
        };
        if (!stands(kind_node)) return;
        for (const Node& item : kind_node.children)
            if (item.is_table()) stands(item);
    }

    // `fixture = "none"`: there is none; `"?"`: nobody knows, which is what saying nothing means.
    bool is_known_absence(const Node& node, KindIndex kind) const {
        return draft_.vocabulary.kinds[kind].single && node.is_string() && node.text == "none";
    }

    void unknown_kind(const Node& node) {
        if (!node.is_table()) {
            for (const Kind& kind : draft_.vocabulary.kinds)
                if (kind.field(node.key)) {
                    draft_.messages.error(node.key_span,
                                          fmt::format("{} stands outside of any item", in_quotes(node.key)),
                                          fmt::format("write it under [{}]", kind.name));
                    return;
                }
        }
        std::vector<std::string_view> names;
        for (const Kind& kind : draft_.vocabulary.kinds)
            names.push_back(kind.name);
        if (!node.is_table()) names.insert(names.end(), {"format", "parts", "extends", "drop"});
        draft_.messages.error(node.key_span,
                              fmt::format("there is no kind of item called {}", in_quotes(node.key)),
                              draft_.suggest(node.key, names));
    }

    void not_a_table(const Node& node) {
        const bool tables = node.is_array() && !node.children.empty() && node.children.front().is_table();
        draft_.messages.error(node.key_span,
                              tables ? fmt::format("items of {} need an id each", node.key)
                                     : fmt::format("{} is a kind of item, not a value", node.key),
                              fmt::format("write [{}.NAME] and its fields under it", node.key));
    }

    // `[kind]` with fields is one item; its tables are items with ids.
    void kind_table(const Node& table, KindIndex index) {
        const Kind& kind = draft_.vocabulary.kinds[index];
        bool own = table.children.empty();
        std::size_t named = 0;
        for (const Node& child : table.children) {
            if (!child.is_table() || child.key == "source") {
                own = true;
            } else if (kind.field(child.key)) {
                const Field& field = kind.fields[*kind.field(child.key)];
                draft_.messages.error(child.key_span,
                                      fmt::format("{} wants {}, not a table", field.name, wanted(field)));
                own = true;
            } else {
                ++named;
                if (kind.single && !in_parts_ && named > 1)
                    draft_.messages.error(child.key_span, fmt::format("there can be only one {}", kind.name),
                                          "take all but one out");
                add(child, index, child.key, false);
            }
        }
        if (own && named > 0)
            draft_.messages.error(
                table.key_span,
                fmt::format("{} has fields of its own and named items; give it an id", kind.name),
                fmt::format("write [{}.NAME] over its own fields", kind.name));
        if (own) add(table, index, kind.name, true);
    }

    void add(const Node& table, KindIndex kind, std::string_view id, bool sole) {
        if (draft_.model.items.size() == most_items) {
            if (!too_many_)
                draft_.messages.error(table.key_span,
                                      fmt::format("more than {} items in one description", most_items));
            too_many_ = true;
        }
        if (too_many_) return;
        if (!sole) check_id(table, kind);
        Item& item = draft_.model.items.emplace_back();
        item.kind = kind;
        item.id = id;
        item.span = table.key_span;
        item.active = !in_parts_;
        Written& written = draft_.written.emplace_back();
        written.table = &table;
        written.sole = sole;
        written.in_parts = in_parts_;
    }

    void check_id(const Node& table, KindIndex kind) {
        const std::string& id = table.key;
        if (id.empty() || !std::all_of(id.begin(), id.end(), id_character)) {
            draft_.messages.error(table.key_span, fmt::format("{} cannot be an id", in_quotes(id)),
                                  "an id has letters A to Z, digits, -, _ and +");
            return;
        }
        const auto other = draft_.vocabulary.kind(id);
        if (other && *other != kind)
            draft_.messages.error(table.key_span,
                                  fmt::format("{} is the name of a kind and cannot be an id", in_quotes(id)));
    }

    template <typename Before>
    void sort_from(std::size_t first, Before before) {
        std::vector<Item>& items = draft_.model.items;
        const auto ordered = [&](std::size_t a, std::size_t b) { return before(items[a], items[b]); };
        std::vector<std::size_t> order(items.size() - first);
        for (std::size_t i = 0; i < order.size(); ++i)
            order[i] = first + i;
        if (std::is_sorted(order.begin(), order.end(), ordered)) return;
        std::stable_sort(order.begin(), order.end(), ordered);
        std::vector<Item> sorted_items;
        std::vector<Written> sorted_written;
        for (std::size_t i : order) {
            sorted_items.push_back(std::move(items[i]));
            sorted_written.push_back(draft_.written[i]);
        }
        const auto offset = static_cast<std::ptrdiff_t>(first);
        std::move(sorted_items.begin(), sorted_items.end(), items.begin() + offset);
        std::move(sorted_written.begin(), sorted_written.end(), draft_.written.begin() + offset);
    }

    Draft& draft_;
    bool in_parts_ = false;
    bool too_many_ = false;
};

void report_repeats(Draft& draft) {
    const auto& entries = draft.ids.entries;
    for (std::size_t i = 1; i < entries.size(); ++i) {
        if (entries[i].id != entries[i - 1].id) continue;
        std::size_t first = i - 1;
        while (first > 0 && entries[first - 1].id == entries[i].id)
            --first;
        const text::Span one = draft.model.items[entries[first].item].span;
        const text::Span two = draft.model.items[entries[i].item].span;
        std::string where = fmt::format("line {}", draft.sources.place(one.source, one.begin).line);
        if (one.source != two.source) where = document::shown(draft.sources.path(one.source)) + ", " + where;
        draft.messages.error(
            two, fmt::format("the id {} stands twice; the first is in {}", in_quotes(entries[i].id), where),
            "ids are unique over the whole description, its parts included");
    }
}

}  // namespace

void collect_items(Draft& draft) {
    Collector(draft).collect();
    draft.ids.build(draft.model.items);
    report_repeats(draft);
}

}  // namespace packproof::model
