#include "engine/model/vocabulary.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "engine/model/bounds.hpp"
#include "engine/model/read_field.hpp"

namespace packproof::model {

Type Field::type() const {
    Type result;
    switch (form) {
        case Form::quantity:
        case Form::range:
            result.kind = form == Form::range ? Type::Kind::range : Type::Kind::number;
            result.dimension = unit.dimension;
            result.absolute = absolute;
            break;
        case Form::count:
            result.kind = Type::Kind::number;
            break;
        case Form::truth:
            result.kind = Type::Kind::truth;
            break;
        case Form::text:
        case Form::choice:
        case Form::date:
            result.kind = Type::Kind::text;
            break;
        case Form::reference:
        case Form::references:
            result.kind = form == Form::reference ? Type::Kind::item : Type::Kind::items;
            result.kinds = kinds;
            std::sort(result.kinds.begin(), result.kinds.end());
            break;
    }
    return result;
}

std::optional<FieldIndex> Kind::field(std::string_view wanted) const {
    for (std::size_t i = 0; i < fields.size(); ++i)
        if (fields[i].name == wanted) return static_cast<FieldIndex>(i);
    return std::nullopt;
}

std::optional<KindIndex> Vocabulary::kind(std::string_view wanted) const {
    for (std::size_t i = 0; i < kinds.size(); ++i)
        if (kinds[i].name == wanted) return static_cast<KindIndex>(i);
    return std::nullopt;
}

namespace {

void prepare_field(const Kind& kind, Field& field, text::Messages& messages) {
    field.assumed.reset();
    if (field.assume.empty()) return;
    const auto wrong = [&](const std::string& why, std::string hint) {
        messages.error(field.span, fmt::format("the default of {}.{}: {}", kind.name, field.name, why),
                       std::move(hint));
    };
    auto read = read_text(field.assume, field);
    if (const auto* error = std::get_if<units::ReadError>(&read)) return wrong(error->text, error->hint);
    auto& reading = std::get<Reading>(read);
    if (!is_rate(reading.value, reading.unit, field)) {
        const std::string beyond = keep_within_bounds(reading.value, reading.unit, field, field.assume);
        if (!beyond.empty()) return wrong(beyond, {});
    }
    // Texts point into the vocabulary, which may still grow: they are taken when a model is built.
    if (reading.value.text() == nullptr)
        field.assumed = AssumedValue{std::move(reading.value), std::move(reading.unit)};
}

}  // namespace

void prepare(Vocabulary& vocabulary, text::Messages& messages) {
    for (Kind& kind : vocabulary.kinds)
        for (Field& field : kind.fields)
            prepare_field(kind, field, messages);
}

}  // namespace packproof::model
