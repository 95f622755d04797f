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

/// A named number, truth or list of items that a method takes.
struct MethodField {
    enum class Form : std::uint8_t { number, truth, items };
    std::string_view name;
    std::string_view unit;  ///< of a number; "" for a plain one
    bool needed = true;
    Form form = Form::number;
};

/// A list of rows of numbers; each row stands for an item of the description, or for several alike.
struct MethodList {
    std::string_view name;
    std::span<const MethodField> fields;
    bool needed = true;  ///< at least one row
};

/// One row: its numbers in the order of the list's fields; a truth is 1 or 0, of a list of items nothing.
using MethodRow = std::vector<std::optional<Amount>>;

/// What stands for an item: equal for the same item, nothing else is known of it.
using ItemKey = std::uint32_t;

/// The items of one row: its own, and by field those that it lists.
struct RowItems {
    ItemKey own = 0;
    std::vector<std::vector<ItemKey>> listed;
    friend bool operator==(const RowItems&, const RowItems&) = default;
};

struct MethodInput {
    MethodRow values;                           ///< in the order of the method's fields
    std::vector<std::vector<MethodRow>> lists;  ///< in the order of the method's lists
    std::vector<std::vector<RowItems>> items;   ///< likewise, of each row; a method's own fields list none
    friend bool operator==(const MethodInput&, const MethodInput&) = default;
};

/// A row of a list, as an answer: "the worst of them is this one".
struct RowAnswer {
    std::size_t list = 0;
    std::size_t row = 0;
};

/// Nothing where these numbers have no such answer.
using OneAnswer =
    std::variant<std::monostate, Amount, RowAnswer, std::string_view, bool, std::vector<ItemKey>>;
/// To a question about each row of a list: one answer a row, in their order.
using EachAnswer = std::vector<OneAnswer>;
using MethodAnswer = std::variant<OneAnswer, EachAnswer>;

struct MethodQuestion {
    enum class Form : std::uint8_t { number, item, text, truth, items };
    std::string_view name;
    Form form = Form::number;
    std::string_view unit;   ///< of a number
    std::uint8_t group = 0;  ///< questions of one group are answered by one run
    int of_each = -1;        ///< asked of each row of this list, by its place; -1: of the whole
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
[[nodiscard]] const Method& grouping_method();
[[nodiscard]] const Method& ladder_method();
[[nodiscard]] const Method& pattern_method();
[[nodiscard]] const Method& plate_method();
[[nodiscard]] const Method& sequence_method();

}  // namespace packproof::solve
