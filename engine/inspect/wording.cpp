#include "engine/inspect/wording.hpp"

#include <fmt/format.h>

#include "engine/inspect/label.hpp"
#include "engine/units/print_quantity.hpp"

namespace packproof::inspect {

std::string expected_words(const model::Model& model, const model::Value& expected, const model::Type& type,
                           const units::Unit& unit) {
    const model::Number* number = expected.number();
    if (number == nullptr || number->range.is_point()) return show(model, expected, type, unit).text;
    return units::print_interval(number->range,
                                 units::display_unit(type.dimension, unit, number->range.high, type.absolute),
                                 type.absolute);
}

std::string words_of(const rules::Wording& wording, model::ItemIndex item, int number, facts::Facts& facts) {
    std::string text = wording.words.empty() ? std::string() : wording.words.front();
    for (std::size_t i = 0; i < wording.blanks.size(); ++i) {
        const language::Expression& blank = wording.blanks[i];
        if (blank.empty()) {
            text += fmt::format("{}", number);
        } else {
            const model::Value value = language::evaluate(blank, item, facts.context());
            if (!value.missing())
                text += expected_words(facts.model(), value, blank.type(),
                                       node_unit(blank, blank.root, item, {}, facts));
            else if (blank.type().kind != model::Type::Kind::text)
                text += "(not stated)";
        }
        text += wording.words[i + 1];
    }
    while (!text.empty() && (text.back() == ' ' || text.back() == ':'))
        text.pop_back();
    return text;
}

}  // namespace packproof::inspect
