// A method: a solver as rule data sees it, with its inputs, its lists and its answers by name. Rule files
// bind expressions to them; what the numbers mean is theirs.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string_view>
#include <variant>
#include <vector>

#include "engine/units/interval.hpp"

namespace packproof::solve {

/// A number in SI base units, with its tolerance.
struct Amount {
    units::Interval range;
    double nominal = 0.0;
    friend bool operator==(const Amount&, const Amount&) = default;
};

/// A named number that a method takes.
struct MethodField {
    std::string_view name;
    std::string_view unit;  ///< "" for a plain number
    bool needed = true;
};

/// A list of rows of numbers; each row stands for an item of the description, or for several alike.
struct MethodList {
    std::string_view name;
    std::span<const MethodField> fields;
    bool needed = true;  ///< at least one row
};

/// One row: its numbers in the order of the list's fields.
using MethodRow = std::vector<std::optional<Amount>>;

struct MethodInput {
    MethodRow values;                           ///< in the order of the method's fields
    std::vector<std::vector<MethodRow>> lists;  ///< in the order of the method's lists
    friend bool operator==(const MethodInput&, const MethodInput&) = default;
};

/// A row of a list, as an answer: "the worst of them is this one".
struct RowAnswer {
    std::size_t list = 0;
    std::size_t row = 0;
};

/// Nothing where these numbers have no such answer.
using MethodAnswer = std::variant<std::monostate, Amount, RowAnswer, std::string_view>;

struct MethodQuestion {
    enum class Form : std::uint8_t { number, item, text };
    std::string_view name;
    Form form = Form::number;
    std::string_view unit;   ///< of a number
    std::uint8_t group = 0;  ///< questions of one group are answered by one run
};

struct Method {
    std::string_view name;
    std::string_view about;
    std::span<const MethodField> fields;
    std::span<const MethodList> lists;
    std::span<const MethodQuestion> questions;
    /// The answers to all questions in their order; those of other groups are nothing.
    std::vector<MethodAnswer> (*answer)(const MethodInput& input, std::uint8_t group) = nullptr;
};

/// In the order of their names.
[[nodiscard]] std::span<const Method> methods();

// One a file, put together in methods.cpp.
[[nodiscard]] const Method& bundle_method();
[[nodiscard]] const Method& pattern_method();
[[nodiscard]] const Method& plate_method();

}  // namespace packproof::solve
