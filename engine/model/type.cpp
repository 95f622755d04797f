#include "engine/model/type.hpp"

#include "engine/model/vocabulary.hpp"
#include "engine/units/unit.hpp"

namespace packproof::model {
namespace {

std::string unit_phrase(const Type& type) {
    if (type.absolute) return {};
    if (type.dimension.none()) return {};
    const auto symbols = units::units_of(type.dimension);
    if (!symbols.empty()) return " in " + std::string(symbols.front());
    return " of " + units::dimension_name(type.dimension);
}

std::string kinds_phrase(const Type& type, const Vocabulary& vocabulary) {
    std::string result;
    for (std::size_t i = 0; i < type.kinds.size(); ++i) {
        if (i > 0) result += i + 1 == type.kinds.size() ? " or " : ", ";
        result += vocabulary.kinds[type.kinds[i]].name;
    }
    return result.empty() ? "any kind" : result;
}

}  // namespace

std::string type_name(const Type& type, const Vocabulary& vocabulary) {
    switch (type.kind) {
        case Type::Kind::number:
            return type.absolute ? "a temperature" : "a number" + unit_phrase(type);
        case Type::Kind::range:
            return type.absolute ? "a permitted range of temperature"
                                 : "a permitted range" + unit_phrase(type);
        case Type::Kind::truth:
            return "true or false";
        case Type::Kind::text:
            return "text";
        case Type::Kind::item:
            return "an item of " + kinds_phrase(type, vocabulary);
        case Type::Kind::items:
            return "items of " + kinds_phrase(type, vocabulary);
    }
    return "a value";
}

}  // namespace packproof::model
