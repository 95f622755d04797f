// Any text as one expression on a small fixed model: parsed, checked and, if it is right, evaluated.
#include <cmath>
#include <cstdlib>

#include "engine/language/check.hpp"
#include "engine/language/evaluate.hpp"
#include "engine/language/refine.hpp"
#include "engine/model/build_model.hpp"
#include "engine/text/safe_print.hpp"
#include "engine/units/unit.hpp"
#include "tests/fuzz/oracle.hpp"

namespace {

using namespace packproof;

model::Field field(const char* name, model::Field::Form form, const char* unit = "") {
    model::Field made;
    made.name = name;
    made.form = form;
    made.unit = *units::read_unit(unit);
    made.least = -1e9;
    made.most = 1e9;
    return made;
}

model::Vocabulary beams() {
    using Form = model::Field::Form;
    model::Kind beam;
    beam.name = "beam";
    beam.fields = {field("a", Form::quantity, "mm"), field("b", Form::quantity, "mm"),
                   field("c", Form::quantity, "N"),  field("r", Form::range, "mm"),
                   field("n", Form::count),          field("flag", Form::truth),
                   field("name", Form::text),        field("next", Form::reference),
                   field("others", Form::references)};
    beam.fields[7].kinds = {0};
    beam.fields[8].kinds = {0};
    model::Kind frame;
    frame.name = "frame";
    frame.single = true;
    frame.fields = {field("height", Form::quantity, "mm")};
    model::Vocabulary vocabulary;
    vocabulary.kinds = {beam, frame};
    return vocabulary;
}

constexpr std::string_view description_text = R"([frame]
height = "2 .. 3 m"
[beam.x]
a = "12 ± 0.5 mm"
b = "-3 .. 3 mm"
c = "<= 4 kN"
r = "1 .. 20 mm"
n = 3
flag = true
name = "left"
next = "y"
others = ["y", "z"]
[beam.y]
a = "~ 1 mm"
b = "?"
c = "none"
next = "x"
[beam.z]
a = ">= 1 mm"
)";

struct World {
    model::Vocabulary vocabulary = beams();
    text::Sources sources;
    text::Messages messages;
    document::Description description;
    std::optional<model::Model> model;
};

const World& world() {
    static const World* const made = [] {
        auto* w = new World;  // kept to the end: the model points into it
        if (auto d = fuzz::description_from(description_text, w->sources, w->messages)) {
            w->description = std::move(*d);
            w->model = model::build_model(w->description, w->vocabulary, w->sources, w->messages);
        }
        std::fputs(fuzz::print_messages(w->messages, w->sources).c_str(), stderr);
        fuzz::demand(w->model.has_value(), "the fixed description is right");
        return w;
    }();
    return *made;
}

void demand_good(const model::Value& value) {
    const model::Number* number = value.number();
    if (!number) return;
    fuzz::demand(number->range.low <= number->range.high,
                 "an interval's ends are in order and no end is NaN");
    fuzz::demand(!std::isnan(number->nominal), "a nominal value is a number");
    fuzz::demand(number->range.contains(number->nominal), "the nominal value lies inside its tolerance");
}

std::string describe(const model::Value& value) {
    if (value.missing()) return "missing";
    if (const auto* number = value.number())
        return std::to_string(number->range.low) + ' ' + std::to_string(number->range.high);
    if (const auto* truth = value.truth()) return std::to_string(static_cast<int>(*truth));
    return std::to_string(value.content.index());
}

std::string evaluate_text(std::string_view text) {
    const World& w = world();
    std::vector<language::Mistake> mistakes;
    auto expression = language::parse(text, mistakes);
    fuzz::demand(expression.has_value() || !mistakes.empty(), "an expression that is not taken is a mistake");
    language::Names names;
    names.vocabulary = &w.vocabulary;
    const bool right = expression && language::check(*expression, 0, names, mistakes);
    std::string result;
    for (const language::Mistake& mistake : mistakes) {
        fuzz::demand(mistake.begin <= mistake.end && mistake.end <= text.size(),
                     "a mistake lies inside the text");
        result += mistake.text;
    }
    if (!right) {
        fuzz::demand(!mistakes.empty(), "an expression that is refused has a mistake");
        return result;
    }
    std::vector<language::Gap> gaps;
    std::vector<language::Input> inputs;
    language::Context context;
    context.model = &*w.model;
    context.gaps = &gaps;
    context.inputs = &inputs;
    for (const model::ItemIndex item : w.model->of_kind[0]) {
        const model::Value value = language::evaluate(*expression, item, context);
        demand_good(value);
        result += describe(value);
    }
    return result;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text = fuzz::as_text(data, size);
    if (!text::check_utf8(text).good)
        return 0;  // a file with bad UTF-8 is refused before any expression is read
    fuzz::demand(evaluate_text(text) == evaluate_text(text), "a second run gives the same result");
    return 0;
}
