#include "engine/serve/field_words.hpp"

#include <fmt/format.h>

#include "engine/report/field_words.hpp"
#include "engine/report/markdown_text.hpp"
#include "engine/rules/rule_set.hpp"

namespace packproof::serve {

using model::Field;
using report::markdown_text;

std::string field_markdown(const model::Kind& kind, const Field& field, const model::Vocabulary& vocabulary) {
    std::string words = fmt::format("**{}** of {}: {}\n", markdown_text(field.name), markdown_text(kind.name),
                                    markdown_text(field.about));
    const auto line = [&words](std::string_view label, const std::string& what) {
        words += fmt::format("\n- {}{}", label, markdown_text(what));
    };
    line("", report::form_words(field, vocabulary));
    if (field.answered_by == model::AnsweredBy::supplier) line("", "the supplier can answer it");
    if (field.answered_by == model::AnsweredBy::bench) line("", "whoever has it in hand can answer it");
    if (field.answered_by == model::AnsweredBy::builder) line("", "whoever designs it decides it");
    if (!field.ask.empty()) line("to find it out: ", field.ask);
    if (!field.rate_of.empty()) line("", "also as a rate, a multiple of " + field.rate_of);
    if (field.each_choice) line("", "if nothing is stated, every choice is tried");
    if (field.the_only_one) line("", "if nothing is stated, the only item of that kind");
    if (!field.assume.empty()) {
        std::string basis;
        for (const auto& authority : field.assume_basis)
            basis += (basis.empty() ? " (" : "; ") + rules::print_authority(authority);
        line("assumed if nothing is stated: ", field.assume + basis + (basis.empty() ? "" : ")"));
    }
    return words;
}

}  // namespace packproof::serve
