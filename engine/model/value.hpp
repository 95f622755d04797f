// What a field, an expression or a derived quantity can be, at run time. Numbers are in SI base units; their
// dimension is known statically (type.hpp) and not carried.
#pragma once

#include <bit>
#include <cstdint>
#include <string_view>
#include <variant>
#include <vector>

#include "engine/units/interval.hpp"

namespace packproof::model {

using ItemIndex = std::uint32_t;
using KindIndex = std::uint16_t;
using FieldIndex = std::uint16_t;  ///< within its kind
inline constexpr ItemIndex no_item = 0xffffffffU;

/// Three-valued truth with absence: the verdict of a demand. Order of dominance under `and`:
/// no > unknown > open > yes; under `or`: yes > unknown > open > no.
enum class Truth : std::uint8_t {
    yes,
    no,
    open,     ///< both are possible within the tolerances
    unknown,  ///< a value is not stated
};

/// What a value rests on, joined over everything that went into it.
struct Basis {
    bool guess = false;     ///< something written with ~
    bool assumed = false;   ///< a default of the vocabulary
    bool measured = false;  ///< a bench reading
    bool recalled = false;  ///< a table or default whose status is "recalled"
    /// All four at once: evaluation does little else as often.
    friend constexpr Basis operator|(Basis a, Basis b) {
        static_assert(sizeof(Basis) == sizeof(std::uint32_t));
        return std::bit_cast<Basis>(std::bit_cast<std::uint32_t>(a) | std::bit_cast<std::uint32_t>(b));
    }
};

struct Missing {
};  ///< not stated, or nothing can be said (beyond a table): reasons are kept by the evaluator
struct KnownNone {};  ///< stated to be absent: "none"

struct Number {
    units::Interval range;
    double nominal = 0.0;
    /// Bounds of the partial derivative with respect to each input under study; empty in plain evaluation.
    std::vector<units::Interval> slopes;
};

/// A permitted range; each end may itself be in doubt (claims that differ).
struct Range {
    units::Interval lower;
    units::Interval upper;
};

/// Text of a choice or name. More than one alternative: it is one of these, unknown which.
struct Text {
    std::string_view value;
    std::vector<std::string_view> alternatives;  ///< empty, or at least two (value is the first)
};

struct Reference {
    ItemIndex item = no_item;
    std::string_view point;  ///< "load" of "main-breaker.load"; empty if none
    friend bool operator==(const Reference&, const Reference&) = default;
};

struct Value {
    std::variant<Missing, KnownNone, Number, Range, Truth, Text, Reference, std::vector<Reference>> content;
    Basis basis;

    [[nodiscard]] bool missing() const { return std::holds_alternative<Missing>(content); }
    [[nodiscard]] bool none() const { return std::holds_alternative<KnownNone>(content); }
    [[nodiscard]] const Number* number() const { return std::get_if<Number>(&content); }
    [[nodiscard]] const Range* range() const { return std::get_if<Range>(&content); }
    [[nodiscard]] const Truth* truth() const { return std::get_if<Truth>(&content); }
    [[nodiscard]] const Text* text() const { return std::get_if<Text>(&content); }
    [[nodiscard]] const Reference* reference() const { return std::get_if<Reference>(&content); }
    [[nodiscard]] const std::vector<Reference>* references() const {
        return std::get_if<std::vector<Reference>>(&content);
    }
};

}  // namespace packproof::model
