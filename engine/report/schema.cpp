#include "engine/report/schema.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "engine/model/measurements.hpp"
#include "engine/report/json_text.hpp"

namespace packproof::report {

namespace {

using model::Field;
using model::Kind;
using model::Vocabulary;
using Json = nlohmann::ordered_json;

// Patterns keep to what ECMA-262 and RE2 both know.
constexpr std::string_view id_pattern = "^[A-Za-z0-9_+-]+$";
constexpr std::string_view reference_pattern = "^(\\?|[A-Za-z0-9_+-]+(\\.[^.]+)?)$";
constexpr std::string_view open_pattern = "^(\\?|none)$";
constexpr std::string_view date_pattern = "^(\\?|none|[0-9]{4}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01]))$";
// A number somewhere, a sign of a unit behind or before it, and no comma: "12 ± 0.2 mm", "AWG 4".
constexpr std::string_view unit_pattern =
    "^(\\?|none|[^,]*[0-9][^,]*[^0-9eE\\s.,()+~<>=/±−-][^,]*|[^,]*[^0-9eE\\s.,()+~<>=/±−-][^,]*[0-9][^,]*)$";
constexpr std::string_view number_pattern = "^(\\?|none|[^,]*[0-9][^,]*)$";
constexpr std::string_view value_of_claim = "value";

Json text_of(std::string_view pattern) {
    return Json{{"type", "string"}, {"pattern", pattern}};
}

Json reference_to(const std::string& definition) {
    return Json{{"$ref", "#/definitions/" + definition}};
}

std::string kinds_words(const Field& field, const Vocabulary& vocabulary) {
    std::vector<std::string_view> names;
    for (const auto kind : field.kinds)
        names.push_back(vocabulary.kinds[kind].name);
    return fmt::format("{}", fmt::join(names, " or "));
}

void bound(Json& json, const Field& field) {
    if (std::isfinite(field.least)) json[field.least_open ? "exclusiveMinimum" : "minimum"] = field.least;
    if (std::isfinite(field.most)) json["maximum"] = field.most;
}

Json number(const Field& field) {
    const bool range = field.form == Field::Form::range;
    const std::string& unit = field.unit.symbol;
    if (!unit.empty()) {
        Json json = text_of(unit_pattern);
        json["examples"] = {fmt::format("{} {}", range ? "1 .. 2" : "1", unit), "?", "none"};
        return json;
    }
    Json json{{"type", {"number", "string"}}, {"pattern", number_pattern}};
    bound(json, field);
    if (range) json["examples"] = {"1 .. 2", "?", "none"};
    return json;
}

Json choice(const Field& field) {
    Json words = Json::array();
    for (const std::string& word : field.choices)
        words.push_back(word);
    for (const std::string_view word : {"?", "none"})
        if (std::find(field.choices.begin(), field.choices.end(), word) == field.choices.end())
            words.push_back(word);
    return Json{{"type", "string"}, {"enum", std::move(words)}};
}

Json form_of(const Field& field) {
    switch (field.form) {
        case Field::Form::quantity:
        case Field::Form::range:
            return number(field);
        case Field::Form::count: {
            Json json{{"type", {"integer", "string"}}, {"pattern", open_pattern}};
            bound(json, field);
            return json;
        }
        case Field::Form::truth:
            return Json{{"type", {"boolean", "string"}}, {"pattern", open_pattern}};
        case Field::Form::text:
            return Json{{"type", "string"}};
        case Field::Form::choice:
            return choice(field);
        case Field::Form::date: {
            Json json = text_of(date_pattern);
            json["examples"] = {"2026-01-31", "?"};
            return json;
        }
        case Field::Form::reference:
            return text_of(reference_pattern);
        case Field::Form::references:
            return Json{{"type", {"array", "string"}},
                        {"pattern", reference_pattern},
                        {"items", text_of(reference_pattern)}};
    }
    return Json::object();
}

// What a claim or readings say is read as the field that they speak of, which a schema cannot follow.
bool speaks_of_another(const Kind& kind, const Field& field) {
    return (kind.role == Kind::Role::claim && field.name == value_of_claim) ||
           (kind.role == Kind::Role::measurement && field.name == model::readings_field);
}

Json field_definition(const Kind& kind, const Field& field, const Vocabulary& vocabulary) {
    Json json = speaks_of_another(kind, field) ? Json{{"type", {"string", "number", "boolean", "array"}}}
                                               : form_of(field);
    std::string about = field.about;
    if (!field.kinds.empty()) about += fmt::format("; id of {}", kinds_words(field, vocabulary));
    if (!field.assume.empty()) about += fmt::format("; assumed if not stated: {}", field.assume);
    json["description"] = about;
    return json;
}

bool starts_from_another(const Kind& kind) {
    return kind.role != Kind::Role::claim && kind.role != Kind::Role::measurement;
}

constexpr std::string_view like_about = "id of an item of the same kind that this one starts from";
constexpr std::string_view part_about = "id of an item of a parts file that this one starts from";

Json named(std::string_view about) {
    Json json = text_of(id_pattern);
    json["description"] = about;
    return json;
}

// Of every field of its own, or one for all.
Json source_of(const Kind& kind) {
    Json fields = Json::object();
    for (const Field& field : kind.fields)
        fields[field.name] = Json{{"type", "string"}};
    return Json{
        {"type", {"string", "object"}},
        {"description", "document that states the values: \"ID, place\"; or a table of one for each field"},
        {"properties", std::move(fields)},
        {"additionalProperties", false}};
}

Json properties_of(const Kind& kind) {
    Json properties = Json::object();
    for (const Field& field : kind.fields)
        if (field.name != "source") properties[field.name] = reference_to(kind.name + "." + field.name);
    properties["source"] = reference_to(kind.name + ".source");
    return properties;
}

Json item(const Kind& kind) {
    Json properties = properties_of(kind);
    if (starts_from_another(kind)) {
        properties["like"] = named(like_about);
        properties["part"] = named(part_about);
    }
    return Json{{"type", "object"},
                {"description", kind.about},
                {"properties", std::move(properties)},
                {"additionalProperties", false}};
}

// [kind] with fields of its own, or [kind.ID]: what is not one of its fields is an item. Only `like` and
// `part` may be either.
Json table_of(const Kind& kind) {
    Json properties = properties_of(kind);
    const Json an_item = reference_to(kind.name + ".ID");
    if (starts_from_another(kind)) {
        properties["like"] = Json{{"anyOf", {named(like_about), an_item}}};
        properties["part"] = Json{{"anyOf", {named(part_about), an_item}}};
    }
    Json json{{"type", "object"}};
    if (kind.single) json = Json{{"type", {"object", "string"}}, {"pattern", "^none$"}};
    json["description"] = kind.about;
    json["propertyNames"] = Json{{"pattern", id_pattern}};
    json["properties"] = std::move(properties);
    json["additionalProperties"] = an_item;
    return json;
}

Json texts(std::string_view about) {
    return Json{{"type", "array"}, {"items", {{"type", "string"}}}, {"description", about}};
}

Json top_level() {
    Json parts = texts("files of parts, below the folder of the description");
    parts["type"] = {"array", "string"};
    return Json{
        {"format", {{"type", "integer"}, {"enum", {1}}, {"description", "form of the description"}}},
        {"parts", std::move(parts)},
        {"extends", {{"type", "string"}, {"description", "the description that this one is a variant of"}}},
        {"drop", texts("what of it is left out: \"kind.id\" or \"kind.id.field\"")}};
}

}  // namespace

std::string print_schema(const Vocabulary& vocabulary) {
    Json properties = top_level();
    Json definitions = Json::object();
    for (const Kind& kind : vocabulary.kinds) {
        properties[kind.name] = table_of(kind);
        definitions[kind.name + ".ID"] = item(kind);
        for (const Field& field : kind.fields)
            if (field.name != "source")
                definitions[kind.name + "." + field.name] = field_definition(kind, field, vocabulary);
        definitions[kind.name + ".source"] = source_of(kind);
    }
    const Json schema{{"$schema", "http://json-schema.org/draft-07/schema#"},
                      {"title", "packproof description"},
                      {"type", "object"},
                      {"properties", std::move(properties)},
                      {"additionalProperties", false},
                      {"definitions", std::move(definitions)}};
    return escape_invisible(schema.dump(1, ' ', false, Json::error_handler_t::replace)) + "\n";
}

}  // namespace packproof::report
