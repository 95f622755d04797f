// A checked expression on one item: three-valued, over intervals. Plain evaluation encloses; with a Box the
// inputs under study carry slopes, from which refine.hpp makes the result tight. Every expression ends: no
// loops but over items, no recursion but into derived quantities, which have no circles.
#pragma once

#include <functional>
#include <span>
#include <vector>

#include "engine/language/tree.hpp"
#include "engine/model/item.hpp"

namespace packproof::language {

/// One input: a field of an item.
struct Input {
    model::ItemIndex item = model::no_item;
    model::FieldIndex field = 0;
    friend bool operator==(const Input&, const Input&) = default;
    friend auto operator<=>(const Input&, const Input&) = default;
};

/// Inputs whose values are replaced, and with respect to which slopes are kept (input i has slope i).
struct Box {
    std::vector<Input> inputs;
    std::vector<model::Value> values;  ///< a Number without slopes, or a Text
    bool slopes = true;                ///< false: replace only
    /// The values before refinement cut them, which `least`, `most` and `nominal` speak of; empty: `values`.
    std::vector<model::Value> whole;
};

/// Why a result is missing.
struct Gap {
    enum class Reason : std::uint8_t {
        not_stated,
        asked,
        beyond_table,
        no_such_item,
        not_a_number,
        known_none,
        no_lower_end,  ///< of a permitted range
        no_upper_end,
        on_no_way,    ///< that the description joins to a source
        only_assumed  ///< needed to be known
    };
    Input input;  ///< of not_stated, asked, known_none, only_assumed and the missing ends
    Reason reason = Reason::not_stated;
    std::uint32_t table = 0;  ///< of beyond_table
    friend bool operator==(const Gap&, const Gap&) = default;
};

/// What evaluation may ask for. Quantities and lookups are given as functions, so that the language knows
/// neither facts nor tables.
struct Context {
    const model::Model* model = nullptr;
    std::function<model::Value(std::uint16_t quantity, model::ItemIndex item, const Context&)> quantity;
    std::function<model::Value(std::uint32_t table, std::uint32_t column, std::span<const model::Value> keys)>
        lookup;
    /// The smallest (up) or largest (down) entry of a series not less (not more) than x.
    std::function<model::Value(std::uint32_t table, bool up, const model::Value& x)> next;
    const Box* box = nullptr;
    std::vector<Gap>* gaps = nullptr;      ///< collects reasons for Missing; may be null
    std::vector<Input>* inputs = nullptr;  ///< collects every field read (with repeats); may be null
    /// Asked when a comparison of numbers, or `within`, is open in plain evaluation, or unknown for want of a
    /// row in a table: may settle it with tight ranges, choice by choice; unknown where it has no value for
    /// some choice. May be empty. Evaluation inside a box never asks.
    std::function<model::Truth(const Expression&, NodeIndex comparison, model::ItemIndex item,
                               std::span<const model::ItemIndex> variables)>
        settle;
    /// `x is stated` of a value that nobody stated ("?" included) gives Missing with its gap instead of no:
    /// tells a rule that is skipped for want of data from one that does not apply.
    bool absent_is_unknown = false;
};

/// Texts of the result point into the expression or the model. An unknown truth is Missing. A value stated to
/// be none gives Missing in arithmetic and comparison, with its gap; only among items it is known to equal
/// none and to be in no list, and a list that is none has no members. Gaps are kept only where they decide
/// the answer.
[[nodiscard]] model::Value evaluate(const Expression& expression, model::ItemIndex item,
                                    const Context& context);

/// One node of it (a side of a comparison), with bound variables as given.
[[nodiscard]] model::Value evaluate_node(const Expression& expression, NodeIndex node, model::ItemIndex item,
                                         std::span<const model::ItemIndex> variables, const Context& context);

/// Truth of a value of type truth; Missing gives unknown.
[[nodiscard]] model::Truth truth_of(const model::Value& value);

/// The truth tables.
[[nodiscard]] model::Truth both(model::Truth a, model::Truth b);
[[nodiscard]] model::Truth either(model::Truth a, model::Truth b);
[[nodiscard]] model::Truth opposite(model::Truth a);

/// Interval arithmetic on Values with slopes; shared with refine and derived forms.
[[nodiscard]] model::Value difference(const model::Value& a, const model::Value& b);

}  // namespace packproof::language
