#include "engine/inspect/spoken.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>

#include "engine/inspect/label.hpp"

namespace packproof::inspect {

using model::Field;
using model::ItemIndex;
using model::Model;

std::string spoken(std::string name) {
    std::replace(name.begin(), name.end(), '_', ' ');
    return name;
}

std::string item_spoken(const Model& model, ItemIndex item) {
    const std::string kind = spoken(model.kind_of(item).name);
    const std::string label = item_label(model, item);
    if (label == model.kind_of(item).name) return "the " + kind;
    return fmt::format("{} ({})", label, kind);
}

std::string items_spoken(const Model& model, const std::vector<ItemIndex>& items) {
    if (items.size() == 1) return item_spoken(model, items.front());
    std::vector<std::string> labels;
    labels.reserve(items.size());
    for (const ItemIndex item : items)
        labels.push_back(item_label(model, item));
    return fmt::format("{} ({})", fmt::join(labels, ", "), spoken(model.kind_of(items.front()).name));
}

std::string about_spoken(const Field& field) {
    std::string words = field.about;
    for (std::size_t at = words.find("; \"none\""); at != std::string::npos; at = words.find("; \"none\"")) {
        const std::size_t end = words.find(';', at + 1);
        words.erase(at, end == std::string::npos ? std::string::npos : end - at);
    }
    return words;
}

std::string value_question(const Field& field, std::size_t items) {
    constexpr std::string_view condition = "true if ";
    if (field.form == Field::Form::truth && field.about.starts_with(condition))
        return fmt::format("Please say {}whether {}.", items == 1 ? "" : "of each ",
                           std::string_view(field.about).substr(condition.size()));
    return fmt::format("Please state {} {}: {}.", items == 1 ? "its" : "for each the", spoken(field.name),
                       about_spoken(field));
}

}  // namespace packproof::inspect
