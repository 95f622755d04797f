#include "engine/model/draft.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <utility>

#include "engine/document/shown.hpp"
#include "engine/text/nearest_name.hpp"

namespace packproof::model {
namespace {

constexpr std::size_t most_values = 500'000;

}  // namespace

void Ids::build(const std::vector<Item>& items) {
    entries.clear();
    entries.reserve(items.size());
    for (std::size_t i = 0; i < items.size(); ++i)
        if (!items[i].id.empty()) entries.push_back({items[i].id, static_cast<ItemIndex>(i)});
    std::sort(entries.begin(), entries.end(),
              [](const Entry& a, const Entry& b) { return a.id != b.id ? a.id < b.id : a.item < b.item; });
}

ItemIndex Ids::find(std::string_view id) const {
    const auto found =
        std::lower_bound(entries.begin(), entries.end(), id,
                         [](const Entry& entry, std::string_view wanted) { return entry.id < wanted; });
    return found != entries.end() && found->id == id ? found->item : no_item;
}

std::string Draft::suggest(std::string_view name, const std::vector<std::string_view>& candidates) {
    if (!may_suggest()) return {};
    ++suggestions;
    const std::string_view near = text::nearest_name(name, candidates);
    return near.empty() ? std::string() : fmt::format("did you mean {}?", document::in_quotes(near));
}

bool Draft::spend(std::size_t values, text::Span span) {
    const bool before = spent <= most_values;
    spent += values;
    if (spent <= most_values) return true;
    if (before)
        messages.error(span, fmt::format("copies and defaults make more than {} values of this description",
                                         most_values));
    return false;
}

Slot* find_slot(Item& item, FieldIndex field) {
    return const_cast<Slot*>(std::as_const(item).slot(field));
}

}  // namespace packproof::model
