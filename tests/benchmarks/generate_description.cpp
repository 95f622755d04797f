#include "tests/benchmarks/generate_description.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace packproof::benchmarks {
namespace {

using model::Field;
using model::Kind;

bool is_item_kind(const Kind& kind) {
    return kind.role == Kind::Role::plain && !kind.fields.empty();
}

/// A number in the field's unit that lies inside its physical sense.
double some_number(const Field& field) {
    const auto si = [&](double written) {
        return (written + (field.absolute ? field.unit.offset : 0.0)) * field.unit.factor;
    };
    for (const double written : {12.0, 1.0, 0.5, 100.0, 0.01}) {
        if (si(written) > field.least && si(written) < field.most) return written;
    }
    const double most = std::isfinite(field.most) ? field.most : field.least + 1.0;
    return (field.least + most) / 2.0 / field.unit.factor - (field.absolute ? field.unit.offset : 0.0);
}

/// An item that a reference may name: the one of the same number, of the first kind that will do.
std::string some_item(const model::Vocabulary& vocabulary, const Field& field, std::size_t number) {
    for (const model::KindIndex index : field.kinds) {
        const Kind& kind = vocabulary.kinds[index];
        if (!is_item_kind(kind)) continue;
        if (kind.single) return kind.name;
        return fmt::format("{}-{}", kind.name, number);
    }
    return {};
}

/// The value of a field as TOML; empty if none can be given.
std::string some_value(const model::Vocabulary& vocabulary, const Field& field, std::size_t number) {
    const std::string space = field.unit.symbol.empty() ? "" : " ";
    switch (field.form) {
        case Field::Form::quantity:
            return fmt::format("\"{:.6g}{}{}\"", some_number(field), space, field.unit.symbol);
        case Field::Form::range: {
            const double low = some_number(field);
            return fmt::format("\"{:.6g} .. {:.6g}{}{}\"", low, low * 1.01, space, field.unit.symbol);
        }
        case Field::Form::count:
            return fmt::format("{}", std::max(1L, std::lround(std::ceil(field.least))));
        case Field::Form::truth:
            return "true";
        case Field::Form::text:
            return "\"as drawn\"";
        case Field::Form::choice:
            return field.choices.empty() ? std::string{} : fmt::format("\"{}\"", field.choices.front());
        case Field::Form::date:
            return "2026-01-31";
        case Field::Form::reference:
        case Field::Form::references:
            break;
    }
    const std::string item = some_item(vocabulary, field, number);
    if (item.empty()) return {};
    return field.form == Field::Form::reference ? fmt::format("\"{}\"", item) : fmt::format("[\"{}\"]", item);
}

void write_item(std::string& text, const model::Vocabulary& vocabulary, const Kind& kind, std::size_t number,
                std::size_t fields) {
    text += kind.single ? fmt::format("[{}]\n", kind.name)
                        : fmt::format("[{}.{}-{}]\n", kind.name, kind.name, number);
    std::size_t written = 0;
    for (const Field& field : kind.fields) {
        if (written == fields) break;
        const std::string value = some_value(vocabulary, field, number);
        if (value.empty()) continue;
        text += fmt::format("{} = {}\n", field.name, value);
        ++written;
    }
    text += '\n';
}

}  // namespace

std::string generate_description(const model::Vocabulary& vocabulary, std::size_t items, std::size_t fields) {
    std::string text;
    for (const Kind& kind : vocabulary.kinds) {
        if (is_item_kind(kind) && kind.single) write_item(text, vocabulary, kind, 0, fields);
    }
    for (std::size_t number = 0; number < items; ++number) {
        for (const Kind& kind : vocabulary.kinds) {
            if (is_item_kind(kind) && !kind.single) write_item(text, vocabulary, kind, number, fields);
        }
    }
    return text;
}

std::size_t count_lines(const std::string& text) {
    return static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
}

std::size_t fields_for(const model::Vocabulary& vocabulary, std::size_t lines) {
    std::size_t best = 1;
    const auto distance = [&](std::size_t fields) {
        const std::size_t have = count_lines(generate_description(vocabulary, 1, fields));
        return have > lines ? have - lines : lines - have;
    };
    for (std::size_t fields = 2; fields <= 40; ++fields) {
        if (distance(fields) < distance(best)) best = fields;
    }
    return best;
}

}  // namespace packproof::benchmarks
