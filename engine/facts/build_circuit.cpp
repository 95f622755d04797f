// How a circuit is built: which items are branches, and which ends meet in one node.
#include "engine/facts/circuit.hpp"

namespace packproof::facts {

using language::Context;
using language::Gap;
using language::Input;
using model::ItemIndex;
using model::Truth;
using solve::BranchIndex;
using solve::Node;
using Role = solve::Branch::Role;

namespace {

bool says_yes(const language::Expression& expression, ItemIndex item, const Context& context) {
    return language::truth_of(language::evaluate(expression, item, context)) == Truth::yes;
}

}  // namespace

Circuit::Circuit(const rules::NetworkDefinition& definition, const model::Model& model,
                 const Context& context)
    : definition_(definition), model_(model), remembered_(definition.cases.size()) {
    whole_.assign(model.items.size(), false);
    branch_of_item_.assign(model.items.size(), no_branch);
    find_wholes();
    for (const rules::NetworkBranch& how : definition.branches) {
        for (const ItemIndex item : model.of_kind[how.kind]) {
            if (!model.items[item].stated) continue;
            if (!how.when.empty() && !says_yes(how.when, item, context)) continue;
            const auto from = node_of(how, how.from, item);
            const auto to = node_of(how, how.to, item);
            if (!from || !to) continue;
            const bool opens = !how.opens.empty() && says_yes(how.opens, item, context);
            if (branch_of_item_[item] == no_branch) branch_of_item_[item] = network_.branches.size();
            network_.branches.push_back({*from, *to, how.role, opens});
            items_.push_back(item);
            how_.push_back(&how);
        }
    }
    shape_ = solve::shape_of(network_);
}

/// An item that a branch names without a point is one node with all its points. Not so a source, a sink or
/// what opens: to join their ends would be to short them.
void Circuit::find_wholes() {
    auto may_be_whole = [&](ItemIndex item) {
        for (const rules::NetworkBranch& how : definition_.branches)
            if (how.kind == model_.items[item].kind) return how.role == Role::conductor && how.opens.empty();
        return true;
    };
    for (const rules::NetworkBranch& how : definition_.branches) {
        for (const ItemIndex item : model_.of_kind[how.kind]) {
            for (const rules::BranchEnd* end : {&how.from, &how.to}) {
                if (!end->point.empty()) continue;
                const model::Slot* slot = model_.slot(item, end->field);
                const model::Reference* named = slot == nullptr ? nullptr : slot->value.reference();
                if (named != nullptr && named->item != model::no_item && named->point.empty() &&
                    may_be_whole(named->item))
                    whole_[named->item] = true;
            }
        }
    }
}

Node Circuit::node_at(ItemIndex item, std::string_view point) {
    const auto [place, fresh] =
        nodes_.try_emplace({item, whole_[item] ? std::string_view{} : point}, network_.nodes);
    if (fresh) ++network_.nodes;
    return place->second;
}

ItemIndex Circuit::owner_of_ends(const rules::NetworkBranch& how, ItemIndex item) const {
    if (!how.same_ends_as) return item;
    const model::Slot* slot = model_.slot(item, *how.same_ends_as);
    const model::Reference* other = slot == nullptr ? nullptr : slot->value.reference();
    return other == nullptr || other->item == model::no_item ? item : other->item;
}

std::optional<Node> Circuit::node_of(const rules::NetworkBranch& how, const rules::BranchEnd& end,
                                     ItemIndex item) {
    if (!end.point.empty()) return node_at(owner_of_ends(how, item), end.point);
    const model::Slot* slot = model_.slot(item, end.field);
    const model::Reference* named = slot == nullptr ? nullptr : slot->value.reference();
    const Input input{item, end.field};
    if (named == nullptr || named->item == model::no_item) {
        Gap::Reason reason = Gap::Reason::not_stated;
        if (slot != nullptr && slot->state == model::Slot::State::asked) reason = Gap::Reason::asked;
        if (slot != nullptr && slot->state == model::Slot::State::none) reason = Gap::Reason::known_none;
        unplaced_.push_back({item, {input, reason, 0}});
        return std::nullopt;
    }
    const bool has_points = !model_.kind_of(named->item).points.empty();
    if (named->point.empty() && has_points && !whole_[named->item]) {
        unplaced_.push_back({item, {input, Gap::Reason::not_stated, 0}});
        return std::nullopt;
    }
    return node_at(named->item, named->point);
}

}  // namespace packproof::facts
