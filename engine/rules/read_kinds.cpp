// Vocabulary and cautions from rule files.
#include <fmt/core.h>

#include <algorithm>
#include <limits>

#include "engine/rules/entry.hpp"
#include "engine/rules/reading.hpp"
#include "engine/text/nearest_name.hpp"
#include "engine/text/safe_print.hpp"
#include "engine/units/read_quantity.hpp"

namespace packproof::rules {

using document::Node;
using Form = model::Field::Form;

namespace {

constexpr std::pair<std::string_view, Form> forms[] = {
    {"quantity", Form::quantity}, {"range", Form::range},         {"count", Form::count},
    {"truth", Form::truth},       {"text", Form::text},           {"choice", Form::choice},
    {"date", Form::date},         {"reference", Form::reference}, {"references", Form::references},
};

std::optional<Form> read_form(Entry& entry) {
    const Node* node = entry.take("form");
    std::vector<std::string_view> names;
    for (const auto& [name, form] : forms) {
        if (node != nullptr && node->text == name) return form;
        names.push_back(name);
    }
    if (node == nullptr) {
        entry.error(entry.node(), fmt::format("{} has no `form`", entry.what()));
        return std::nullopt;
    }
    const std::string_view near = text::nearest_name(node->text, names);
    entry.error(*node, fmt::format("unknown form \"{}\"", text::safe_print(node->text)),
                near.empty()
                    ? "one of quantity, range, count, truth, text, choice, date, reference, references"
                    : fmt::format("the nearest is \"{}\"", near));
    return std::nullopt;
}

/// A bound: a bare number in the field's unit, or text with a unit. SI.
std::optional<double> read_bound(Entry& entry, std::string_view key, const model::Field& field) {
    const Node* node = entry.take(key);
    if (node == nullptr) return std::nullopt;
    if (node->kind == Node::Kind::integer || node->kind == Node::Kind::real) {
        const double written =
            node->kind == Node::Kind::integer ? static_cast<double>(node->integer) : node->real;
        return (written + (field.absolute ? field.unit.offset : 0.0)) * field.unit.factor;
    }
    if (node->is_string()) {
        auto read = units::read_quantity(node->text, {field.unit.dimension, field.absolute, false});
        if (const auto* quantity = std::get_if<units::Quantity>(&read)) return quantity->nominal;
        entry.error(*node, std::get<units::ReadError>(read).text, std::get<units::ReadError>(read).hint);
        return std::nullopt;
    }
    entry.error(*node, fmt::format("`{}` must be a number, or text with a unit", key));
    return std::nullopt;
}

void read_bounds(Entry& entry, model::Field& field) {
    field.least = -std::numeric_limits<double>::infinity();
    field.most = std::numeric_limits<double>::infinity();
    if (field.absolute) field.least = 0.0;  // nothing is colder than absolute zero
    if (field.form == Form::count) field.least = 0.0;
    if (auto least = read_bound(entry, "least", field)) field.least = *least;
    if (auto more_than = read_bound(entry, "more_than", field)) {
        field.least = *more_than;
        field.least_open = true;
    }
    if (auto most = read_bound(entry, "most", field)) field.most = *most;
}

void read_assumption(Entry& entry, model::Field& field) {
    if (const Node* node = entry.take("assume")) {
        switch (node->kind) {
            case Node::Kind::string:
                field.assume = node->text;
                break;
            case Node::Kind::integer:
                field.assume = fmt::format("{}", node->integer);
                break;
            case Node::Kind::boolean:
                field.assume = node->boolean ? "true" : "false";
                break;
            default:
                entry.error(*node, "`assume` must be text, a whole number or true/false");
        }
    }
    field.assume_basis = entry.authorities("assume_basis", !field.assume.empty());
}

/// A team's own words beside those that a choice has.
void add_choices(Entry& entry, model::Kind& kind) {
    const std::vector<std::string> more = entry.texts("more_choices");
    entry.finish();
    const auto index = kind.field(entry.node().key);
    if (!index || kind.fields[*index].form != Form::choice) {
        entry.error(entry.node(), fmt::format("{} is no choice that exists", entry.what()));
        return;
    }
    std::vector<std::string>& choices = kind.fields[*index].choices;
    for (const std::string& choice : more) {
        if (std::find(choices.begin(), choices.end(), choice) != choices.end())
            entry.error(*entry.node().find("more_choices"),
                        fmt::format("\"{}\" is a choice already", text::safe_print(choice)));
        else
            choices.push_back(choice);
    }
}

model::AnsweredBy read_answered_by(Entry& entry, model::AnsweredBy otherwise) {
    const std::string name = entry.text("answered_by");
    if (name.empty()) return otherwise;
    if (name == "supplier") return model::AnsweredBy::supplier;
    if (name == "bench") return model::AnsweredBy::bench;
    if (name == "builder") return model::AnsweredBy::builder;
    entry.error(*entry.node().find("answered_by"),
                fmt::format("\"{}\" answers nothing", text::safe_print(name)),
                "one of supplier, bench, builder");
    return otherwise;
}

void read_field(const Node& node, model::Kind& kind, Reading& reading) {
    if (!node.is_table()) {
        reading.messages.error(node.span, fmt::format("field {} of {} must be a table", node.key, kind.name));
        return;
    }
    Entry entry(node, fmt::format("field {} of {}", text::safe_print(node.key), kind.name), reading.messages);
    if (node.find("more_choices") != nullptr) {
        add_choices(entry, kind);
        return;
    }
    const auto form = read_form(entry);
    if (!form) return;
    model::Field field;
    field.name = node.key;
    field.form = *form;
    field.span = place_of(node);
    field.about = entry.text("about", true);
    field.ask = entry.text("ask");
    field.answered_by = read_answered_by(entry, kind.answered_by);
    field.unit = entry.unit("unit");
    field.absolute = entry.truth("temperature").value_or(false);
    field.choices = entry.texts("choices");
    field.each_choice = entry.truth("each_choice").value_or(false);
    field.the_only_one = entry.truth("the_only_one").value_or(false);
    field.rate_of = entry.text("rate_of");
    read_bounds(entry, field);
    read_assumption(entry, field);
    for (const std::string& name : entry.texts("kinds")) {
        if (auto index = reading.set.vocabulary.kind(name)) {
            field.kinds.push_back(*index);
            continue;
        }
        std::vector<std::string_view> names;
        for (const model::Kind& known : reading.set.vocabulary.kinds)
            names.emplace_back(known.name);
        const std::string_view near = text::nearest_name(name, names);
        entry.error(*node.find("kinds"), fmt::format("unknown kind \"{}\"", text::safe_print(name)),
                    near.empty() ? std::string{} : fmt::format("the nearest is \"{}\"", near));
    }
    std::sort(field.kinds.begin(), field.kinds.end());
    if (field.form == Form::choice && field.choices.empty())
        entry.error(node, fmt::format("{} is a choice without `choices`", entry.what()));
    if ((field.form == Form::reference || field.form == Form::references) && node.find("kinds") == nullptr)
        entry.error(node, fmt::format("{} is a reference without `kinds`", entry.what()));
    if (field.absolute && field.unit.dimension != units::Dimension{{0, 0, 0, 0, 1, 0, 0}})
        entry.error(node, fmt::format("{} is a temperature, but its unit is not", entry.what()),
                    "unit = \"°C\"");
    entry.finish();
    if (kind.field(field.name)) {
        reading.messages.error(
            field.span, fmt::format("{} exists already", entry.what()),
            "a field cannot be changed; add one with another name, or `more_choices` to a choice");
        return;
    }
    kind.fields.push_back(std::move(field));
}

std::optional<model::Kind::Role> read_role(const std::string& name) {
    if (name.empty() || name == "plain") return model::Kind::Role::plain;
    if (name == "document") return model::Kind::Role::document;
    if (name == "claim") return model::Kind::Role::claim;
    if (name == "concession") return model::Kind::Role::concession;
    if (name == "measurement") return model::Kind::Role::measurement;
    if (name == "instrument") return model::Kind::Role::instrument;
    return std::nullopt;
}

void read_kind(const Node& node, Reading& reading) {
    const bool known = reading.set.vocabulary.kind(node.key).has_value();
    Entry entry(node, fmt::format("kind {}", text::safe_print(node.key)), reading.messages);
    entry.take("field");
    if (known && node.find("about") == nullptr) {  // only adds fields
        entry.finish();
        return;
    }
    model::Kind kind;
    kind.name = node.key;
    kind.span = place_of(node);
    kind.about = entry.text("about", true);
    kind.single = entry.truth("single").value_or(false);
    kind.points = entry.texts("points");
    kind.caution = entry.text("caution");
    kind.answered_by = read_answered_by(entry, model::AnsweredBy::builder);
    const std::string role = entry.text("role");
    if (const auto read = read_role(role)) {
        kind.role = *read;
    } else {
        entry.error(*node.find("role"), fmt::format("unknown role \"{}\"", text::safe_print(role)),
                    "one of plain, document, claim, concession, measurement, instrument");
    }
    if (!kind.caution.empty() && reading.set.caution(kind.caution) == nullptr)
        entry.error(*node.find("caution"),
                    fmt::format("unknown caution \"{}\"", text::safe_print(kind.caution)));
    entry.finish();
    if (known) {
        reading.messages.error(kind.span, fmt::format("kind {} exists already", kind.name),
                               "to add fields, write only [kind." + kind.name + ".field]");
        return;
    }
    reading.set.vocabulary.kinds.push_back(std::move(kind));
}

}  // namespace

void read_kinds(Reading& reading) {
    const auto kinds = members(reading, "kind");
    // A file that only adds fields may stand before the one that has the kind.
    for (const bool declares : {true, false})
        for (const Node* node : kinds)
            if ((node->find("about") != nullptr) == declares) read_kind(*node, reading);
    for (const Node* node : kinds) {
        const Node* fields = node->find("field");
        const auto index = reading.set.vocabulary.kind(node->key);
        if (fields == nullptr || !index) continue;
        if (!fields->is_table()) {
            reading.messages.error(fields->span, "`field` must be a table");
            continue;
        }
        for (const Node& field : fields->children)
            read_field(field, reading.set.vocabulary.kinds[*index], reading);
    }
    for (const Node* node : kinds) {  // rates name another field, perhaps declared later
        const auto index = reading.set.vocabulary.kind(node->key);
        if (!index) continue;
        for (const model::Field& field : reading.set.vocabulary.kinds[*index].fields)
            if (!field.rate_of.empty() && !reading.set.vocabulary.kinds[*index].field(field.rate_of))
                reading.messages.error(field.span, fmt::format("`rate_of` of field {} names no field of {}",
                                                               field.name, node->key));
    }
}

void read_cautions(Reading& reading) {
    for (const Node* node : members(reading, "caution")) {
        Entry entry(*node, fmt::format("caution {}", text::safe_print(node->key)), reading.messages);
        Caution caution{node->key, entry.text("text", true), entry.text("brief")};
        entry.finish();
        if (reading.set.caution(caution.name) != nullptr) {
            reading.messages.error(entry.place(), fmt::format("{} exists already", entry.what()));
            continue;
        }
        reading.set.cautions.push_back(std::move(caution));
    }
}

}  // namespace packproof::rules
