#include "world.hpp"

#include <doctest/doctest.h>
#include <fmt/core.h>

#include <algorithm>
#include <limits>

#include "engine/units/read_quantity.hpp"

namespace packproof::language {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

model::Field field(std::string name, model::Field::Form form, std::string_view unit = "") {
    model::Field made;
    made.name = std::move(name);
    made.form = form;
    if (!unit.empty()) made.unit = *units::read_unit(unit);
    made.least = -infinity;
    made.most = infinity;
    return made;
}

model::Field above_zero(model::Field made) {
    made.least = 0.0;
    made.least_open = true;
    return made;
}

model::Field temperature(model::Field made) {
    made.absolute = true;
    made.least = 0.0;
    return made;
}

model::Field refers(std::string name, model::Field::Form form, std::vector<model::KindIndex> kinds) {
    model::Field made = field(std::move(name), form);
    made.kinds = std::move(kinds);
    return made;
}

model::Kind declare(std::string name, std::vector<model::Field> fields) {
    model::Kind made;
    made.name = std::move(name);
    made.fields = std::move(fields);
    return made;
}

std::string gap_words(const World& world, const Gap& gap) {
    static constexpr const char* reasons[] = {
        "not stated",   "asked",       "beyond table",     "no such item",
        "not a number", "known none",  "has no lower end", "has no upper end",
        "on no way",    "only assumed"};
    const char* reason = reasons[static_cast<std::size_t>(gap.reason)];
    if (gap.reason == Gap::Reason::beyond_table)
        return fmt::format("{} {}", reason, world.tables[gap.table].name);
    if (gap.input.item == model::no_item) return reason;
    const model::Item& item = world.model.items[gap.input.item];
    return fmt::format("{}.{} {}", item.id, world.vocabulary.kinds[item.kind].fields[gap.input.field].name,
                       reason);
}

}  // namespace

World::World() {
    using Form = model::Field::Form;
    // pack 0, conductor 1, device 2, busbar 3, lug 4, joint 5
    vocabulary.kinds = {
        declare("pack", {field("series", Form::count), temperature(field("ambient", Form::quantity, "°C"))}),
        declare("conductor",
                {above_zero(field("section", Form::quantity, "mm²")), field("length", Form::quantity, "m"),
                 field("current", Form::quantity, "A"), temperature(field("limit", Form::quantity, "°C")),
                 field("insulation", Form::choice), refers("protected_by", Form::reference, {2}),
                 field("tinned", Form::truth), field("label", Form::text)}),
        declare("device", {field("rated_current", Form::quantity, "A"), field("curve", Form::choice)}),
        declare("busbar",
                {above_zero(field("thickness", Form::quantity, "mm")), field("width", Form::quantity, "mm")}),
        declare("lug",
                {above_zero(field("thickness", Form::quantity, "mm")), field("hole", Form::quantity, "mm")}),
        declare("joint",
                {refers("layers", Form::references, {3, 4}), field("torque", Form::quantity, "N·m"),
                 field("allowed_torque", Form::range, "N·m"), refers("on", Form::reference, {2, 3})})};
    vocabulary.kinds[0].single = true;
    vocabulary.kinds[1].fields[4].choices = {"rubber", "plastic", "silicone"};
    vocabulary.kinds[2].fields[1].choices = {"slow", "fast"};

    const auto number = [](std::string_view unit) {
        model::Type type;
        if (!unit.empty()) type.dimension = units::read_unit(unit)->dimension;
        return type;
    };
    model::Type text;
    text.kind = model::Type::Kind::text;
    tables = {{"capacity", {"insulation", "section"}, {text, number("mm²")}, {"current"}, {number("A")}},
              {"fuse_sizes", {"size"}, {number("A")}, {}, {}}};
    quantities = {{1, "resistance", number("Ω")}, {3, "hole", number("mm")}};
    formulas = {compile("conductor", "17 µΩ·mm * length / section"), compile("busbar", "width / 2")};
    model.vocabulary = &vocabulary;
    model.of_kind.resize(vocabulary.kinds.size());
}

model::ItemIndex World::add(std::string_view kind_name, std::string id) {
    model::Item item;
    item.kind = kind(kind_name);
    item.id = std::move(id);
    const auto index = static_cast<model::ItemIndex>(model.items.size());
    item.position = static_cast<std::uint32_t>(model.of_kind[item.kind].size());
    model.of_kind[item.kind].push_back(index);
    model.items.push_back(std::move(item));
    return index;
}

Input World::input(model::ItemIndex item, std::string_view field_name) const {
    const auto found = vocabulary.kinds[model.items[item].kind].field(field_name);
    REQUIRE(found.has_value());
    return {item, *found};
}

void World::clear(model::ItemIndex item, std::string_view field_name) {
    auto& slots = model.items[item].slots;
    const model::FieldIndex field_index = input(item, field_name).field;
    slots.erase(
        std::remove_if(slots.begin(), slots.end(), [&](const auto& s) { return s.field == field_index; }),
        slots.end());
}

model::Slot& World::slot(model::ItemIndex item, std::string_view field_name) {
    clear(item, field_name);
    model::Slot made;
    made.field = input(item, field_name).field;
    auto& slots = model.items[item].slots;
    const auto place =
        std::upper_bound(slots.begin(), slots.end(), made.field,
                         [](model::FieldIndex f, const model::Slot& s) { return f < s.field; });
    return *slots.insert(place, made);
}

void World::set(model::ItemIndex item, std::string_view field_name, model::Value value) {
    slot(item, field_name).value = std::move(value);
}

void World::set(model::ItemIndex item, std::string_view field_name, std::string_view written) {
    using Form = model::Field::Form;
    const model::Field& declared =
        vocabulary.kinds[model.items[item].kind].fields[input(item, field_name).field];
    model::Slot& made = slot(item, field_name);
    if (written == "?" || written == "none") {
        made.state = written == "?" ? model::Slot::State::asked : model::Slot::State::none;
        if (written == "none") made.value.content = model::KnownNone{};
        return;
    }
    const units::Expected expected{declared.unit.dimension, declared.absolute, false};
    if (declared.form == Form::quantity || declared.form == Form::count) {
        const auto read = units::read_quantity(written, expected);
        REQUIRE_MESSAGE(std::holds_alternative<units::Quantity>(read), written);
        const auto& quantity = std::get<units::Quantity>(read);
        made.value.content = model::Number{quantity.range, quantity.nominal, {}};
        made.value.basis.guess = quantity.guess;
    } else if (declared.form == Form::range) {
        const auto read = units::read_range(written, expected);
        REQUIRE(std::holds_alternative<units::PermittedRange>(read));
        const auto& range = std::get<units::PermittedRange>(read);
        made.value.content =
            model::Range{units::Interval::point(range.lower), units::Interval::point(range.upper)};
    } else if (declared.form == Form::truth) {
        made.value.content = written == "true" ? model::Truth::yes : model::Truth::no;
    } else {
        made.value.content = model::Text{written, {}};
    }
}

void World::assume(model::ItemIndex item, std::string_view field_name, std::string_view written) {
    set(item, field_name, written);
    const model::FieldIndex field_index = input(item, field_name).field;
    for (model::Slot& made : model.items[item].slots)
        if (made.field == field_index) made.origin = model::Origin::assumed;
}

void World::refer(model::ItemIndex item, std::string_view field_name, std::vector<model::ItemIndex> to) {
    using Form = model::Field::Form;
    const model::Field& declared =
        vocabulary.kinds[model.items[item].kind].fields[input(item, field_name).field];
    std::vector<model::Reference> references;
    for (const model::ItemIndex one : to)
        references.push_back({one, {}});
    if (declared.form == Form::reference)
        slot(item, field_name).value.content = references.front();
    else
        slot(item, field_name).value.content = references;
}

std::string print_mistakes(const std::vector<Mistake>& mistakes) {
    std::string all;
    for (const Mistake& mistake : mistakes) {
        if (!all.empty()) all += "\n";
        all += fmt::format("{}..{} {}", mistake.begin, mistake.end, mistake.text);
        if (!mistake.hint.empty()) all += fmt::format(" ({})", mistake.hint);
    }
    return all;
}

std::string World::mistakes(std::string_view kind_name, std::string_view text) const {
    std::vector<Mistake> found;
    auto tree = parse(text, found);
    if (tree) check(*tree, kind(kind_name), names(), found);
    return print_mistakes(found);
}

Expression World::compile(std::string_view kind_name, std::string_view text) const {
    std::vector<Mistake> found;
    auto tree = parse(text, found);
    const bool good = tree && check(*tree, kind(kind_name), names(), found);
    REQUIRE_MESSAGE(good, text, "\n", print_mistakes(found));
    return std::move(*tree);
}

Context World::context() const {
    Context context;
    context.model = &model;
    context.quantity = [this](std::uint16_t quantity, model::ItemIndex item, const Context& asking) {
        return evaluate(formulas[quantity], item, asking);
    };
    return context;
}

model::Value World::ask(model::ItemIndex item, std::string_view text) const {
    kept_.push_back(compile(model.kind_of(item).name, text));
    return evaluate(kept_.back(), item, context());
}

std::string World::answer(model::ItemIndex item, std::string_view text) const {
    kept_.push_back(compile(model.kind_of(item).name, text));
    std::vector<Gap> gaps;
    Context asking = context();
    asking.gaps = &gaps;
    const model::Value value = evaluate(kept_.back(), item, asking);
    if (value.missing()) {
        std::string words;
        for (const Gap& gap : gaps)
            words += (words.empty() ? " " : ", ") + gap_words(*this, gap);
        return "missing:" + words;
    }
    if (!gaps.empty()) return "decided, but leaves gaps";
    if (value.none()) return "none";
    if (const auto* number = value.number()) {
        const std::string low = fmt::format("{:.12g}", number->range.low);
        const std::string high = fmt::format("{:.12g}", number->range.high);
        return low == high ? low : fmt::format("[{}, {}]", low, high);
    }
    if (const auto* truth = value.truth()) {
        static constexpr const char* words[] = {"yes", "no", "open", "unknown"};
        return words[static_cast<std::size_t>(*truth)];
    }
    if (const auto* found = value.text()) {
        if (found->alternatives.empty()) return fmt::format("text {}", found->value);
        std::string words;
        for (const std::string_view one : found->alternatives)
            words += (words.empty() ? "" : "|") + std::string(one);
        return "one of " + words;
    }
    if (const auto* reference = value.reference()) return "item " + model.items[reference->item].id;
    return "other";
}

}  // namespace packproof::language
