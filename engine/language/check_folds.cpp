#include <fmt/core.h>

#include "engine/language/checker.hpp"

namespace packproof::language {

/// A references field of the item at hand goes before a kind of the same name.
Typed Checker::check_collection(NodeIndex index) {
    const NodeIndex collection = node(index).first;
    if (node(collection).operation == Operation::name) {
        const std::string& name = tree_.texts[node(collection).index];
        const auto member = find_member(kind_, name);
        const auto kind = names_.vocabulary->kind(name);
        if (kind && !(member && member->type.kind == Type::Kind::items)) {
            node(index).kind = *kind;
            node(index).first = no_node;
            Type items;
            items.kind = Type::Kind::items;
            items.kinds = {*kind};
            return items;
        }
    }
    const Typed type = check(collection);
    if (type && type->kind != Type::Kind::items)
        return mistake(collection, fmt::format("'{}' is {}, not a kind or a list of items",
                                               spelling(collection), describe(*type)));
    return type;
}

Typed Checker::check_fold(NodeIndex index) {
    const Typed items = check_collection(index);
    if (!items) return std::nullopt;
    Type item = *items;
    item.kind = Type::Kind::item;
    variables_[node(index).variable] = item;
    bool good = true;
    if (node(index).second != no_node)
        good = want(node(index).second, Type::Kind::truth, "what stands after 'where'").has_value();
    const Typed made = check_fold_body(index, item);
    return good ? made : std::nullopt;
}

/// The members themselves, or what each of them names: an item or a list of items.
Typed Checker::check_those(NodeIndex body, const Type& item) {
    Type items = item;
    if (body != no_node) {
        const Typed named = check(body);
        if (!named) return std::nullopt;
        if (named->kind != Type::Kind::item && named->kind != Type::Kind::items)
            return mistake(body, fmt::format("'{}' is {}, not an item or a list of items", spelling(body),
                                             describe(*named)));
        items = *named;
    }
    items.kind = Type::Kind::items;
    return items;
}

Typed Checker::check_fold_body(NodeIndex index, const Type& item) {
    const NodeIndex body = node(index).third;
    switch (static_cast<Fold>(node(index).index)) {
        case Fold::count:
            return number_type();
        case Fold::the:
            return item;
        case Fold::those:
            return check_those(body, item);
        case Fold::all:
        case Fold::any:
            return want(body, Type::Kind::truth, "what stands after ':'");
        case Fold::minimum:
        case Fold::maximum:
            return want(body, Type::Kind::number, "what stands after ':'");
        case Fold::sum:
            break;
    }
    const Typed type = want(body, Type::Kind::number, "what stands after ':'");
    if (type && type->absolute)
        return mistake(body, "temperatures cannot be summed", "sum differences: 't - 0 °C'");
    return type;
}

}  // namespace packproof::language
