#include "engine/language/functions.hpp"

#include <array>

namespace packproof::language {

namespace {

using Takes = FunctionForm::Takes;

constexpr FunctionForm of_values(std::string_view name, Function function, std::string_view call,
                                 std::string_view meaning, std::string_view gives) {
    return {name, Takes::values, static_cast<std::uint8_t>(function), call, meaning, gives};
}

constexpr FunctionForm of_members(std::string_view name, Fold fold, std::string_view call,
                                  std::string_view meaning, std::string_view gives) {
    return {name, Takes::members, static_cast<std::uint8_t>(fold), call, meaning, gives};
}

constexpr std::array<FunctionForm, 31> all_functions{{
    of_values("abs", Function::absolute, "abs(value)", "The size of a number without its sign.",
              "a number of the same dimension"),
    of_members(
        "all", Fold::all, "all(list as x where condition : condition)",
        "Whether the condition behind the colon holds for every member for which that behind `where` holds.",
        "a condition"),
    of_members("any", Fold::any, "any(list as x where condition : condition)",
               "Whether the condition behind the colon holds for at least one such member.", "a condition"),
    of_values("between", Function::between, "between(value, value)",
              "Anywhere from one value to the other: the interval that both span.",
              "a number of the same dimension"),
    of_members("count", Fold::count, "count(list as x where condition)",
               "How many members there are for which the condition holds.", "a plain number"),
    of_values("exp", Function::exponential, "exp(value)", "e to the power of a plain number.",
              "a plain number"),
    of_values("first", Function::first_of, "first(list)", "The first item of a list.", "an item"),
    of_values("last", Function::last_of, "last(list)", "The last item of a list.", "an item"),
    of_values("least", Function::least, "least(value)", "The lower end of a value's tolerance.",
              "a number of the same dimension"),
    of_values("ln", Function::logarithm, "ln(value)", "The natural logarithm of a plain number.",
              "a plain number"),
    {"lookup", Takes::table, 0, "lookup(table.column, key, ...)",
     "What a column of a table says for the keys given, each taken as its key says: exact, the next larger "
     "or smaller, "
     "or interpolated. Beyond the table nothing is stated.",
     "what the column holds"},
    of_values("lower", Function::lower, "lower(range)", "The lower end of a permitted range.",
              "a number of the same dimension"),
    of_values("max", Function::maximum, "max(value, value, ...)", "The largest of the values given.",
              "a number of the same dimension"),
    of_members("max", Fold::maximum, "max(list as x where condition : value)",
               "The largest of what is taken of each member.", "a number of the same dimension"),
    of_values("middle", Function::middle, "middle(range)", "The middle of a permitted range.",
              "a number of the same dimension"),
    of_values("min", Function::minimum, "min(value, value, ...)", "The smallest of the values given.",
              "a number of the same dimension"),
    of_members("min", Fold::minimum, "min(list as x where condition : value)",
               "The smallest of what is taken of each member.", "a number of the same dimension"),
    of_values("most", Function::most, "most(value)", "The upper end of a value's tolerance.",
              "a number of the same dimension"),
    {"next_down", Takes::table, 0, "next_down(series, value)",
     "The largest entry of a series that is not above the value.", "a number of the same dimension"},
    {"next_up", Takes::table, 0, "next_up(series, value)",
     "The smallest entry of a series that is not below the value.", "a number of the same dimension"},
    of_values("nominal", Function::nominal, "nominal(value)", "A value as stated, without its tolerance.",
              "a number of the same dimension"),
    {"pi", Takes::nothing, 0, "pi", "The circumference of a circle over its diameter.", "a plain number"},
    of_values("point", Function::point, "point(reference)",
              "The name of the point that a reference names on its item.", "text"),
    of_values("position", Function::position, "position(item)",
              "The place of an item among the items of its kind, as they stand in the description, from 0.",
              "a plain number"),
    of_values("round_down", Function::round_down, "round_down(value)",
              "The largest whole number that is not above a plain number.", "a plain number"),
    of_values("round_up", Function::round_up, "round_up(value)",
              "The smallest whole number that is not below a plain number.", "a plain number"),
    of_values("sqrt", Function::square_root, "sqrt(value)", "The square root.",
              "a number of the root of the dimension"),
    of_members("sum", Fold::sum, "sum(list as x where condition : value)",
               "The sum of what is taken of each member.", "a number of the same dimension"),
    of_members(
        "the", Fold::the, "the(list as x where condition)",
        "The one member for which the condition holds; without a value where there is none or more than one.",
        "an item"),
    of_members("those", Fold::those, "those(list as x where condition : items)",
               "The members for which the condition holds, or what they name, each once.", "a list of items"),
    of_values("upper", Function::upper, "upper(range)", "The upper end of a permitted range.",
              "a number of the same dimension"),
}};

}  // namespace

std::span<const FunctionForm> functions() {
    return all_functions;
}

const FunctionForm* find_function(std::string_view name, FunctionForm::Takes takes) {
    for (const FunctionForm& form : all_functions)
        if (form.name == name && form.takes == takes) return &form;
    return nullptr;
}

}  // namespace packproof::language
