#include <fmt/core.h>

#include "engine/language/checker.hpp"
#include "engine/text/nearest_name.hpp"

namespace packproof::language {
namespace {

std::string nearest_hint(std::string_view written, const std::vector<std::string_view>& candidates) {
    const std::string_view nearest = text::nearest_name(written, candidates);
    return nearest.empty() ? std::string{} : fmt::format("nearest is '{}'", nearest);
}

std::string plural(std::size_t count, std::string_view noun) {
    return fmt::format("{} {}{}", count, noun, count == 1 ? "" : "s");
}

}  // namespace

Typed Checker::check_call(NodeIndex index) {
    const auto function = static_cast<Function>(node(index).index);
    if (function <= Function::between) return check_extreme(index);
    const std::string_view whole = spelling(index);
    const std::string_view name = whole.substr(0, whole.find_first_of("( \t\n"));
    const std::size_t count = node(index).list_end - node(index).list_begin;
    if (count != 1) return mistake(index, fmt::format("{} takes one value, not {}", name, count));
    const NodeIndex argument = tree_.arguments[node(index).list_begin];
    const std::string role = fmt::format("what {} takes", name);
    const bool of_range =
        function == Function::lower || function == Function::upper || function == Function::middle;
    const bool of_item = function == Function::point || function == Function::position;
    const bool of_items = function == Function::first_of || function == Function::last_of;
    const Typed type = want(argument,
                            of_range   ? Type::Kind::range
                            : of_items ? Type::Kind::items
                            : of_item  ? Type::Kind::item
                                       : Type::Kind::number,
                            role);
    if (!type) return std::nullopt;
    switch (function) {
        case Function::point:
            if (node(argument).operation != Operation::field)
                return mistake(argument, "point takes a field that is a reference");
            return text_type();
        case Function::position:
            return number_type();
        case Function::first_of:
        case Function::last_of: {
            Type item;
            item.kind = Type::Kind::item;
            item.kinds = type->kinds;
            return item;
        }
        case Function::lower:
        case Function::upper:
        case Function::middle:
        case Function::nominal:
        case Function::least:
        case Function::most:
            return number_type(type->dimension, type->absolute);
        default:
            break;
    }
    if (type->absolute)
        return mistake(argument, fmt::format("{} must be a difference, not a temperature", role),
                       "write 't - 0 °C'");
    if (function == Function::absolute) return type;
    if (function == Function::square_root) {
        if (!type->dimension.is_square())
            return mistake(argument,
                           fmt::format("{} has no square root in whole dimensions", describe(*type)));
        return number_type(type->dimension.root());
    }
    if (!type->dimension.none())
        return mistake(argument, fmt::format("{} must be a plain number, not {}", role, describe(*type)),
                       "divide by a value in the unit that you mean");
    return number_type();
}

Typed Checker::check_extreme(NodeIndex index) {
    const bool between = static_cast<Function>(node(index).index) == Function::between;
    const std::string_view name = spelling(index).substr(0, between ? 7 : 3);
    const std::uint32_t begin = node(index).list_begin;
    const std::uint32_t end = node(index).list_end;
    if (between && end - begin != 2)
        return mistake(index, fmt::format("between takes two values, not {}", end - begin));
    if (end - begin < 2)
        return mistake(index, fmt::format("{} takes at least two values", name),
                       fmt::format("or write {}(items as x : value)", name));
    Typed joined;
    NodeIndex joined_by = no_node;
    bool good = true;
    for (std::uint32_t i = begin; i < end; ++i) {
        const NodeIndex argument = tree_.arguments[i];
        Typed type = want(argument, Type::Kind::number, fmt::format("what {} takes", name));
        good = good && type.has_value();
        if (!good) continue;
        // A temperature literal that stands first follows what comes after.
        if (joined && joined->dimension == type->dimension) settle(joined_by, *joined, argument, *type);
        if (joined && !(*joined == *type)) {
            mistake(argument,
                    fmt::format("{} compares {} with {}", name, describe(*joined), describe(*type)));
            good = false;
        }
        if (!joined || !adaptable(argument)) {
            joined = type;
            joined_by = argument;
        }
    }
    return good ? joined : std::nullopt;
}

std::optional<std::uint32_t> Checker::find_table(NodeIndex name) {
    const std::string& written = tree_.texts[node(name).index];
    std::vector<std::string_view> candidates;
    for (std::size_t i = 0; i < names_.tables.size(); ++i) {
        if (names_.tables[i].name == written) return static_cast<std::uint32_t>(i);
        candidates.push_back(names_.tables[i].name);
    }
    mistake(name, fmt::format("unknown table '{}'", written), nearest_hint(written, candidates));
    return std::nullopt;
}

bool Checker::check_key(NodeIndex key, const Type& wanted, std::string_view name) {
    Typed type = check(key);
    if (!type) return false;
    if (type->kind == Type::Kind::number && wanted.kind == Type::Kind::number &&
        type->dimension == wanted.dimension)
        adapt(key, *type, wanted.absolute);
    if (*type == wanted) return true;
    mistake(key, fmt::format("{} must be {}, not {}", name, describe(wanted), describe(*type)));
    return false;
}

Typed Checker::check_lookup(NodeIndex index) {
    const NodeIndex table_name = node(index).first;
    const NodeIndex column_name = node(index).second;
    const auto found = find_table(table_name);
    if (!found) {
        for (std::uint32_t i = node(index).list_begin; i < node(index).list_end; ++i)
            check(tree_.arguments[i]);
        return std::nullopt;
    }
    const TableName& table = names_.tables[*found];
    const std::string& written = tree_.texts[node(column_name).index];
    std::size_t column = 0;
    while (column < table.column_names.size() && table.column_names[column] != written)
        ++column;
    bool good = column < table.column_names.size();
    if (!good) {
        const std::vector<std::string_view> candidates(table.column_names.begin(), table.column_names.end());
        mistake(column_name, fmt::format("unknown column '{}' of table {}", written, table.name),
                nearest_hint(written, candidates));
    }
    const std::size_t given = node(index).list_end - node(index).list_begin;
    if (given != table.keys.size()) {
        std::string list;
        for (const std::string& key : table.key_names)
            list += (list.empty() ? "" : ", ") + key;
        mistake(index,
                fmt::format("table {} takes {}, not {}", table.name, plural(table.keys.size(), "key"), given),
                fmt::format("its keys are {}", list));
        good = false;
    }
    for (std::size_t i = 0; i < given; ++i) {
        const NodeIndex key = tree_.arguments[node(index).list_begin + i];
        if (i < table.keys.size())
            good = check_key(key, table.keys[i],
                             fmt::format("key {} of table {}", table.key_names[i], table.name)) &&
                   good;
        else
            good = check(key).has_value() && good;
    }
    if (!good) return std::nullopt;
    Node& made = node(index);
    made.index = *found;
    made.column = static_cast<std::uint8_t>(column);
    made.first = made.second = no_node;
    return table.columns[column];
}

Typed Checker::check_next(NodeIndex index) {
    const NodeIndex series_name = node(index).second;
    const NodeIndex value = node(index).first;
    const auto found = find_table(series_name);
    if (!found) {
        check(value);
        return std::nullopt;
    }
    const TableName& table = names_.tables[*found];
    if (table.keys.size() != 1 || table.keys[0].kind != Type::Kind::number)
        return mistake(series_name,
                       fmt::format("table {} is not a series: it needs one key, a number", table.name));
    if (!check_key(value, table.keys[0], fmt::format("a value of series {}", table.name)))
        return std::nullopt;
    node(index).index = *found;
    node(index).second = no_node;
    return table.keys[0];
}

}  // namespace packproof::language
