#include "engine/report/request_words.hpp"

#include <fmt/format.h>

#include "engine/report/words.hpp"

namespace packproof::report {

namespace {

using inspect::Question;
using rules::Class;

constexpr std::size_t digest_digits = 8;
constexpr std::size_t most_waiting_shown = 5;

bool decides_the_build(const Question& question) {
    return question.gravest == Class::critical || question.gravest == Class::major;
}

}  // namespace

std::vector<const Question*> asked_in_letter(const inspect::Request& request, RequestOptions options) {
    std::vector<const Question*> first;
    std::vector<const Question*> then;
    for (const Question& question : request.questions) {
        const bool to_supplier = question.answered_by == model::AnsweredBy::supplier ||
                                 (options.desk && question.answered_by == model::AnsweredBy::bench);
        if (to_supplier) (decides_the_build(question) ? first : then).push_back(&question);
    }
    first.insert(first.end(), then.begin(), then.end());
    return first;
}

Letter letter_of(const inspect::Request& request, RequestOptions options) {
    Letter letter;
    const std::string what =
        request.title.empty() ? "the battery pack described in " + request.file : request.title;
    letter.heading = "Request for information: " + what;
    LetterPart first{"Needed before the work begins", "In the order of how much each answer decides.", {}};
    LetterPart then{"Welcome besides", "These decide smaller things.", {}};
    for (const Question* question : asked_in_letter(request, options))
        (decides_the_build(*question) ? first : then).questions.push_back(question);
    const std::size_t count = first.questions.size() + then.questions.size();
    letter.opening.emplace_back("Good day,");
    if (count == 0) {
        letter.opening.push_back(
            fmt::format("the description of {} leaves nothing open that we would have to ask you.", what));
    } else {
        letter.opening.push_back(
            fmt::format("before {} is put together, its design is checked on paper. {} could not be answered "
                        "from the papers at hand. "
                        "Please answer what you can, by the number of the question, and name the paper that "
                        "says so with its issue and "
                        "date. Where you do not know, that is an answer too.",
                        what, counted(count, "question", "questions")));
    }
    for (LetterPart* part : {&first, &then})
        if (!part->questions.empty()) letter.parts.push_back(std::move(*part));
    if (count > 0) letter.closing.emplace_back("Thank you for your help.");
    letter.closing.emplace_back(
        "These questions say what the papers leave open or contradict; they are no judgement on the parts. "
        "Local code and "
        "licensed practice come first.");
    letter.origin =
        fmt::format("Made from {}, digest {}, by {}, version {}, digest {}.", request.file,
                    request.input_digest.substr(0, digest_digits), counted(request.rules, "rule", "rules"),
                    request.rules_version, request.rules_digest.substr(0, digest_digits));
    return letter;
}

std::vector<LetterLine> lines_of(const Question& question) {
    std::vector<LetterLine> lines;
    if (!question.sides.empty()) lines.push_back({"What the papers state", question.sides});
    if (!question.parts.empty()) lines.push_back({"What is asked for", question.parts});
    if (!question.why.empty()) lines.push_back({"Why it matters", {question.why}});
    if (!question.waiting.empty()) {
        std::vector<std::string> waiting = question.waiting;
        const std::size_t more =
            waiting.size() > most_waiting_shown ? waiting.size() - most_waiting_shown : 0;
        waiting.resize(waiting.size() - more);
        if (more > 0) waiting.push_back(fmt::format("and {}", counted(more, "more check", "more checks")));
        lines.push_back(
            {question.form == Question::Form::contradiction ? "What rests on it" : "What waits for it",
             std::move(waiting)});
    }
    if (!question.conceded.empty()) lines.push_back({"Conceded meanwhile", question.conceded});
    if (!question.acceptable.empty()) lines.push_back({"An answer looks like", {question.acceptable}});
    if (!question.limit.empty())
        lines.push_back({"With all else as stated, these checks ask for", {question.limit}});
    return lines;
}

}  // namespace packproof::report
