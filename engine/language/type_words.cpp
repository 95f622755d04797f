#include <fmt/core.h>

#include <algorithm>

#include "engine/language/checker.hpp"

namespace packproof::language {
namespace {

std::string with_article(std::string_view noun) {
    const bool vowel = std::string_view("aeiou").find(noun.front()) != std::string_view::npos;
    return fmt::format("{} {}", vowel ? "an" : "a", noun);
}

std::string describe_number(const Type& type) {
    if (type.dimension.none()) return "a plain number";
    units::Dimension kelvin;
    kelvin.exponent[units::Dimension::temperature] = 1;
    if (type.dimension == kelvin) return type.absolute ? "a temperature" : "a temperature difference";
    const std::string name = units::dimension_name(type.dimension);
    const bool words = !name.empty() && std::all_of(name.begin(), name.end(), [](char c) {
        return (c >= 'a' && c <= 'z') || c == ' ' || c == '-' || c == ',' || c == '(' || c == ')';
    });
    return words ? with_article(name) : fmt::format("a quantity in {}", name);
}

std::string list_kinds(const Type& type, const model::Vocabulary& vocabulary) {
    std::string list;
    for (std::size_t i = 0; i < type.kinds.size(); ++i) {
        if (i > 0) list += i + 1 == type.kinds.size() ? " or " : ", ";
        list += vocabulary.kinds[type.kinds[i]].name;
    }
    return list;
}

}  // namespace

std::string describe_type(const Type& type, const model::Vocabulary& vocabulary) {
    switch (type.kind) {
        case Type::Kind::number:
            return describe_number(type);
        case Type::Kind::range:
            return fmt::format("a permitted range of {}", describe_number(type));
        case Type::Kind::truth:
            return "a condition";
        case Type::Kind::text:
            return "text";
        case Type::Kind::item:
            return fmt::format("an item of {}", list_kinds(type, vocabulary));
        case Type::Kind::items:
            return fmt::format("a list of {}", list_kinds(type, vocabulary));
    }
    return {};
}

}  // namespace packproof::language
