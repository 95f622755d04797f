#include "engine/language/evaluator.hpp"

namespace packproof::language {

Value Evaluator::single_item(const Node& at) {
    const auto& items = context_.model->of_kind[at.index];
    if (items.empty()) {
        note({{}, Gap::Reason::no_such_item, 0});
        return missing();
    }
    return {model::Reference{items.front(), {}}, {}};
}

const Value* Evaluator::boxed(const Input& input, std::size_t& place) const {
    if (context_.box == nullptr) return nullptr;
    const auto& all = context_.box->inputs;
    for (place = 0; place < all.size(); ++place)
        if (all[place] == input) return &context_.box->values[place];
    return nullptr;
}

Value Evaluator::read_field(ItemIndex item, model::FieldIndex field) {
    const Input input{item, field};
    std::size_t place = 0;
    const Value* replaced = boxed(input, place);
    if (replaced == nullptr) {
        Basis basis;
        const Value& value = stated(input, basis);
        return {value.content, basis};
    }
    if (context_.inputs != nullptr) context_.inputs->push_back(input);
    Value value = *replaced;
    const model::Slot* slot = context_.model->slot(item, field);
    if (slot != nullptr) value.basis = value.basis | slot->value.basis;
    if (auto* number = std::get_if<Number>(&value.content)) {
        number->slopes.clear();
        if (context_.box->slopes) {
            number->slopes.resize(context_.box->inputs.size());
            number->slopes[place] = Interval::point(1.0);
        }
    }
    return value;
}

/// What the description says of a field.
const Value& Evaluator::stated(const Input& input, Basis& basis) {
    static const Value nothing = missing();
    static const Value none{model::KnownNone{}, {}};
    last_read_ = input;
    if (context_.inputs != nullptr) context_.inputs->push_back(input);
    const model::Slot* slot = context_.model->slot(input.item, input.field);
    if (slot == nullptr || slot->state == model::Slot::State::asked) {
        note({input, slot == nullptr ? Gap::Reason::not_stated : Gap::Reason::asked, 0});
        return nothing;
    }
    basis = slot->value.basis;
    basis.assumed = basis.assumed || slot->origin == model::Origin::assumed;
    basis.measured = basis.measured || slot->origin == model::Origin::measured;
    if (slot->state != model::Slot::State::none) return slot->value;
    last_none_ = input;
    return none;
}

/// The value of a field where it stands, with its basis; null for any other node, and inside a box.
const Value* Evaluator::stored(NodeIndex index, Basis& basis) {
    static const Value nothing = missing();
    const Node& at = node(index);
    const bool only_fields = at.index == at.list_end - at.list_begin;
    if (at.operation != Operation::field || !only_fields || context_.box != nullptr) return nullptr;
    const Owner owner = owner_of(at.first);
    if (owner.none) note_none();
    basis = owner.basis;
    if (owner.item == model::no_item) return &nothing;
    const Member* const member = member_of(at, owner.item);
    if (member == nullptr) return &nothing;
    Basis of_field;
    const Value& value = stated({owner.item, member->index}, of_field);
    basis = basis | of_field;
    return &value;
}

/// The item that an expression gives; where it gives none, its gap is noted.
Evaluator::Owner Evaluator::owner_of(NodeIndex index) {
    const Node& at = node(index);
    if (at.operation == Operation::this_item) return {item_, false, {}};
    if (at.operation == Operation::variable) return {variables_[at.index], false, {}};
    const Operand operand(*this, index);
    const model::Reference* reference = operand.value().reference();
    return {reference == nullptr ? model::no_item : reference->item, operand.value().none(), operand.basis};
}

/// What the member is on the item's kind; null, with the gap noted, where that kind has none.
const Member* Evaluator::member_of(const Node& at, ItemIndex item) const {
    const model::KindIndex kind = context_.model->items[item].kind;
    for (std::uint32_t i = at.list_begin; i < at.list_end; ++i)
        if (tree_.members[i].kind == kind) return &tree_.members[i];
    note({{}, Gap::Reason::no_such_item, 0});
    return nullptr;
}

Value Evaluator::read_member(const Node& at, ItemIndex item) {
    const Member* const member = member_of(at, item);
    if (member == nullptr) return missing();
    const auto place = static_cast<std::uint32_t>(member - tree_.members.data()) - at.list_begin;
    if (place < at.index) return read_field(item, member->index);
    return context_.quantity ? context_.quantity(member->index, item, context_) : missing();
}

Value Evaluator::member(const Node& at) {
    const Owner owner = owner_of(at.first);
    if (owner.none) note_none();
    if (owner.item == model::no_item) return missing(owner.basis);
    Value value = read_member(at, owner.item);
    value.basis = value.basis | owner.basis;
    return value;
}

bool Evaluator::is_single(const Node& at) {
    return at.operation == Operation::single_item || at.operation == Operation::this_item;
}

/// A single kind lacks its item only where the description says that there is none.
bool Evaluator::has_none(const Node& at) const {
    return at.operation == Operation::single_item && context_.model->of_kind[at.index].empty();
}

/// Whether an item on the way to the member is stated to be none, so that the member cannot be stated.
bool Evaluator::hangs_on_none(NodeIndex path) {
    const Node& at = node(path);
    if (is_single(at)) return has_none(at);
    if (at.operation != Operation::field && at.operation != Operation::quantity) return false;
    const std::size_t before = mark();
    const Owner owner = owner_of(at.first);
    take_back(before);
    return owner.none || (owner.item == model::no_item && hangs_on_none(at.first));
}

/// `x is stated`, `x is none`. What is absent, or hangs on an item that is absent, is not stated.
Evaluator::Answer Evaluator::presence(const Node& at) {
    if (is_single(node(at.first))) return {known(has_none(node(at.first))), {}};
    const std::size_t before = mark();
    const Operand operand(*this, at.first);
    const Value& value = operand.value();
    const bool asks_stated = at.operation == Operation::is_stated;
    if (asks_stated && context_.absent_is_unknown && value.missing() && !hangs_on_none(at.first))
        return {Truth::unknown, operand.basis};
    take_back(before);
    return {known(asks_stated ? !value.missing() : value.none()), operand.basis};
}

/// `x is assumed`, `x is known`: where the value comes from. Of what is absent that cannot be said, of what
/// hangs on none it can. What is only assumed may be known one day. Whether the value is a guess does not
/// matter.
Evaluator::Answer Evaluator::known_or_assumed(const Node& at) {
    const Node& path = node(at.first);
    const std::size_t before = mark();
    const Owner owner = owner_of(path.first);
    if (owner.item == model::no_item) {
        if (!hangs_on_none(at.first)) return {Truth::unknown, owner.basis};
        take_back(before);
        return {Truth::no, owner.basis};
    }
    const Member* const member = member_of(path, owner.item);
    if (member == nullptr) return {Truth::unknown, owner.basis};
    Basis of_field;
    const Input input{owner.item, member->index};
    stated(input, of_field);
    const model::Slot* slot = context_.model->slot(input.item, input.field);
    if (slot == nullptr || slot->state == model::Slot::State::asked) return {Truth::unknown, owner.basis};
    const bool is_default = slot->origin == model::Origin::assumed;
    Basis basis = owner.basis;
    basis.assumed = basis.assumed || is_default;
    basis.measured = basis.measured || slot->origin == model::Origin::measured;
    if (at.operation == Operation::is_assumed) return {known(is_default), basis};
    if (is_default) note({input, Gap::Reason::only_assumed, 0});
    return {is_default ? Truth::unknown : Truth::yes, basis};
}

/// `x is mentioned`: whether the description says anything of it, "?" and "none" included; never unknown.
Evaluator::Answer Evaluator::mentioned(const Node& path) {
    const auto& items = context_.model->items;
    if (is_single(path)) {
        if (has_none(path)) return {Truth::yes, {}};
        const bool at_hand = path.operation == Operation::this_item;
        return {known(items[at_hand ? item_ : context_.model->of_kind[path.index].front()].stated), {}};
    }
    const std::size_t before = mark();
    const Owner owner = owner_of(path.first);
    const Member* const member = owner.item == model::no_item ? nullptr : member_of(path, owner.item);
    take_back(before);
    if (member == nullptr) return {Truth::no, owner.basis};
    const Input input{owner.item, member->index};
    const model::Slot* slot = context_.model->slot(input.item, input.field);
    const bool is_mentioned = slot != nullptr && slot->origin != model::Origin::assumed;
    if (is_mentioned && context_.inputs != nullptr) context_.inputs->push_back(input);
    return {known(is_mentioned), owner.basis};
}

Value Evaluator::point(NodeIndex path) {
    const Operand operand(*this, path);
    const Value& value = operand.value();
    if (value.none()) note_none();
    const model::Reference* reference = value.reference();
    if (reference == nullptr) return missing(operand.basis);
    return {model::Text{reference->point, {}}, operand.basis};
}

}  // namespace packproof::language
