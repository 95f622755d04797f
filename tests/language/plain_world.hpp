// One item with plain number fields a, b, c and d, for tests of arithmetic alone.
#pragma once

#include <doctest/doctest.h>

#include <limits>
#include <optional>
#include <string_view>

#include "engine/language/check.hpp"
#include "engine/language/evaluate.hpp"
#include "engine/language/parse.hpp"

namespace packproof::language {

struct PlainWorld {
    model::Vocabulary vocabulary;
    model::Model model;

    PlainWorld() {
        model::Kind kind;
        kind.name = "thing";
        for (const char* name : {"a", "b", "c", "d"}) {
            model::Field field;
            field.name = name;
            field.least = -std::numeric_limits<double>::infinity();
            field.most = std::numeric_limits<double>::infinity();
            kind.fields.push_back(field);
        }
        vocabulary.kinds.push_back(kind);
        model.vocabulary = &vocabulary;
        model.of_kind = {{0}};
        model::Item item;
        item.id = "thing";
        model.items.push_back(item);
    }
    PlainWorld(const PlainWorld&) = delete;
    PlainWorld& operator=(const PlainWorld&) = delete;

    static model::Value number(units::Interval range) {
        return {model::Number{range, range.low + (range.high - range.low) / 2.0, {}}, {}};
    }

    /// The fields from a on, in order; one without a range is not stated.
    void set(const std::vector<std::optional<units::Interval>>& ranges) {
        model.items[0].slots.clear();
        for (std::size_t i = 0; i < ranges.size(); ++i) {
            if (!ranges[i]) continue;
            model::Slot slot;
            slot.field = static_cast<model::FieldIndex>(i);
            slot.value = number(*ranges[i]);
            model.items[0].slots.push_back(slot);
        }
    }

    /// Field `i` as a default of the vocabulary would leave it; it must be set.
    void make_assumed(std::size_t i) {
        for (model::Slot& slot : model.items[0].slots)
            if (slot.field == i) slot.origin = model::Origin::assumed;
    }

    /// Field `i`, not set, as "?" leaves it.
    void ask_for(std::size_t i) {
        model::Slot slot;
        slot.field = static_cast<model::FieldIndex>(i);
        slot.state = model::Slot::State::asked;
        model.items[0].slots.push_back(slot);
    }

    [[nodiscard]] std::optional<Expression> compile(std::string_view text,
                                                    std::vector<Mistake>& mistakes) const {
        auto tree = parse(text, mistakes);
        if (!tree || !check(*tree, 0, {&vocabulary, {}, {}}, mistakes)) return std::nullopt;
        return tree;
    }
    [[nodiscard]] Expression compile(std::string_view text) const {
        std::vector<Mistake> mistakes;
        auto tree = compile(text, mistakes);
        REQUIRE_MESSAGE(tree.has_value(), text);
        return std::move(*tree);
    }
    [[nodiscard]] Context context() const {
        Context context;
        context.model = &model;
        return context;
    }
};

}  // namespace packproof::language
