// A model in the making: what the steps from description to model hand to each other. Private to this folder.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "engine/document/parts.hpp"
#include "engine/model/item.hpp"
#include "engine/model/read_field.hpp"
#include "engine/text/message.hpp"

namespace packproof::model {

/// Ids of all items, sorted once.
class Ids {
  public:
    void build(const std::vector<Item>& items);
    [[nodiscard]] ItemIndex find(std::string_view id) const;  ///< no_item if unknown

    struct Entry {
        std::string_view id;
        ItemIndex item = no_item;
    };
    std::vector<Entry> entries;  ///< by id, then item
};

/// How an item stands in the description.
struct Written {
    const document::Node* table = nullptr;
    bool sole = false;  ///< `[kind]`: tables in it are items of their own
    bool in_parts = false;
    ItemIndex origin = no_item;  ///< named by `like` or `part`
    text::Span origin_span;
    const document::Node* claimed = nullptr;  ///< the value of a claim, the readings of a measurement
};

/// One document's word on one field, or what readings gave, kept apart from what the item itself states.
struct Claim {
    ItemIndex claim = no_item;  ///< the item of role claim or measurement
    ItemIndex item = no_item;   ///< of which it speaks
    Slot slot;
};

struct Draft {
    const document::Description& description;
    const Vocabulary& vocabulary;
    const text::Sources& sources;
    text::Messages& messages;
    Model model;
    std::vector<Written> written;  ///< beside model.items
    Ids ids;
    std::vector<Claim> claims;            ///< by item and field
    std::vector<KindIndex> absent_kinds;  ///< single kinds stated to be "none"

    [[nodiscard]] TextKeeper keeper() { return {sources, model.texts, &units}; }
    [[nodiscard]] const Kind& kind_of(ItemIndex item) const {
        return vocabulary.kinds[model.items[item].kind];
    }
    [[nodiscard]] const Field& field(ItemIndex item, const Slot& slot) const {
        return kind_of(item).fields[slot.field];
    }

    /// `did you mean "x"?`, or nothing. Only so often, because looking costs and many mistakes have one
    /// cause.
    [[nodiscard]] std::string suggest(std::string_view name, const std::vector<std::string_view>& candidates);
    [[nodiscard]] bool may_suggest() const { return suggestions < 50; }

    /// Counts values that copies and defaults add; false, with one message, when a description makes too
    /// many.
    [[nodiscard]] bool spend(std::size_t values, text::Span span);

    int suggestions = 0;
    std::size_t spent = 0;
    units::UnitMemory units = {};
};

[[nodiscard]] Slot* find_slot(Item& item, FieldIndex field);

// The steps, in order. Each reports what is wrong and leaves out what it could not read.

/// Items with id, kind and place, of the description and of its parts.
void collect_items(Draft& draft);
/// Fields as each item states them, references resolved.
void read_items(Draft& draft);
/// What `like` and `part` bring, with claims joined to the values they speak of; measured values marked.
void join_items(Draft& draft);
/// Which parts are used; references to the only item there is; order within kinds.
void activate_items(Draft& draft);
/// Rates multiplied and defaults filled in.
void fill_defaults(Draft& draft);

/// Every claim and every measurement read as the field that it speaks of.
void gather_claims(Draft& draft);
/// The claims on one item joined to its slots: those on rates ("0.5C") or all others.
void join_claims(Draft& draft, ItemIndex item, bool rates);

/// Resolves a string node for a reference field; false after a message.
[[nodiscard]] bool resolve(Draft& draft, const document::Node& node, const Field& field, Reference& into);
/// A document's id, with what follows a comma left out; no_item after a message.
[[nodiscard]] ItemIndex resolve_document(Draft& draft, const document::Node& node);

/// "0.5C" of a base value; Missing where the base is not a number.
void multiply_rate(Slot& slot, const Field& field, const Slot* base);

}  // namespace packproof::model
