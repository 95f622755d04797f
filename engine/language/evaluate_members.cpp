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
    if (context_.inputs != nullptr) context_.inputs->push_back(input);
    const model::Slot* slot = context_.model->slot(item, field);
    std::size_t place = 0;
    if (const Value* replaced = boxed(input, place)) {
        Value value = *replaced;
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
    if (slot == nullptr || slot->state == model::Slot::State::asked) {
        note({input, slot == nullptr ? Gap::Reason::not_stated : Gap::Reason::asked, 0});
        return missing();
    }
    Value value = slot->value;
    value.basis.assumed = value.basis.assumed || slot->origin == model::Origin::assumed;
    value.basis.measured = value.basis.measured || slot->origin == model::Origin::measured;
    if (slot->state == model::Slot::State::none) {
        last_none_ = input;
        value.content = model::KnownNone{};
    }
    return value;
}

/// The item expression's value: a reference, or nothing (its gap is noted).
Value Evaluator::item_of(NodeIndex index) {
    const Node& at = node(index);
    if (at.operation == Operation::this_item) return {model::Reference{item_, {}}, {}};
    if (at.operation == Operation::variable) return {model::Reference{variables_[at.index], {}}, {}};
    return evaluate(index);
}

Value Evaluator::read_member(const Node& at, ItemIndex item) {
    const model::KindIndex kind = context_.model->items[item].kind;
    for (std::uint32_t i = at.list_begin; i < at.list_end; ++i) {
        const Member& member = tree_.members[i];
        if (member.kind != kind) continue;
        if (i - at.list_begin < at.index) return read_field(item, member.index);
        return context_.quantity ? context_.quantity(member.index, item, context_) : missing();
    }
    note({{}, Gap::Reason::no_such_item, 0});
    return missing();
}

Value Evaluator::member(const Node& at) {
    const Value owner = item_of(at.first);
    if (owner.none()) note_none();
    const model::Reference* reference = owner.reference();
    if (reference == nullptr) return missing(owner.basis);
    Value value = read_member(at, reference->item);
    value.basis = value.basis | owner.basis;
    return value;
}

/// Whether an item on the way to the member is stated to be none, so that the member cannot be stated.
bool Evaluator::hangs_on_none(NodeIndex path) {
    const Node& at = node(path);
    if (at.operation != Operation::field && at.operation != Operation::quantity) return false;
    const std::size_t before = mark();
    const Value owner = item_of(at.first);
    take_back(before);
    return owner.none() || (owner.missing() && hangs_on_none(at.first));
}

/// `x is stated`, `x is none`. What is absent, or hangs on an item that is absent, is not stated.
Value Evaluator::presence(const Node& at) {
    const std::size_t before = mark();
    const Value value = evaluate(at.first);
    const bool asks_stated = at.operation == Operation::is_stated;
    if (asks_stated && context_.absent_is_unknown && value.missing() && !hangs_on_none(at.first))
        return missing(value.basis);
    take_back(before);
    return {known(asks_stated ? !value.missing() : value.none()), value.basis};
}

Value Evaluator::point(NodeIndex path) {
    const Value value = evaluate(path);
    if (value.none()) note_none();
    const model::Reference* reference = value.reference();
    if (reference == nullptr) return missing(value.basis);
    return {model::Text{reference->point, {}}, value.basis};
}

}  // namespace packproof::language
