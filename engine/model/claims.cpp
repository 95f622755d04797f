#include <fmt/core.h>

#include <algorithm>

#include "engine/model/measurements.hpp"
#include "engine/model/spoken_of.hpp"

namespace packproof::model {
namespace {

using units::Interval;

// The names that the format itself gives to claims and documents.
constexpr std::string_view value_field = "value";
constexpr std::string_view agrees_field = "agrees";
constexpr std::string_view grade_field = "grade";
constexpr std::string_view measured_grade = "measured";
constexpr std::string_view guess_grade = "guess";  // as good as a value written with ~

constexpr std::size_t no_rank = static_cast<std::size_t>(-1);

const Text* grade_of(const Draft& draft, ItemIndex document) {
    if (document == no_item) return nullptr;
    const Slot* slot = named_slot(draft, document, grade_field);
    return slot == nullptr ? nullptr : slot->value.text();
}

// The order of the choices is the order of the grades, best first; readings stand before all of them.
constexpr std::size_t rank_of_readings = 0;

std::size_t rank_of(const Draft& draft, ItemIndex document) {
    const Text* grade = grade_of(draft, document);
    if (grade == nullptr) return no_rank;
    const Kind& kind = draft.kind_of(document);
    const auto& choices = kind.fields[*kind.field(grade_field)].choices;
    const auto found = std::find(choices.begin(), choices.end(), grade->value);
    return found == choices.end() ? no_rank : 1 + static_cast<std::size_t>(found - choices.begin());
}

void mark_grade(const Draft& draft, Slot& slot) {
    const Text* grade = grade_of(draft, slot.source);
    if (grade == nullptr || slot.state != Slot::State::stated) return;
    if (grade->value == guess_grade) slot.value.basis.guess = true;
    if (grade->value != measured_grade) return;
    slot.origin = Origin::measured;
    slot.value.basis.measured = true;
}

void read_claim(Draft& draft, ItemIndex claim) {
    const auto spoken = spoken_of(draft, claim, value_field);
    if (!spoken) return;
    Slot slot;
    if (!read_as(draft, *spoken->field, *draft.written[claim].claimed, "claimed", slot)) return;
    slot.field = spoken->index;
    const Slot* value = named_slot(draft, claim, value_field);
    if (value != nullptr) slot.source = value->source;
    mark_grade(draft, slot);
    draft.claims.push_back({claim, spoken->item, std::move(slot)});
}

// -- joining -----------------------------------------------------------------------------------------------

bool same(Interval a, Interval b) {
    const auto equal = [](double x, double y) { return x == y || units::same_number(x, y); };
    return equal(a.low, b.low) && equal(a.high, b.high);
}

bool overlap(Interval a, Interval b) {
    const double low = std::max(a.low, b.low);
    const double high = std::min(a.high, b.high);
    return low <= high || units::same_number(low, high);
}

enum class Likeness { same, overlapping, different };

Likeness compare(const Value& a, const Value& b) {
    const auto from = [](bool equal) { return equal ? Likeness::same : Likeness::different; };
    if (a.content.index() != b.content.index()) return Likeness::different;
    if (const Number* x = a.number()) {
        const Number* y = b.number();
        if (same(x->range, y->range)) return Likeness::same;
        return overlap(x->range, y->range) ? Likeness::overlapping : Likeness::different;
    }
    if (const Range* x = a.range()) {
        const Range* y = b.range();
        // Ends are limits, not doubt: two papers with other limits contradict each other, overlap or not.
        return from(same(x->lower, y->lower) && same(x->upper, y->upper));
    }
    if (const Truth* x = a.truth()) return from(*x == *b.truth());
    if (const Text* x = a.text()) return from(x->value == b.text()->value);
    if (const Reference* x = a.reference()) return from(*x == *b.reference());
    if (const auto* x = a.references()) return from(*x == *b.references());
    return Likeness::same;
}

void join_texts(Text& into, const Text& other) {
    const auto add = [&into](std::string_view value) {
        auto& list = into.alternatives;
        if (list.empty()) list.push_back(into.value);
        if (std::find(list.begin(), list.end(), value) == list.end()) list.push_back(value);
        if (list.size() == 1) list.clear();
    };
    add(other.value);
    for (std::string_view alternative : other.alternatives)
        add(alternative);
}

// Everything that either says: what is not the same and has no hull is missing.
void join_values(Value& into, const Value& other) {
    const Basis basis = into.basis | other.basis;
    if (into.content.index() != other.content.index()) {
        into.content = Missing{};
    } else if (auto* number = std::get_if<Number>(&into.content)) {
        number->range = units::hull(number->range, other.number()->range);
    } else if (auto* range = std::get_if<Range>(&into.content)) {
        range->lower = units::hull(range->lower, other.range()->lower);
        range->upper = units::hull(range->upper, other.range()->upper);
    } else if (auto* truth = std::get_if<Truth>(&into.content)) {
        if (*truth != *other.truth()) *truth = Truth::open;
    } else if (auto* text = std::get_if<Text>(&into.content)) {
        join_texts(*text, *other.text());
    } else if (compare(into, other) != Likeness::same) {
        into.content = Missing{};
    }
    into.basis = basis;
}

struct Side {
    Slot slot;
    std::size_t rank = no_rank;

    [[nodiscard]] bool measured() const { return rank == rank_of_readings; }
};

// The best grade speaks, together with what has no grade at all: that may be as good, though not as good as
// the thing itself.
bool speaks(const Side& side, const std::vector<Side>& sides) {
    return side.rank == sides.front().rank || (side.rank == no_rank && !sides.front().measured());
}

void record_conflict(Draft& draft, ItemIndex item, const std::vector<Side>& sides) {
    Conflict conflict;
    conflict.item = item;
    conflict.field = sides.front().slot.field;
    conflict.agree = true;
    bool all_same = true;
    for (std::size_t i = 0; i < sides.size(); ++i)
        for (std::size_t j = i + 1; j < sides.size(); ++j) {
            const Likeness likeness = compare(sides[i].slot.value, sides[j].slot.value);
            all_same = all_same && likeness == Likeness::same;
            conflict.agree = conflict.agree && likeness != Likeness::different;
        }
    if (all_same) return;
    for (const Side& side : sides) {
        conflict.sides.push_back(side.slot);
        conflict.speaks.push_back(speaks(side, sides));
    }
    draft.model.conflicts.push_back(std::move(conflict));
}

bool is_measurement(const Draft& draft, ItemIndex item) {
    return draft.kind_of(item).role == Kind::Role::measurement;
}

// For rules to ask: whether a claim and everything else that is said can be true together. Papers are
// compared with papers, readings with everything.
void mark_agreement(Draft& draft, const Claim& claim, const std::vector<Side>& sides) {
    const bool measured = is_measurement(draft, claim.claim);
    if (measured && sides.size() < 2) return;  // nothing to agree with
    Value agrees;
    agrees.content = Truth::yes;
    for (const Side& side : sides)
        if ((measured || !side.measured()) &&
            compare(side.slot.value, claim.slot.value) == Likeness::different)
            agrees.content = Truth::no;
    const bool yes = *agrees.truth() == Truth::yes;
    fill_in(draft, claim.claim, agrees_field, std::move(agrees), yes ? "true" : "false", claim.slot.span);
    const auto stated = std::find_if(sides.begin(), sides.end(), [](const Side& s) { return !s.measured(); });
    if (measured && stated != sides.end()) fill_in_tolerance_taken(draft, claim, stated->slot);
}

Slot joined(const std::vector<Side>& sides) {
    Slot result = sides.front().slot;
    for (std::size_t i = 1; i < sides.size(); ++i) {
        if (!speaks(sides[i], sides)) continue;
        join_values(result.value, sides[i].slot.value);
        if (sides[i].slot.origin != Origin::measured) result.origin = Origin::stated;
        result.measurement = no_item;  // it is no longer that of one alone
    }
    return result;
}

void join_field(Draft& draft, ItemIndex index, std::vector<Claim>::iterator first,
                std::vector<Claim>::iterator last) {
    Item& item = draft.model.items[index];
    Slot* own = find_slot(item, first->slot.field);
    const auto says = [](const Slot& slot) { return slot.state != Slot::State::asked; };
    std::vector<Side> sides;
    if (own != nullptr && says(*own)) sides.push_back({*own, rank_of(draft, own->source)});
    for (auto claim = first; claim != last; ++claim)
        if (says(claim->slot))
            sides.push_back({claim->slot, is_measurement(draft, claim->claim)
                                              ? rank_of_readings
                                              : rank_of(draft, claim->slot.source)});
    if (sides.empty()) {
        if (own == nullptr) item.slots.push_back(first->slot);
        return;
    }
    std::stable_sort(sides.begin(), sides.end(),
                     [](const Side& a, const Side& b) { return a.rank < b.rank; });
    if (sides.size() > 1) record_conflict(draft, index, sides);
    Slot result = joined(sides);
    if (own != nullptr)
        *own = std::move(result);
    else
        item.slots.push_back(std::move(result));
    // Last, because a claim may speak of itself and its slots move then.
    for (auto claim = first; claim != last; ++claim)
        if (says(claim->slot)) mark_agreement(draft, *claim, sides);
}

}  // namespace

void gather_claims(Draft& draft) {
    for (std::size_t i = 0; i < draft.model.items.size(); ++i) {
        const auto index = static_cast<ItemIndex>(i);
        for (Slot& slot : draft.model.items[i].slots)
            mark_grade(draft, slot);
        if (draft.kind_of(index).role == Kind::Role::claim) read_claim(draft, index);
        if (is_measurement(draft, index)) read_measurement(draft, index);
    }
    std::stable_sort(draft.claims.begin(), draft.claims.end(), [](const Claim& a, const Claim& b) {
        return a.item != b.item ? a.item < b.item : a.slot.field < b.slot.field;
    });
}

void join_claims(Draft& draft, ItemIndex item, bool rates) {
    if (draft.claims.empty()) return;
    const auto of_item = [](const Claim& claim, ItemIndex wanted) { return claim.item < wanted; };
    auto first = std::lower_bound(draft.claims.begin(), draft.claims.end(), item, of_item);
    while (first != draft.claims.end() && first->item == item) {
        auto last = first;
        while (last != draft.claims.end() && last->item == item && last->slot.field == first->slot.field)
            ++last;
        const Field& field = draft.kind_of(item).fields[first->slot.field];
        if (field.rate_of.empty() != rates) {
            if (rates)
                for (auto claim = first; claim != last; ++claim) {
                    const auto base = draft.kind_of(item).field(field.rate_of);
                    multiply_rate(claim->slot, field, base ? draft.model.items[item].slot(*base) : nullptr);
                }
            join_field(draft, item, first, last);
        }
        first = last;
    }
}

}  // namespace packproof::model
