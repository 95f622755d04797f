#include <fmt/core.h>

#include <algorithm>

#include "engine/document/shown.hpp"
#include "engine/model/bounds.hpp"
#include "engine/model/draft.hpp"
#include "engine/text/nearest_name.hpp"

namespace packproof::model {
namespace {

using document::in_quotes;
using document::Node;

std::string joined(const std::vector<std::string>& names) {
    std::string result;
    for (std::size_t i = 0; i < names.size(); ++i) {
        if (i > 0) result += i + 1 == names.size() ? " or " : ", ";
        result += names[i];
    }
    return result;
}

bool allowed(const Field& field, KindIndex kind) {
    return field.kinds.empty() ||
           std::find(field.kinds.begin(), field.kinds.end(), kind) != field.kinds.end();
}

std::string kinds_of(const Draft& draft, const Field& field) {
    std::vector<std::string> names;
    for (KindIndex kind : field.kinds)
        names.push_back(with_article(draft.vocabulary.kinds[kind].name));
    return joined(names);
}

// Items of the right kind are likelier than others.
std::string nearest_id(Draft& draft, std::string_view id, const Field& field) {
    if (!draft.may_suggest()) return {};
    std::vector<std::string_view> fitting;
    std::vector<std::string_view> all;
    for (const Item& item : draft.model.items) {
        all.push_back(item.id);
        if (allowed(field, item.kind)) fitting.push_back(item.id);
    }
    const bool any_fits = !text::nearest_name(id, fitting).empty();
    return draft.suggest(id, any_fits ? fitting : all);
}

void unknown(Draft& draft, const Node& node, std::string_view id, std::string_view point,
             const Field& field) {
    std::string hint;
    // "conductor.main" for the conductor whose id is "main".
    const std::string_view first = point.substr(0, point.find('.'));
    if (draft.vocabulary.kind(id) && !first.empty() && draft.ids.find(first) != no_item)
        hint = fmt::format("an item is named by its id alone: write {}", in_quotes(point));
    else
        hint = nearest_id(draft, id, field);
    draft.messages.error(document::span_inside(draft.sources, node, 0, id.size()),
                         fmt::format("there is no item {}", in_quotes(id)), std::move(hint));
}

bool check_point(Draft& draft, const Node& node, std::string_view id, std::string_view point,
                 const Kind& kind) {
    if (std::find(kind.points.begin(), kind.points.end(), point) != kind.points.end()) return true;
    const std::vector<std::string_view> names(kind.points.begin(), kind.points.end());
    const text::Span span = document::span_inside(draft.sources, node, id.size() + 1, node.text.size());
    std::string hint = draft.suggest(point, names);
    if (hint.empty() && kind.points.empty())
        hint = fmt::format("write {} alone", in_quotes(id));
    else if (hint.empty())
        hint = "its points: " + joined(kind.points);
    draft.messages.error(span,
                         fmt::format("{} is {}, which has no point {}", in_quotes(id),
                                     with_article(kind.name), in_quotes(point)),
                         std::move(hint));
    return false;
}

}  // namespace

bool resolve(Draft& draft, const Node& node, const Field& field, Reference& into) {
    const std::string_view written = draft.keeper().value(node);
    const std::size_t dot = written.find('.');
    const std::string_view id = written.substr(0, dot);
    const std::string_view point =
        dot == std::string_view::npos ? std::string_view() : written.substr(dot + 1);
    const ItemIndex item = draft.ids.find(id);
    if (item == no_item) {
        unknown(draft, node, id, point, field);
        return false;
    }
    const KindIndex kind_index = draft.model.items[item].kind;
    const Kind& kind = draft.vocabulary.kinds[kind_index];
    if (!allowed(field, kind_index)) {
        draft.messages.error(document::span_inside(draft.sources, node, 0, id.size()),
                             fmt::format("{} is {}; {} names {}", in_quotes(id), with_article(kind.name),
                                         field.name, kinds_of(draft, field)));
        return false;
    }
    if (dot != std::string_view::npos && !check_point(draft, node, id, point, kind)) return false;
    into = {item, point};
    return true;
}

ItemIndex resolve_document(Draft& draft, const Node& node) {
    if (!node.is_string()) {
        draft.messages.error(node.span,
                             fmt::format("source names a document, not {}", document::kind_name(node.kind)),
                             "write source = \"DOCUMENT, place\"");
        return no_item;
    }
    std::string_view id = std::string_view(node.text).substr(0, node.text.find(','));
    while (!id.empty() && id.back() == ' ')
        id.remove_suffix(1);
    const ItemIndex item = draft.ids.find(id);
    if (item != no_item && draft.kind_of(item).role == Kind::Role::document) return item;

    std::vector<std::string_view> documents;
    if (draft.may_suggest())
        for (const Item& candidate : draft.model.items)
            if (draft.vocabulary.kinds[candidate.kind].role == Kind::Role::document)
                documents.push_back(candidate.id);
    std::string text = fmt::format("there is no document {}", in_quotes(id));
    if (item != no_item)
        text = fmt::format("{} is {}, not a document", in_quotes(id), with_article(draft.kind_of(item).name));
    std::string hint = draft.suggest(id, documents);
    for (const Kind& kind : draft.vocabulary.kinds)
        if (hint.empty() && kind.role == Kind::Role::document)
            hint = fmt::format("a document is an item of its own: [{}.NAME]", kind.name);
    draft.messages.error(document::span_inside(draft.sources, node, 0, id.size()), std::move(text),
                         std::move(hint));
    return no_item;
}

}  // namespace packproof::model
