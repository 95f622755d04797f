#include "tests/model/small_vocabulary.hpp"

#include <fmt/format.h>

#include <cmath>

namespace packproof::testing {

using model::Authority;
using model::Field;
using model::Kind;
using model::KindIndex;
using model::Vocabulary;

namespace {

constexpr double unbounded = HUGE_VAL;

Field field(const char* name, Field::Form form) {
    Field result;
    result.name = name;
    result.form = form;
    result.least = -unbounded;
    return result;
}

Field quantity(const char* name, const char* unit, Field::Form form = Field::Form::quantity) {
    Field result = field(name, form);
    if (*unit != '\0') result.unit = *units::read_unit(unit);
    return result;
}

Field positive(Field result) {
    result.least = 0.0;
    result.least_open = true;
    return result;
}

Field count(const char* name, double least) {
    Field result = field(name, Field::Form::count);
    result.least = least;
    return result;
}

Field choice(const char* name, std::vector<std::string> choices) {
    Field result = field(name, Field::Form::choice);
    result.choices = std::move(choices);
    return result;
}

Field assumed(Field result, const char* value, Authority::Status status) {
    result.assume = value;
    result.assume_basis.push_back({"invented", "", "", status});
    return result;
}

Field rate(Field result, const char* of) {
    result.rate_of = of;
    return result;
}

Field refers(const char* name, std::vector<KindIndex> kinds, Field::Form form = Field::Form::reference) {
    Field result = field(name, form);
    result.kinds = std::move(kinds);
    return result;
}

Kind kind(const char* name, std::vector<Field> fields, Kind::Role role = Kind::Role::plain) {
    Kind result;
    result.name = name;
    result.fields = std::move(fields);
    result.role = role;
    return result;
}

enum : KindIndex {
    pack,
    paper,
    claim,
    concession,
    cell,
    fixture,
    conductor,
    breaker,
    busbar,
    joint,
    instrument
};

}  // namespace

Vocabulary small_vocabulary() {
    using Form = Field::Form;
    using Status = Authority::Status;
    Vocabulary result;
    auto& kinds = result.kinds;

    Field each = choice("practice", {"iec", "nec", "marine"});
    each.each_choice = true;
    Field ambient = assumed(quantity("ambient", "°C"), "5 .. 35 °C", Status::common_practice);
    ambient.absolute = true;
    ambient.least = 0.0;
    kinds.push_back(kind("pack", {field("name", Form::text), count("series", 1),
                                  assumed(count("parallel", 1), "1", Status::common_practice), each, ambient,
                                  assumed(field("indoors", Form::truth), "true", Status::common_practice)}));
    kinds.back().single = true;
    kinds.push_back(kind("document",
                         {field("title", Form::text), field("date", Form::date),
                          choice("grade", {"measured", "maker", "standard", "supplier", "message", "guess"})},
                         Kind::Role::document));
    kinds.push_back(kind("claim",
                         {refers("item", {}), field("field", Form::text), field("value", Form::text),
                          refers("source", {paper}), field("agrees", Form::truth)},
                         Kind::Role::claim));
    kinds.push_back(kind("concession",
                         {field("rule", Form::text), refers("item", {}), field("until", Form::date)},
                         Kind::Role::concession));
    Field temperature = quantity("temperature", "°C", Form::range);
    temperature.absolute = true;
    temperature.least = 0.0;
    kinds.push_back(kind(
        "cell", {positive(quantity("capacity", "Ah")), positive(quantity("thickness", "mm")),
                 positive(quantity("resistance", "mΩ")), positive(quantity("clamp_force", "kN", Form::range)),
                 rate(positive(quantity("charge_current", "A")), "capacity"),
                 rate(quantity("discharge_current", "A", Form::range), "capacity"), temperature,
                 field("terminal_thread", Form::text), choice("chemistry", {"LFP", "NMC", "LTO"}),
                 field("vented", Form::truth)}));
    Field preload = assumed(quantity("nut_factor", ""), "0.15 .. 0.31", Status::recalled);
    Field share = quantity("share", "%");
    share.least = 0.0;
    share.most = 1.0;
    kinds.push_back(kind("fixture", {count("bolts", 1), field("thread", Form::text),
                                     positive(quantity("bolt_torque", "N·m")), preload, share}));
    kinds.back().single = true;
    kinds.push_back(kind("conductor", {positive(quantity("section", "mm²")),
                                       positive(quantity("length", "m")), refers("from", {breaker, busbar}),
                                       refers("to", {breaker, busbar}), refers("protected_by", {breaker}),
                                       field("made", Form::date), positive(quantity("rated_voltage", "V"))}));
    kinds.push_back(
        kind("breaker", {positive(quantity("rated_current", "A")), count("poles", 1),
                         refers("backed_up_by", {breaker}), choice("polarity", {"none", "marked"})}));
    kinds.back().points = {"line", "load"};
    kinds.push_back(kind("busbar", {positive(quantity("width", "mm")), field("material", Form::text)}));
    Field on = refers("on", {cell});
    on.the_only_one = true;
    kinds.push_back(kind("joint", {on, refers("layers", {busbar, conductor}, Form::references),
                                   positive(quantity("torque", "N·m"))}));
    kinds.push_back(kind("instrument",
                         {field("uncertainty", Form::text), quantity("uncertainty_share", "%"),
                          field("resolution", Form::text)},
                         Kind::Role::instrument));
    kinds.push_back(kind("measurement",
                         {refers("item", {}), field("field", Form::text), field("readings", Form::text),
                          refers("instrument", {instrument}), field("date", Form::date),
                          field("agrees", Form::truth), count("taken", 0), quantity("tolerance_taken", "%")},
                         Kind::Role::measurement));

    text::Messages messages;
    prepare(result, messages);
    return result;
}

Built::Built(const std::string& text, const std::string& parts) : vocabulary(small_vocabulary()) {
    description = document::load_description_text("pack.toml", text, sources, messages);
    if (description && !parts.empty()) {
        const auto source = document::add_text("parts.toml", parts, sources, messages);
        if (source) {
            auto root = document::read_toml(*source, sources, messages);
            if (root) description->parts.push_back(std::move(*root));
        }
    }
    build();
}

std::unique_ptr<Built> Built::from_file(const std::string& path) {
    std::unique_ptr<Built> result(new Built);
    result->vocabulary = small_vocabulary();
    result->description = document::load_description(path, result->sources, result->messages);
    result->build();
    return result;
}

void Built::build() {
    if (description) model = build_model(*description, vocabulary, sources, messages);
}

std::string Built::said() const {
    std::string result;
    for (const text::Message& message : messages.sorted()) {
        result += print_message(message, sources);
        if (result.back() != '\n') result += '\n';
    }
    return result;
}

std::string Built::items() const {
    std::string result;
    if (!model) return "no model";
    for (const model::Item& one : model->items)
        if (one.active && one.stated) result += vocabulary.kinds[one.kind].name + " " + one.id + "; ";
    return result;
}

model::ItemIndex Built::item(std::string_view id) const {
    for (std::size_t i = 0; model && i < model->items.size(); ++i)
        if (model->items[i].id == id) return static_cast<model::ItemIndex>(i);
    return model::no_item;
}

const model::Slot* Built::slot(std::string_view id, std::string_view name) const {
    const model::ItemIndex index = item(id);
    if (index == model::no_item) return nullptr;
    const auto place = model->kind_of(index).field(name);
    return place ? model->slot(index, *place) : nullptr;
}

namespace {

std::string number_text(units::Interval range) {
    const std::string low = fmt::format("{:.10g}", range.low);
    const std::string high = fmt::format("{:.10g}", range.high);
    return low == high ? low : low + " .. " + high;
}

std::string text_of(const model::Value& value, const model::Model& model) {
    if (value.none()) return "none";
    if (const auto* number = value.number()) {
        if (number_text(number->range).find(' ') == std::string::npos) return number_text(number->range);
        return fmt::format("{:.10g} ({})", number->nominal, number_text(number->range));
    }
    if (const auto* range = value.range())
        return fmt::format("[{}] to [{}]", number_text(range->lower), number_text(range->upper));
    if (const auto* truth = value.truth())
        return *truth == model::Truth::yes ? "yes" : *truth == model::Truth::no ? "no" : "open";
    if (const auto* text = value.text()) {
        if (text->alternatives.empty()) return std::string(text->value);
        return fmt::format("{}", fmt::join(text->alternatives, "|"));
    }
    const auto reference_text = [&](const model::Reference& one) {
        return model.items[one.item].id + (one.point.empty() ? "" : "." + std::string(one.point));
    };
    if (const auto* one = value.reference()) return "-> " + reference_text(*one);
    if (const auto* many = value.references()) {
        std::string result = "->";
        for (const auto& one : *many)
            result += " " + reference_text(one);
        return result;
    }
    return "missing";
}

}  // namespace

std::string Built::value(std::string_view id, std::string_view name) const {
    const model::Slot* found = slot(id, name);
    if (found == nullptr) return "absent";
    std::string result = text_of(found->value, *model);
    if (found->state == model::Slot::State::asked) result += " asked";
    if (found->origin == model::Origin::assumed) result += " assumed";
    if (found->origin == model::Origin::measured) result += " measured";
    const model::Basis basis = found->value.basis;
    if (basis.guess) result += " guess";
    if (basis.recalled) result += " recalled";
    if (found->source != model::no_item) result += " by " + model->items[found->source].id;
    return result;
}

std::string_view Built::under(text::Span span) const {
    return sources.bytes(span.source).substr(span.begin, span.end - span.begin);
}

}  // namespace packproof::testing
