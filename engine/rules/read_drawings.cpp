// Drawings from rule files; a team adds shapes to one that exists.
#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <span>

#include "engine/rules/entry.hpp"
#include "engine/rules/reading.hpp"
#include "engine/text/nearest_name.hpp"
#include "engine/text/safe_print.hpp"

namespace packproof::rules {

using document::Node;
using model::Type;

namespace {

constexpr std::array<std::string_view, 5> form_names{"rectangle", "line", "circle", "text", "runs"};
constexpr std::array<std::string_view, 6> style_names{"thin", "thick", "dashed", "hatched", "filled", "none"};
constexpr std::array<std::string_view, 3> align_names{"middle", "start", "end"};
constexpr std::int64_t least_size = 8;  // points; smaller is not read at arm's length (common practice)
constexpr std::int64_t most_size = 72;

Type truth_type() {
    Type truth;
    truth.kind = Type::Kind::truth;
    return truth;
}

/// The value whose name is written; the first where nothing is.
template <class Choice>
Choice read_choice(Entry& entry, std::string_view key, std::span<const std::string_view> names,
                   bool required = false) {
    const std::string written = entry.text(key, required);
    if (written.empty()) return Choice{};
    const auto found = std::find(names.begin(), names.end(), written);
    if (found != names.end()) return static_cast<Choice>(found - names.begin());
    std::string all;
    for (const std::string_view name : names)
        all += fmt::format("{}{}", all.empty() ? "" : ", ", name);
    entry.error(*entry.node().find(key), fmt::format("`{}` is one of {}", key, all));
    return Choice{};
}

std::optional<model::KindIndex> read_kind(Entry& entry, const Reading& reading) {
    const std::string name = entry.text("of", true);
    const auto kind = reading.set.vocabulary.kind(name);
    if (kind || name.empty()) return kind;
    std::vector<std::string_view> known;
    for (const model::Kind& one : reading.set.vocabulary.kinds)
        known.emplace_back(one.name);
    const std::string_view near = text::nearest_name(name, known);
    entry.error(*entry.node().find("of"), fmt::format("unknown kind \"{}\"", text::safe_print(name)),
                near.empty() ? std::string{} : fmt::format("the nearest is \"{}\"", near));
    return std::nullopt;
}

int read_whole(Entry& entry, std::string_view key, int usual, std::int64_t least, std::int64_t most) {
    const Node* node = entry.take(key);
    if (node == nullptr) return usual;
    if (node->kind == Node::Kind::integer && node->integer >= least && node->integer <= most)
        return static_cast<int>(node->integer);
    entry.error(*node, fmt::format("`{}` is a whole number from {} to {}", key, least, most));
    return usual;
}

/// Expressions of one shape.
class ShapeReading {
  public:
    ShapeReading(Entry& entry, model::KindIndex kind, const language::Names& names, Reading& reading)
        : entry_(entry), kind_(kind), names_(names), reading_(reading) {}

    language::Expression length(std::string_view key, bool required) {
        return of_type(key, number_in("mm"), required);
    }
    language::Expression number(std::string_view key) { return of_type(key, number_in(""), false); }
    language::Expression truth(std::string_view key) { return of_type(key, truth_type(), false); }
    language::Expression any(std::string_view key, bool required = false) {
        const Node* node = take(key, required);
        if (node == nullptr) return {};
        if (node->is_string()) return compile(*node, kind_, names_, reading_);
        entry_.error(*node, fmt::format("`{}` must be an expression in quotes", key));
        return {};
    }
    language::Expression item(std::string_view key) {
        language::Expression expression = any(key, true);
        if (!expression.empty() && expression.type().kind != Type::Kind::item)
            entry_.error(*entry_.node().find(key), fmt::format("`{}` must be an item", key));
        return expression;
    }
    std::vector<language::Expression> lengths(std::string_view key) {
        std::vector<language::Expression> list;
        const Node* node = entry_.take(key);
        if (node == nullptr) return list;
        if (!node->is_array()) entry_.error(*node, fmt::format("`{}` is a list of expressions", key));
        for (const Node& one : node->children)
            list.push_back(compile_as(&one, number_in("mm"), kind_, names_, reading_));
        return list;
    }
    Wording wording(std::string_view key, bool required, bool numbered) {
        return read_wording(entry_, key, required, numbered, kind_, names_, reading_);
    }

  private:
    const Node* take(std::string_view key, bool required) {
        const Node* node = entry_.take(key);
        if (node == nullptr && required)
            entry_.error(entry_.node(), fmt::format("{} has no `{}`", entry_.what(), key));
        return node;
    }
    language::Expression of_type(std::string_view key, const Type& type, bool required) {
        return compile_as(take(key, required), type, kind_, names_, reading_);
    }

    Entry& entry_;
    model::KindIndex kind_;
    const language::Names& names_;
    Reading& reading_;
};

void read_shape(const Node& node, Drawing& drawing, const language::Names& names, Reading& reading) {
    Entry entry(node, fmt::format("a shape of drawing {}", text::safe_print(drawing.name)), reading.messages);
    const auto kind = read_kind(entry, reading);
    if (!kind) return;
    Shape shape;
    shape.kind = *kind;
    shape.form = read_choice<ShapeForm>(entry, "form", form_names, true);
    shape.style = read_choice<ShapeStyle>(entry, "style", style_names);
    shape.align = read_choice<ShapeAlign>(entry, "align", align_names);
    ShapeReading of(entry, *kind, names, reading);
    const bool placed = shape.form != ShapeForm::runs;
    const bool is_line = shape.form == ShapeForm::line;
    const bool numbered = node.find("times") != nullptr;
    shape.to_next = entry.truth("to_next").value_or(false);
    shape.when = of.truth("when");
    if (placed) {
        shape.x = of.length("x", true);
        shape.y = of.length("y", true);
        shape.room = of.length("room", false);
        shape.times = of.number("times");
        shape.in_row = of.number("in_row");
        shape.across = of.length("across", numbered);
        shape.down = of.length("down", false);
        shape.alternates = of.lengths("alternates");
    } else {
        shape.from = of.item("from");
        shape.to = of.item("to");
    }
    if (is_line && !shape.to_next) {
        shape.to_x = of.length("to_x", true);
        shape.to_y = of.length("to_y", true);
    }
    if (is_line) shape.width = of.length("width", false);
    if (shape.form == ShapeForm::rectangle) {
        shape.width = of.length("width", true);
        shape.height = of.length("height", true);
    }
    if (shape.form == ShapeForm::circle) shape.diameter = of.length("diameter", true);
    shape.label = of.wording("label", shape.form == ShapeForm::text || !placed, numbered);
    shape.note = of.wording("note", false, numbered);
    shape.value = of.any("value");
    shape.adds_up = entry.truth("adds_up").value_or(false);
    if (shape.adds_up && (!numbered || shape.value.empty() || shape.value.type().kind != Type::Kind::number))
        entry.error(*node.find("adds_up"),
                    "`adds_up` belongs to shapes with `times` and a number as `value`");
    shape.size = read_whole(entry, "size", shape.size, least_size, most_size);
    shape.bold = entry.truth("bold").value_or(false);
    if (shape.to_next && (!is_line || !numbered))
        entry.error(*node.find("to_next"), "`to_next` belongs to lines with `times`");
    for (const std::string_view key : {"in_row", "across", "down", "alternates"})
        if (!numbered && node.find(key) != nullptr)
            entry.error(*node.find(key), fmt::format("`{}` belongs to shapes with `times`", key));
    entry.finish();
    drawing.shapes.push_back(std::move(shape));
}

}  // namespace

void read_drawings(Reading& reading) {
    const NameLists lists = name_lists(reading.set);
    const language::Names names = lists.names(reading.set.vocabulary);
    for (const Node* node : members(reading, "drawing")) {
        Entry entry(*node, fmt::format("drawing {}", text::safe_print(node->key)), reading.messages);
        auto& drawings = reading.set.drawings;
        const auto known = std::find_if(drawings.begin(), drawings.end(),
                                        [&](const Drawing& one) { return one.name == node->key; });
        const bool is_new = known == drawings.end();
        Drawing* drawing = is_new ? &drawings.emplace_back() : &*known;
        if (is_new) {
            drawing->name = node->key;
            drawing->title = entry.text("title", true);
            drawing->about = entry.text("about");
            drawing->basis = entry.authorities("basis", true);
            drawing->place = read_whole(entry, "place", 0, -1000, 1000);
            drawing->to_scale = entry.truth("to_scale").value_or(false);
            if (const auto kind = read_kind(entry, reading)) {
                drawing->kind = *kind;
                drawing->when = compile_as(entry.take("when"), truth_type(), *kind, names, reading);
            }
        }
        if (const Node* written = entry.take("shape")) {
            if (!written->is_array())
                entry.error(*written, "shapes stand in [[drawing." + node->key + ".shape]]");
            else
                for (const Node& shape : written->children)
                    read_shape(shape, *drawing, names, reading);
        }
        entry.finish();
    }
    std::stable_sort(reading.set.drawings.begin(), reading.set.drawings.end(),
                     [](const Drawing& a, const Drawing& b) { return a.place < b.place; });
}

}  // namespace packproof::rules
