#include "engine/inspect/label.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "engine/units/print_quantity.hpp"

namespace packproof::inspect {

using language::Expression;
using language::Input;
using language::Node;
using language::NodeIndex;
using language::Operation;
using model::ItemIndex;
using model::Type;
using model::Value;

namespace {

const Node& node_at(const Expression& expression, NodeIndex node) {
    return expression.nodes[static_cast<std::size_t>(node)];
}

/// The item that a member node looks at, and which member it is there.
struct Looked {
    ItemIndex item = model::no_item;
    const language::Member* member = nullptr;
};

Looked looked_at(const Expression& expression, NodeIndex index, ItemIndex item,
                 std::span<const ItemIndex> variables, facts::Facts& facts) {
    const Node& node = node_at(expression, index);
    if (node.operation != Operation::field && node.operation != Operation::quantity) return {};
    Looked looked;
    looked.item = item;
    if (node.first != language::no_node) {
        const Value owner = language::evaluate_node(expression, node.first, item, variables, facts.context());
        const model::Reference* reference = owner.reference();
        if (reference == nullptr || reference->item == model::no_item) return {};
        looked.item = reference->item;
    }
    const model::KindIndex kind = facts.model().items[looked.item].kind;
    for (std::uint32_t m = node.list_begin; m < node.list_end; ++m)
        if (expression.members[m].kind == kind) looked.member = &expression.members[m];
    return looked.member == nullptr ? Looked{} : looked;
}

std::string text_of(const model::Text& text) {
    if (text.alternatives.size() < 2) return std::string(text.value);
    std::string joined;
    for (auto alternative : text.alternatives)
        joined += (joined.empty() ? "" : " or ") + std::string(alternative);
    return joined;
}

std::string truth_word(model::Truth truth) {
    switch (truth) {
        case model::Truth::yes:
            return "yes";
        case model::Truth::no:
            return "no";
        case model::Truth::open:
            return "undecided";
        case model::Truth::unknown:
            return "not stated";
    }
    return {};
}

std::string reference_word(const model::Model& model, const model::Reference& reference) {
    if (reference.item == model::no_item) return "nothing";
    std::string word = item_label(model, reference.item);
    if (!reference.point.empty()) word += fmt::format(".{}", reference.point);
    return word;
}

Shown show_number(const model::Number& number, const Type& type, const units::Unit& preferred, int digits) {
    const double size = std::isfinite(number.nominal) ? number.nominal : number.range.low;
    const units::Unit unit = units::display_unit(type.dimension, preferred, size, type.absolute);
    Shown shown;
    // A nominal value at an end says nothing: that of one choice among several, or of a one-sided value.
    const bool at_an_end = number.nominal == number.range.low || number.nominal == number.range.high;
    shown.text = at_an_end ? units::print_interval(number.range, unit, type.absolute, digits)
                           : units::print_value(number.range, number.nominal, unit, type.absolute, digits);
    shown.is_number = true;
    shown.low = number.range.low;
    shown.high = number.range.high;
    shown.si_unit = si_symbol(type.dimension);
    return shown;
}

Shown show_range(const model::Range& range, const Type& type, const units::Unit& preferred, int digits) {
    const double size = std::isfinite(range.upper.low) ? range.upper.low : range.lower.high;
    const units::Unit unit = units::display_unit(type.dimension, preferred, size, type.absolute);
    Shown shown;
    if (!range.lower.is_point() || !range.upper.is_point()) {  // papers of one grade that differ
        shown.text =
            fmt::format("from {} up to {}", units::print_interval(range.lower, unit, type.absolute, digits),
                        units::print_interval(range.upper, unit, type.absolute, digits));
        shown.is_number = true;
        shown.low = range.lower.low;
        shown.high = range.upper.high;
        shown.si_unit = si_symbol(type.dimension);
        return shown;
    }
    shown.text =
        units::print_range(range.lower.high, range.upper.low, unit, type.absolute, std::max(digits, 5));
    shown.is_number = true;
    shown.low = range.lower.high;
    shown.high = range.upper.low;
    shown.si_unit = si_symbol(type.dimension);
    return shown;
}

}  // namespace

std::string item_label(const model::Model& model, ItemIndex item) {
    return item == model::no_item ? std::string("an item that is not there") : model.items[item].id;
}

std::string input_label(const model::Model& model, Input input) {
    if (input.item == model::no_item) return "an item that is not there";
    return fmt::format("{} of {}", model.kind_of(input.item).fields[input.field].name,
                       item_label(model, input.item));
}

units::Unit input_unit(const model::Model& model, Input input) {
    const model::Slot* slot = model.slot(input.item, input.field);
    const model::Field& field = model.kind_of(input.item).fields[input.field];
    if (slot != nullptr && slot->unit.dimension == field.unit.dimension && !slot->unit.symbol.empty())
        return slot->unit;
    return field.unit;
}

std::string measured_label(const model::Model& model, const model::Slot& slot) {
    const model::Measured* measured = model.readings_of(slot);
    if (measured == nullptr) return "measured";
    std::string words =
        measured->readings == 1 ? "measured once" : fmt::format("measured {} times", measured->readings);
    if (measured->instrument != model::no_item) words += ", " + item_label(model, measured->instrument);
    return words;
}

std::string place_label(const text::Sources& sources, const text::Span& span) {
    if (span.source == text::no_source) return {};
    return fmt::format("{}:{}", sources.path(span.source), sources.place(span.source, span.begin).line);
}

std::string si_symbol(const units::Dimension& dimension) {
    static constexpr const char* bases[] = {"m", "kg", "s", "A", "K", "mol", "cd"};
    for (const std::string_view symbol : units::units_of(dimension)) {  // V rather than m²·kg/(s³·A)
        const auto unit = units::read_unit(symbol);
        if (unit && unit->factor == 1.0 && unit->offset == 0.0 && !unit->gauge) return std::string(symbol);
    }
    std::string above;
    std::string below;
    for (std::size_t b = 0; b < dimension.exponent.size(); ++b) {
        const int exponent = dimension.exponent[b];
        if (exponent == 0) continue;
        std::string& side = exponent > 0 ? above : below;
        if (!side.empty()) side += "·";
        side += bases[b];
        if (std::abs(exponent) > 1) side += fmt::format("^{}", std::abs(exponent));
    }
    if (below.empty()) return above;
    const bool several = below.find("·") != std::string::npos;
    return fmt::format("{}/{}", above.empty() ? "1" : above, several ? "(" + below + ")" : below);
}

Shown show(const model::Model& model, const Value& value, const Type& type, const units::Unit& preferred,
           int digits) {
    if (const auto* number = value.number()) return show_number(*number, type, preferred, digits);
    if (const auto* range = value.range()) return show_range(*range, type, preferred, digits);
    Shown shown;
    if (const auto* text = value.text()) {
        shown.text = text_of(*text);
    } else if (const auto* truth = value.truth()) {
        shown.text = truth_word(*truth);
    } else if (const auto* reference = value.reference()) {
        shown.text = reference_word(model, *reference);
    } else if (const auto* references = value.references()) {
        for (const model::Reference& one : *references)
            shown.text += (shown.text.empty() ? "" : ", ") + reference_word(model, one);
        if (references->empty()) shown.text = "nothing";
    } else {
        shown.text = value.none() ? "none" : "not stated";
    }
    return shown;
}

std::optional<Input> node_input(const Expression& expression, NodeIndex node, ItemIndex item,
                                std::span<const ItemIndex> variables, facts::Facts& facts) {
    const Looked looked = looked_at(expression, node, item, variables, facts);
    if (looked.member == nullptr || node_at(expression, node).operation != Operation::field)
        return std::nullopt;
    return Input{looked.item, looked.member->index};
}

std::string node_label(const Expression& expression, NodeIndex index, ItemIndex item,
                       std::span<const ItemIndex> variables, facts::Facts& facts) {
    const Node& node = node_at(expression, index);
    const Looked looked = looked_at(expression, index, item, variables, facts);
    if (looked.member == nullptr) return expression.text.substr(node.begin, node.end - node.begin);
    const std::string& name = node.operation == Operation::field
                                  ? facts.model().kind_of(looked.item).fields[looked.member->index].name
                                  : facts.rules().quantities[looked.member->index].name;
    return fmt::format("{} of {}", name, item_label(facts.model(), looked.item));
}

units::Unit node_unit(const Expression& expression, NodeIndex index, ItemIndex item,
                      std::span<const ItemIndex> variables, facts::Facts& facts) {
    const Node& node = node_at(expression, index);
    const Looked looked = looked_at(expression, index, item, variables, facts);
    if (looked.member != nullptr)
        return node.operation == Operation::field
                   ? input_unit(facts.model(), {looked.item, looked.member->index})
                   : facts.rules().quantities[looked.member->index].unit;
    if (node.operation == Operation::number) return expression.literal_units[node.index];
    if (node.operation == Operation::lookup)
        return facts.rules().tables[node.index].columns[node.column].unit;
    if (node.operation == Operation::fold) return {};  // its body speaks of items that are not bound here
    const units::Dimension& own = expression.types[static_cast<std::size_t>(index)].dimension;
    std::vector<NodeIndex> below = {node.first, node.second, node.third};
    for (std::uint32_t a = node.list_begin; node.operation == Operation::call && a < node.list_end; ++a)
        below.push_back(expression.arguments[a]);
    for (const NodeIndex child : below) {  // the unit of the first operand of the same dimension
        if (child == language::no_node || expression.types[static_cast<std::size_t>(child)].dimension != own)
            continue;
        const units::Unit unit = node_unit(expression, child, item, variables, facts);
        if (unit.dimension == own && !unit.symbol.empty()) return unit;
    }
    return {};
}

std::string title_of(const model::Model& model) {
    for (const model::Item& item : model.items) {
        const model::Kind& kind = model.vocabulary->kinds[item.kind];
        if (!kind.single) continue;
        for (const std::string_view name : {"name", "title"})
            if (const auto field = kind.field(name))
                if (const model::Slot* slot = item.slot(*field);
                    slot != nullptr && slot->value.text() != nullptr)
                    return std::string(slot->value.text()->value);
    }
    return {};
}

language::Printer printer(facts::Facts& facts) {
    language::Printer printer;
    printer.value = [&facts](const Value& value, const Type& type, const units::Unit& preferred) {
        return show(facts.model(), value, type, preferred).text;
    };
    printer.unit = [&facts](const language::Member& member, bool is_field, ItemIndex item) {
        return is_field ? input_unit(facts.model(), {item, member.index})
                        : facts.rules().quantities[member.index].unit;
    };
    printer.table = [&facts](std::uint32_t table, std::uint32_t column) {
        const rules::Table& found = facts.rules().tables[table];
        return column < found.columns.size() ? found.name + "." + found.columns[column].name : found.name;
    };
    printer.item = [&facts](ItemIndex item) { return item_label(facts.model(), item); };
    return printer;
}

}  // namespace packproof::inspect
