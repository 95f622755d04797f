#include "engine/rules/entry.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "engine/rules/rule_set.hpp"
#include "engine/text/nearest_name.hpp"
#include "engine/text/safe_print.hpp"

namespace packproof::rules {

using document::Node;

text::Span place_of(const Node& node) {
    return node.key_span.source != text::no_source ? node.key_span : node.span;
}

text::Span Entry::place() const {
    return place_of(node_);
}

const Node* Entry::take(std::string_view key) {
    known_.push_back(key);
    return node_.find(key);
}

std::string Entry::text(std::string_view key, bool required) {
    const Node* node = take(key);
    if (node == nullptr) {
        if (required) messages_.error(place(), fmt::format("{} has no `{}`", what_, key));
        return {};
    }
    if (!node->is_string()) {
        error(*node, fmt::format("`{}` must be text, not {}", key, document::kind_name(node->kind)));
        return {};
    }
    if (node->text.empty() && required) error(*node, fmt::format("`{}` is empty", key));
    return node->text;
}

std::optional<bool> Entry::truth(std::string_view key) {
    const Node* node = take(key);
    if (node == nullptr) return std::nullopt;
    if (node->kind != Node::Kind::boolean) {
        error(*node, fmt::format("`{}` must be true or false", key));
        return std::nullopt;
    }
    return node->boolean;
}

std::vector<std::string> Entry::texts(std::string_view key) {
    const Node* node = take(key);
    std::vector<std::string> found;
    if (node == nullptr) return found;
    if (node->is_string()) return {node->text};
    if (!node->is_array()) {
        error(*node, fmt::format("`{}` must be text or a list of texts", key));
        return found;
    }
    for (const Node& element : node->children) {
        if (element.is_string()) {
            found.push_back(element.text);
        } else {
            error(element, fmt::format("`{}` must hold texts only", key));
        }
    }
    return found;
}

std::vector<model::Authority> Entry::authorities(std::string_view key, bool required) {
    const Node* node = take(key);
    std::vector<model::Authority> found;
    if (node == nullptr) {
        if (required) {
            messages_.error(
                place(), fmt::format("{} has no `{}`", what_, key),
                "say where the limit comes from: basis = [{ document = \"...\", clause = \"...\", status "
                "= \"checked\" }]");
        }
        return found;
    }
    if (!node->is_array() || node->children.empty()) {
        error(*node, fmt::format("`{}` must be a list of tables, at least one", key));
        return found;
    }
    for (const Node& element : node->children) {
        if (!element.is_table()) {
            error(element, fmt::format("`{}` must be a list of tables", key));
            continue;
        }
        Entry entry(element, fmt::format("a {} of {}", key, what_), messages_);
        model::Authority authority;
        authority.document = entry.text("document");
        authority.clause = entry.text("clause");
        authority.note = entry.text("note");
        const Node* status = entry.take("status");
        if (status == nullptr) {
            messages_.error(place_of(element), fmt::format("a {} of {} has no `status`", key, what_),
                            "one of \"checked\", \"recalled\", \"common practice\", \"computed\"");
        } else if (status->text == "checked") {
            authority.status = model::Authority::Status::checked;
        } else if (status->text == "recalled") {
            authority.status = model::Authority::Status::recalled;
        } else if (status->text == "common practice") {
            authority.status = model::Authority::Status::common_practice;
        } else if (status->text == "computed") {
            authority.status = model::Authority::Status::computed;
        } else {
            error(*status, fmt::format("unknown status \"{}\"", text::safe_print(status->text)),
                  "one of \"checked\", \"recalled\", \"common practice\", \"computed\"");
        }
        const bool sourced = authority.status == model::Authority::Status::checked ||
                             authority.status == model::Authority::Status::recalled;
        if (sourced && authority.document.empty() && status != nullptr)
            messages_.error(place_of(element), fmt::format("a {} of {} names no `document`", key, what_),
                            "only common practice and what is computed may stand without one");
        entry.finish();
        found.push_back(std::move(authority));
    }
    return found;
}

units::Unit Entry::unit(std::string_view key) {
    const std::string symbol = text(key);
    if (symbol.empty()) return {};
    if (auto unit = units::read_unit(symbol)) return *unit;
    const std::string near = units::nearest_unit(symbol);
    error(*node_.find(key), fmt::format("unknown unit \"{}\"", text::safe_print(symbol)),
          near.empty() ? std::string{} : fmt::format("the nearest is \"{}\"", near));
    return {};
}

void Entry::error(const Node& at, std::string text, std::string hint) {
    messages_.error(at.span.source != text::no_source ? at.span : place_of(at), std::move(text),
                    std::move(hint));
}

void Entry::finish() {
    for (const Node& child : node_.children) {
        if (std::find(known_.begin(), known_.end(), child.key) != known_.end()) continue;
        const std::string_view near = text::nearest_name(child.key, known_);
        messages_.error(place_of(child),
                        fmt::format("unknown key `{}` in {}", text::safe_print(child.key), what_),
                        near.empty() ? std::string{} : fmt::format("the nearest is `{}`", near));
    }
}

}  // namespace packproof::rules
