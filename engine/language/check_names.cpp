#include <fmt/core.h>

#include <algorithm>

#include "engine/language/checker.hpp"
#include "engine/text/nearest_name.hpp"

namespace packproof::language {
namespace {

std::string nearest_hint(std::string_view written, std::span<const std::string_view> candidates) {
    const std::string_view nearest = text::nearest_name(written, candidates);
    return nearest.empty() ? std::string{} : fmt::format("nearest is '{}'", nearest);
}

}  // namespace

std::vector<model::KindIndex> join_kinds(std::vector<model::KindIndex> a,
                                         const std::vector<model::KindIndex>& b) {
    a.insert(a.end(), b.begin(), b.end());
    std::sort(a.begin(), a.end());
    a.erase(std::unique(a.begin(), a.end()), a.end());
    return a;
}

const std::string& Checker::kind_name(model::KindIndex kind) const {
    return names_.vocabulary->kinds[kind].name;
}

std::optional<Checker::Found> Checker::find_member(model::KindIndex kind, std::string_view name) const {
    const model::Kind& declared = names_.vocabulary->kinds[kind];
    for (std::size_t i = 0; i < declared.fields.size(); ++i)
        if (declared.fields[i].name == name)
            return Found{{kind, static_cast<std::uint16_t>(i)}, false, declared.fields[i].type()};
    for (std::size_t i = 0; i < names_.quantities.size(); ++i)
        if (names_.quantities[i].kind == kind && names_.quantities[i].name == name)
            return Found{{kind, static_cast<std::uint16_t>(i)}, true, names_.quantities[i].type};
    return std::nullopt;
}

std::vector<std::string_view> Checker::member_names(model::KindIndex kind) const {
    std::vector<std::string_view> all;
    for (const model::Field& field : names_.vocabulary->kinds[kind].fields)
        all.push_back(field.name);
    for (const QuantityName& quantity : names_.quantities)
        if (quantity.kind == kind) all.push_back(quantity.name);
    return all;
}

Typed Checker::check_name(NodeIndex index) {
    const std::string name = tree_.texts[node(index).index];
    if (find_member(kind_, name)) {
        const Typed owner = check(node(index).first);
        return resolve_member(index, *owner, name, node(index).begin);
    }
    if (names_.vocabulary->kind(name)) return check_single_item(index);
    std::vector<std::string_view> candidates = member_names(kind_);
    for (const model::Kind& kind : names_.vocabulary->kinds)
        if (kind.single) candidates.push_back(kind.name);
    return mistake(index, fmt::format("unknown field '{}' of {}", name, kind_name(kind_)),
                   nearest_hint(name, candidates));
}

Typed Checker::check_single_item(NodeIndex index) {
    const model::KindIndex kind = *names_.vocabulary->kind(tree_.texts[node(index).index]);
    const std::string& name = kind_name(kind);
    if (kind == kind_) {
        node(index).operation = Operation::this_item;
    } else if (names_.vocabulary->kinds[kind].single) {
        node(index).operation = Operation::single_item;
        node(index).index = kind;
    } else {
        return mistake(index, fmt::format("'{}' is a kind of which there may be many items", name),
                       fmt::format("name one by a reference, or use count, sum, any … over '{} as x'", name));
    }
    node(index).first = no_node;
    Type type;
    type.kind = Type::Kind::item;
    type.kinds = {kind};
    return type;
}

Typed Checker::check_member(NodeIndex index) {
    const Typed owner = check(node(index).first);
    if (!owner) return std::nullopt;
    const std::string name = tree_.texts[node(index).index];
    const std::size_t begin = node(index).end - name.size();
    if (owner->kind == Type::Kind::items) {
        mistakes_.push_back({begin, node(index).end,
                             fmt::format("'{}' is a list: its items have '{}', not the list",
                                         spelling(node(index).first), name),
                             "use sum, min, max, all, any or the over it"});
        return std::nullopt;
    }
    if (owner->kind != Type::Kind::item) {
        mistakes_.push_back(
            {begin,
             node(index).end,
             fmt::format("'{}' is {} and has no fields", spelling(node(index).first), describe(*owner)),
             {}});
        return std::nullopt;
    }
    return resolve_member(index, *owner, name, begin);
}

Typed Checker::resolve_member(NodeIndex index, const Type& owner, std::string_view name, std::size_t begin) {
    const auto wrong = [&](std::string text, std::string hint) {
        mistakes_.push_back({begin, node(index).end, std::move(text), std::move(hint)});
        return std::nullopt;
    };
    std::vector<Member> fields;
    std::vector<Member> quantities;
    Typed type;
    for (const model::KindIndex kind : owner.kinds) {
        const auto found = find_member(kind, name);
        if (!found) {
            std::string hint = nearest_hint(name, member_names(kind));
            if (hint.empty() && owner.kinds.size() > 1)
                hint = fmt::format("it may be {}: each needs the field", describe(owner));
            return wrong(fmt::format("unknown field '{}' of {}", name, kind_name(kind)), std::move(hint));
        }
        Type found_type = found->type;
        if (type && found_type.kind == type->kind && type->kind >= Type::Kind::item) {
            found_type.kinds = join_kinds(std::move(found_type.kinds), type->kinds);
        } else if (type && !(*type == found_type)) {
            return wrong(fmt::format("'{}' is {} on {}, but {} on {}", name, describe(*type),
                                     kind_name(owner.kinds.front()), describe(found_type), kind_name(kind)),
                         "a member must have one type on every kind that the reference may be");
        }
        type = found_type;
        (found->derived ? quantities : fields).push_back(found->member);
    }
    if (!type) return wrong(fmt::format("'{}' cannot be reached: the reference may be no kind", name), {});
    Node& made = node(index);
    made.operation = fields.empty() ? Operation::quantity : Operation::field;
    made.index = static_cast<std::uint32_t>(fields.size());
    made.list_begin = static_cast<std::uint32_t>(tree_.members.size());
    tree_.members.insert(tree_.members.end(), fields.begin(), fields.end());
    tree_.members.insert(tree_.members.end(), quantities.begin(), quantities.end());
    made.list_end = static_cast<std::uint32_t>(tree_.members.size());
    return type;
}

}  // namespace packproof::language
