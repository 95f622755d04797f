// The checker's inside, shared by check*.cpp: one walk over the tree from the root, resolving names and
// inferring types. A node whose type is not known has had its mistake reported: nothing follows from it.
#pragma once

#include <optional>
#include <string_view>

#include "engine/language/check.hpp"
#include "engine/units/interval.hpp"

namespace packproof::language {

using model::Type;
using Typed = std::optional<Type>;

class Checker {
    struct Found {
        Member member;
        bool derived = false;
        Type type;
    };

  public:
    Checker(Expression& tree, model::KindIndex kind, const Names& names, std::vector<Mistake>& mistakes)
        : tree_(tree), kind_(kind), names_(names), mistakes_(mistakes), variables_(tree.variables) {}

    Typed check(NodeIndex index);

  private:
    // names (check_names.cpp)
    Typed check_name(NodeIndex index);
    Typed check_member(NodeIndex index);
    Typed resolve_member(NodeIndex index, const Type& owner, std::string_view name, std::size_t begin);
    Typed check_single_item(NodeIndex index);
    [[nodiscard]] std::optional<Found> find_member(model::KindIndex kind, std::string_view name) const;
    [[nodiscard]] std::vector<std::string_view> member_names(model::KindIndex kind) const;
    [[nodiscard]] const std::string& kind_name(model::KindIndex kind) const;

    // operators (check_operators.cpp)
    Typed check_sum(NodeIndex index);
    Typed check_product(NodeIndex index);
    Typed check_negate(NodeIndex index);
    Typed check_power(NodeIndex index);
    Typed check_logic(NodeIndex index);
    Typed check_choice(NodeIndex index);

    // comparisons (check_comparisons.cpp)
    Typed check_comparison(NodeIndex index);
    Typed check_within(NodeIndex index);
    Typed check_in_texts(NodeIndex index);
    Typed check_in_items(NodeIndex index);
    Typed check_matches(NodeIndex index);
    Typed check_presence(NodeIndex index);
    [[nodiscard]] bool is_single_item(const Node& at, const Type& type) const;
    void check_choices(NodeIndex field, NodeIndex literal);
    void check_possible(NodeIndex index);
    [[nodiscard]] bool constant(NodeIndex index) const;

    // calls (check_calls.cpp)
    Typed check_call(NodeIndex index);
    Typed check_extreme(NodeIndex index);
    Typed check_lookup(NodeIndex index);
    Typed check_next(NodeIndex index);
    [[nodiscard]] std::optional<std::uint32_t> find_table(NodeIndex name);
    bool check_key(NodeIndex key, const Type& wanted, std::string_view name);

    // folds (check_folds.cpp)
    Typed check_fold(NodeIndex index);
    Typed check_collection(NodeIndex index);
    Typed check_fold_body(NodeIndex index, const Type& items);
    Typed check_those(NodeIndex body, const Type& item);

    // shared
    Typed want(NodeIndex index, Type::Kind kind, std::string_view role);
    /// Takes two readings of a temperature literal together: it follows the other side.
    void adapt(NodeIndex literal, Type& type, bool absolute);
    void settle(NodeIndex first, Type& a, NodeIndex second, Type& b);
    [[nodiscard]] bool adaptable(NodeIndex index) const;
    std::nullopt_t mistake(NodeIndex index, std::string text, std::string hint = {});
    [[nodiscard]] Node& node(NodeIndex index) { return tree_.nodes[static_cast<std::size_t>(index)]; }
    [[nodiscard]] const Node& node(NodeIndex index) const {
        return tree_.nodes[static_cast<std::size_t>(index)];
    }
    [[nodiscard]] std::string_view spelling(NodeIndex index) const;
    [[nodiscard]] std::string describe(const Type& type) const;

    Expression& tree_;
    model::KindIndex kind_;
    const Names& names_;
    std::vector<Mistake>& mistakes_;
    std::vector<Type> variables_;  ///< of each slot, while its fold is being checked
};

[[nodiscard]] inline Type truth_type() {
    Type type;
    type.kind = Type::Kind::truth;
    return type;
}
[[nodiscard]] inline Type text_type() {
    Type type;
    type.kind = Type::Kind::text;
    return type;
}
[[nodiscard]] inline Type number_type(const units::Dimension& dimension = {}, bool absolute = false) {
    Type type;
    type.dimension = dimension;
    type.absolute = absolute;
    return type;
}

/// Both lists, ascending, each kind once.
[[nodiscard]] std::vector<model::KindIndex> join_kinds(std::vector<model::KindIndex> a,
                                                       const std::vector<model::KindIndex>& b);

/// "a current", "a temperature difference", "a plain number", "text", "an item of KIND or KIND".
[[nodiscard]] std::string describe_type(const Type& type, const model::Vocabulary& vocabulary);

/// Numbers that a checked node can be, from literals and the physical sense of fields.
struct Reach {
    units::Interval range;
    bool low_open = false;  ///< the low end itself cannot be
};
[[nodiscard]] Reach reach(const Expression& expression, NodeIndex index, const model::Vocabulary& vocabulary);

}  // namespace packproof::language
