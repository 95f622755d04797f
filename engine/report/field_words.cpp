#include "engine/report/field_words.hpp"

#include <fmt/format.h>

#include <vector>

namespace packproof::report {

using model::Field;

std::string_view form_name(const Field& field) {
    switch (field.form) {
        case Field::Form::quantity:
            return field.absolute ? "temperature" : "quantity";
        case Field::Form::range:
            return "permitted range";
        case Field::Form::count:
            return "whole number";
        case Field::Form::truth:
            return "true or false";
        case Field::Form::text:
            return "text";
        case Field::Form::choice:
            return "one of";
        case Field::Form::date:
            return "date";
        case Field::Form::reference:
            return "id of";
        case Field::Form::references:
            return "list of ids of";
    }
    return {};
}

std::string form_words(const Field& field, const model::Vocabulary& vocabulary) {
    std::string words(form_name(field));
    const bool measured = field.form == Field::Form::quantity || field.form == Field::Form::range;
    if (measured && !field.unit.symbol.empty()) words += " in " + field.unit.symbol;
    if (field.form == Field::Form::choice) words += fmt::format(": {}", fmt::join(field.choices, ", "));
    std::vector<std::string_view> kinds;
    for (const auto kind : field.kinds)
        kinds.push_back(vocabulary.kinds[kind].name);
    if (!kinds.empty()) words += fmt::format(" {}", fmt::join(kinds, " or "));
    return words;
}

}  // namespace packproof::report
