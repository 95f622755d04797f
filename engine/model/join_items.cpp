#include <fmt/core.h>

#include <algorithm>

#include "engine/document/shown.hpp"
#include "engine/model/draft.hpp"

namespace packproof::model {
namespace {

// Origins before what starts from them; a circle is reported once and cut open.
class Order {
  public:
    explicit Order(Draft& draft) : draft_(draft), state_(draft.model.items.size(), State::unseen) {}

    std::vector<ItemIndex> run() {
        order_.reserve(state_.size());
        for (std::size_t i = 0; i < state_.size(); ++i)
            follow(static_cast<ItemIndex>(i));
        return std::move(order_);
    }

  private:
    enum class State { unseen, open, done };

    void follow(ItemIndex item) {
        chain_.clear();
        while (item != no_item && state_[item] == State::unseen) {
            state_[item] = State::open;
            chain_.push_back(item);
            item = draft_.written[item].origin;
        }
        if (item != no_item && state_[item] == State::open) circle(chain_, item);
        for (auto link = chain_.rbegin(); link != chain_.rend(); ++link) {
            state_[*link] = State::done;
            order_.push_back(*link);
        }
    }

    void circle(const std::vector<ItemIndex>& chain, ItemIndex met) {
        constexpr std::size_t most_named = 10;
        const auto first = std::find(chain.begin(), chain.end(), met);
        std::string names;
        std::size_t named = 0;
        for (auto link = first; link != chain.end(); ++link)
            if (named++ < most_named) names += document::shown(draft_.model.items[*link].id) + ", ";
        if (named > most_named) names += "…, ";
        Written& written = draft_.written[chain.back()];
        draft_.messages.error(
            written.origin_span,
            fmt::format("a circle of like: {}{}", names, document::shown(draft_.model.items[met].id)),
            "one of these items must be written out");
        written.origin = no_item;
    }

    Draft& draft_;
    std::vector<ItemIndex> chain_;  ///< of the item at hand: what it starts from, and so on
    std::vector<State> state_;
    std::vector<ItemIndex> order_;
};

std::size_t weight(const Slot& slot) {
    const auto* list = slot.value.references();
    return 1 + (list == nullptr ? 0 : list->size() / 8);
}

// What the item does not state itself, with the places of its origin.
void copy_origin(Draft& draft, ItemIndex index) {
    const ItemIndex origin = draft.written[index].origin;
    if (origin == no_item) return;
    Item& item = draft.model.items[index];
    const std::vector<Slot>& slots = draft.model.items[origin].slots;
    item.slots.reserve(item.slots.size() + slots.size());
    for (const Slot& slot : slots) {
        if (find_slot(item, slot.field) != nullptr) continue;
        if (!draft.spend(weight(slot), draft.written[index].origin_span)) return;
        item.slots.push_back(slot);
    }
}

}  // namespace

void join_items(Draft& draft) {
    const std::vector<ItemIndex> order = Order(draft).run();
    const auto is_needed = [&draft](ItemIndex item) {
        const Kind::Role role = draft.kind_of(item).role;
        return role == Kind::Role::document || role == Kind::Role::instrument;
    };
    // Documents and instruments first: the claims need their grades, the readings their uncertainty.
    for (ItemIndex item : order)
        if (is_needed(item)) copy_origin(draft, item);
    gather_claims(draft);
    for (ItemIndex item : order) {
        if (!is_needed(item)) copy_origin(draft, item);
        join_claims(draft, item, false);
    }
}

}  // namespace packproof::model
