#include "engine/model/measurements.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "engine/document/shown.hpp"
#include "engine/model/bounds.hpp"
#include "engine/model/spoken_of.hpp"
#include "engine/units/print_quantity.hpp"
#include "engine/units/repeated.hpp"

namespace packproof::model {
namespace {

using document::in_quotes;
using document::Node;
using units::Interval;

// The names that the format itself gives to measurements and instruments.
constexpr std::string_view instrument_field = "instrument";
constexpr std::string_view uncertainty_field = "uncertainty";
constexpr std::string_view share_field = "uncertainty_share";
constexpr std::string_view resolution_field = "resolution";
constexpr std::string_view taken_field = "taken";
constexpr std::string_view tolerance_taken_field = "tolerance_taken";

bool is_open(const Node& node) {
    return node.is_string() && node.text == "?";
}

// What an instrument's own text says, in the dimension of what was read. 0 where nothing is said.
class Instrument {
  public:
    Instrument(Draft& draft, ItemIndex index, const Field& field)
        : draft_(draft), index_(index), field_(field) {}

    [[nodiscard]] bool good() const { return good_; }

    double size(std::string_view name) {
        const Slot* slot = said(name);
        const Text* text = slot == nullptr ? nullptr : slot->value.text();
        if (text == nullptr) return 0.0;
        // Differences: of a temperature in °C as in K.
        auto read = units::read_quantity(text->value, {field_.unit.dimension, false, false});
        if (const auto* error = std::get_if<units::ReadError>(&read)) return refuse(*slot, name, error->text);
        const auto& quantity = std::get<units::Quantity>(read);
        if (!quantity.range.is_point() || quantity.guess || quantity.nominal < 0.0)
            return refuse(*slot, name, "it is one size, not less than nothing");
        return quantity.nominal;
    }

    double share(text::Span named_at) {
        const Slot* slot = said(share_field);
        const Number* number = slot == nullptr ? nullptr : slot->value.number();
        if (number == nullptr) return 0.0;
        if (!field_.absolute) return std::max(std::abs(number->range.low), std::abs(number->range.high));
        good_ = false;
        draft_.messages.error(named_at,
                              fmt::format("{} of {} is a share of what it shows, which means nothing for a "
                                          "temperature",
                                          share_field, in_quotes(draft_.model.items[index_].id)),
                              "state the uncertainty in K");
        return 0.0;
    }

  private:
    [[nodiscard]] const Slot* said(std::string_view name) const {
        const Slot* slot = index_ == no_item ? nullptr : named_slot(draft_, index_, name);
        return slot == nullptr || slot->state != Slot::State::stated ? nullptr : slot;
    }

    double refuse(const Slot& slot, std::string_view name, const std::string& why) {
        good_ = false;
        draft_.messages.error(slot.span,
                              fmt::format("{} of {} for {}: {}", name,
                                          in_quotes(draft_.model.items[index_].id), field_.name, why),
                              "an instrument with several ranges is an item for each");
        return 0.0;
    }

    Draft& draft_;
    ItemIndex index_;
    const Field& field_;
    bool good_ = true;
};

class MeasurementReader {
  public:
    MeasurementReader(Draft& draft, ItemIndex index, const SpokenOf& spoken)
        : draft_(draft), index_(index), spoken_(spoken), field_(*spoken.field) {}

    void read(const Node& node) {
        if (is_open(node) || (node.is_string() && node.text == "none")) return;
        if (!node.is_array()) {
            reading(node);
        } else if (node.children.empty()) {
            draft_.messages.error(node.span, fmt::format("no reading of {} stands here", field_.name),
                                  "write readings = \"?\" until it is read");
            return;
        }
        for (const Node& child : node.children)
            if (!is_open(child)) reading(child);
        if (good_ && !slots_.empty()) add(node);
    }

  private:
    void reading(const Node& node) {
        Slot slot;
        if (!read_as(draft_, field_, node, "measured", slot))
            good_ = false;
        else if (const std::string_view why = unfit(slot); !why.empty())
            refuse(node, fmt::format("a reading of {} {}", field_.name, why),
                   "write what the instrument shows; how far it may be off is said of the instrument");
        else if (field_.form != Field::Form::quantity && !slots_.empty())
            refuse(node,
                   fmt::format("{} is read once: it is {}, of which there is no mean", field_.name,
                               wanted(field_)),
                   "take all but one out");
        else
            slots_.push_back(std::move(slot));
    }

    [[nodiscard]] std::string_view unfit(const Slot& slot) const {
        if (slot.state != Slot::State::stated) return "is a value or \"?\"";
        if (is_rate(slot.value, slot.unit, field_)) return "has its own unit and is no rate";
        const Range* permitted = slot.value.range();
        if (permitted != nullptr && permitted->lower.low == permitted->upper.high)
            return "is a permitted range: one value is none";
        const Number* number = slot.value.number();
        if (number == nullptr) return {};
        if (slot.value.basis.guess) return "is no guess";
        if (!number->range.is_point()) return "has no tolerance";
        return {};
    }

    void refuse(const Node& node, std::string sentence, std::string hint) {
        good_ = false;
        draft_.messages.error(node.span, std::move(sentence), std::move(hint));
    }

    void add(const Node& node) {
        const Slot* instrument = named_slot(draft_, index_, instrument_field);
        const Reference* used = instrument == nullptr ? nullptr : instrument->value.reference();
        Measured measured{index_, slots_.size(), used == nullptr ? no_item : used->item};
        Slot result = slots_.front();
        if (field_.form == Field::Form::quantity &&
            !combine(node, measured, instrument == nullptr ? node.span : instrument->span, result))
            return;
        const Slot* own = named_slot(draft_, index_, readings_field);
        result.field = spoken_.index;
        result.source = own == nullptr ? no_item : own->source;
        result.span = node.span;
        result.origin = Origin::measured;
        result.value.basis.measured = true;
        result.measurement = index_;
        if (field_.form == Field::Form::quantity) fill_in_taken(node);
        draft_.claims.push_back({index_, spoken_.item, std::move(result)});
        draft_.model.measured.push_back(measured);
    }

    bool combine(const Node& node, const Measured& measured, text::Span named_at, Slot& result) {
        units::RepeatedReadings given;
        double sum = 0.0;
        for (const Slot& slot : slots_) {
            given.readings.push_back(slot.value.number()->nominal);
            sum += std::abs(given.readings.back());
        }
        Instrument instrument(draft_, measured.instrument, field_);
        // One limit: what the maker gives as a share and as a size adds up.
        const double share = instrument.share(named_at) * sum / static_cast<double>(slots_.size());
        const double limit = instrument.size(uncertainty_field) + share;
        given.digit_step = instrument.size(resolution_field);
        if (!instrument.good()) return false;
        if (limit > 0.0) given.components.push_back({units::TypeB::Form::half_width, limit});
        const auto mean = units::combine(given);
        if (!mean) {
            draft_.messages.error(node.span, "these readings are too large to be combined");
            return false;
        }
        if (result.unit.gauge || result.unit.symbol.empty()) result.unit = field_.unit;
        if (slots_.size() == 1 && mean->expanded == 0.0) return true;
        Interval range = Interval::point(mean->mean) + Interval{-mean->expanded, mean->expanded};
        range.low = std::max(range.low, field_.least);
        range.high = std::min(range.high, field_.most);
        result.value.content = Number{range, std::clamp(mean->mean, range.low, range.high), {}};
        result.written = draft_.model.texts.emplace_back(
            units::print_value(range, mean->mean, result.unit, field_.absolute, shown_digits));
        return true;
    }

    void fill_in_taken(const Node& node) {
        const auto count = static_cast<double>(slots_.size());
        Value taken;
        taken.content = Number{Interval::point(count), count, {}};
        fill_in(draft_, index_, taken_field, std::move(taken),
                draft_.model.texts.emplace_back(fmt::format("{}", slots_.size())), node.span);
    }

    static constexpr int shown_digits = 6;

    Draft& draft_;
    ItemIndex index_;
    SpokenOf spoken_;
    const Field& field_;
    std::vector<Slot> slots_;  ///< one a reading
    bool good_ = true;
};

}  // namespace

void mark_open_readings(const Node& readings, Slot& into) {
    const bool all_open = readings.is_array() && !readings.children.empty() &&
                          std::all_of(readings.children.begin(), readings.children.end(), is_open);
    if (is_open(readings) || all_open) {
        into.state = Slot::State::asked;
        into.value.content = Missing{};
    } else if (readings.is_string() && readings.text == "none") {
        into.state = Slot::State::none;
        into.value.content = KnownNone{};
    }
}

void read_measurement(Draft& draft, ItemIndex measurement) {
    if (const auto spoken = spoken_of(draft, measurement, readings_field))
        MeasurementReader(draft, measurement, *spoken).read(*draft.written[measurement].claimed);
}

void fill_in_tolerance_taken(Draft& draft, const Claim& measured, const Slot& stated) {
    const Number* number = measured.slot.value.number();
    const Number* limits = stated.value.number();
    if (number == nullptr || limits == nullptr || !std::isfinite(limits->range.width())) return;
    // A limit to one side is no tolerance.
    if (!(limits->range.low < limits->nominal && limits->nominal < limits->range.high)) return;
    const double share = number->range.width() / limits->range.width();
    Value value;
    value.content = Number{Interval::point(share), share, {}};
    fill_in(draft, measured.claim, tolerance_taken_field, std::move(value),
            draft.model.texts.emplace_back(fmt::format("{:.3g} %", 100.0 * share)), measured.slot.span);
}

}  // namespace packproof::model
