// An expression of the rule language as a tree in one flat vector, after parsing and, once checked, with
// every name resolved to an index. Plain data: it can be written to and read from bytes.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "engine/model/type.hpp"
#include "engine/units/unit.hpp"

namespace packproof::language {

using NodeIndex = std::int32_t;
inline constexpr NodeIndex no_node = -1;

enum class Operation : std::uint8_t {
    // leaves
    number,       ///< literal; `number` SI, `unit` for printing
    text,         ///< literal; texts[index]
    truth,        ///< literal; number 1 or 0
    this_item,    ///< `this`
    variable,     ///< a bound item: index = slot of the variable, 0 outermost
    single_item,  ///< the item of a kind declared single: index = kind
    pi,
    name,  ///< before checking only: texts[index]
    // members: first = the item expression; [list_begin, list_end) of `members`, one for each kind that the
    // item may be. The first `index` of them are fields, the others derived quantities: what is stated on one
    // kind may be derived on another
    field,     ///< at least one is a field
    quantity,  ///< all are derived
    member,    ///< before checking only: texts[index] is the member's name
    // arithmetic
    add,
    subtract,
    multiply,
    divide,
    negate,
    power,  ///< power: `number` is the whole exponent
    // comparison
    less,
    less_equal,
    greater,
    greater_equal,
    equal,
    unequal,
    within,     ///< first a number, second a range
    in_texts,   ///< first text; arguments are text literals
    in_items,   ///< first an item, second items
    matches,    ///< first text; index = pattern in `patterns`
    is_stated,  ///< this and the next: first a field; is_none, is_mentioned: or the item of a single kind
    is_none,
    is_assumed,
    is_known,
    is_mentioned,
    // logic
    logical_not,
    logical_and,
    logical_or,
    choose,  ///< choose: first condition, second then, third else
    // calls: arguments in `arguments`
    call,    ///< index = Function
    lookup,  ///< index = table, `column`; arguments are the keys
    next_up,
    next_down,  ///< index = table; first = value
    // over items
    fold,  ///< index = Fold; first = collection or no_node (then `kind`), second = where, third = body;
           ///< `variable` its slot
};

/// What may be asked of a field's presence: `x is stated`.
inline constexpr std::array<Operation, 5> questions_of_presence{Operation::is_stated, Operation::is_none,
                                                                Operation::is_assumed, Operation::is_known,
                                                                Operation::is_mentioned};

/// "stated" of `is stated`; empty for every other operation.
[[nodiscard]] constexpr std::string_view presence_word(Operation operation) {
    switch (operation) {
        case Operation::is_stated:
            return "stated";
        case Operation::is_none:
            return "none";
        case Operation::is_assumed:
            return "assumed";
        case Operation::is_known:
            return "known";
        case Operation::is_mentioned:
            return "mentioned";
        default:
            return {};
    }
}

enum class Function : std::uint8_t {
    // take several values
    minimum,
    maximum,
    between,  ///< anywhere from one value to the other
    absolute,
    square_root,
    exponential,
    logarithm,
    lower,
    upper,
    middle,
    nominal,
    least,
    most,
    round_up,
    round_down,
    point,
    position,
    first_of,  ///< of a list of items
    last_of,
};

enum class Fold : std::uint8_t { count, sum, minimum, maximum, all, any, the, those };

/// Which field or quantity a member is on one kind that the item may be.
struct Member {
    model::KindIndex kind = 0;
    std::uint16_t index = 0;  ///< field in the kind, or quantity in the rule set
    friend bool operator==(const Member&, const Member&) = default;
};

struct Node {
    Operation operation = Operation::number;
    std::uint8_t column = 0;     ///< of lookup
    std::uint16_t variable = 0;  ///< of fold: the slot it binds
    std::uint32_t begin = 0;     ///< bytes [begin, end) of the expression's text
    std::uint32_t end = 0;
    NodeIndex first = no_node;
    NodeIndex second = no_node;
    NodeIndex third = no_node;
    std::uint32_t index = 0;
    std::uint32_t list_begin = 0;  ///< members, or arguments: [list_begin, list_end) in Expression
    std::uint32_t list_end = 0;
    double number = 0.0;
    model::KindIndex kind = 0;  ///< of fold over a kind
};

struct Expression {
    std::string text;         ///< as written
    std::vector<Node> nodes;  ///< children stand before their parents
    NodeIndex root = no_node;
    std::vector<std::string> texts;
    std::vector<std::string> patterns;
    std::vector<NodeIndex> arguments;
    std::vector<Member> members;
    std::vector<units::Unit> literal_units;  ///< of number literals: index
    std::vector<model::Type> types;          ///< of each node, after checking
    std::uint16_t variables = 0;             ///< slots needed

    [[nodiscard]] bool empty() const { return root == no_node; }
    [[nodiscard]] const model::Type& type() const { return types[static_cast<std::size_t>(root)]; }
};

}  // namespace packproof::language
