#include "engine/report/request.hpp"

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>

#include "engine/report/json_text.hpp"
#include "engine/report/request_html.hpp"
#include "engine/report/request_markdown.hpp"
#include "engine/report/words.hpp"

namespace packproof::report {

namespace {

using inspect::Question;
using Json = nlohmann::ordered_json;

constexpr int form_version = 1;
constexpr std::array<std::string_view, 3> names{"markdown", "html", "json"};

std::string_view form_name(Question::Form form) {
    constexpr std::array<std::string_view, 5> forms{"value", "tolerance", "contradiction", "failing", "item"};
    return forms[static_cast<std::size_t>(form)];
}

std::string print_request_json(const inspect::Request& request) {
    Json run{{"form", "packproof-request"},
             {"version", form_version},
             {"file", request.file},
             {"title", request.title},
             {"rules", Json{{"version", request.rules_version},
                            {"digest", request.rules_digest},
                            {"count", request.rules}}},
             {"digest", request.input_digest}};
    run["questions"] = Json::array();
    for (const Question& question : request.questions)
        run["questions"].push_back(Json{{"form", form_name(question.form)},
                                        {"answered_by", answerer_name(question.answered_by)},
                                        {"title", question.title},
                                        {"text", question.text},
                                        {"sides", question.sides},
                                        {"parts", question.parts},
                                        {"why", question.why},
                                        {"waiting", question.waiting},
                                        {"conceded", question.conceded},
                                        {"checks", question.checks},
                                        {"acceptable", question.acceptable},
                                        {"limit", question.limit},
                                        {"asked", question.asked},
                                        {"class", std::string(rules::class_name(question.gravest))},
                                        {"weight", question.weight}});
    run["caution"] = std::string(inspect::general_caution());
    return escape_invisible(run.dump(2, ' ', false, Json::error_handler_t::replace)) + "\n";
}

}  // namespace

std::span<const std::string_view> request_form_names() {
    return names;
}

std::optional<RequestForm> read_request_form(std::string_view name) {
    const auto found = std::find(names.begin(), names.end(), name);
    if (found == names.end()) return std::nullopt;
    return static_cast<RequestForm>(found - names.begin());
}

std::string print_request(RequestForm form, const inspect::Request& request, RequestOptions options) {
    switch (form) {
        case RequestForm::markdown:
            return print_request_markdown(request, options);
        case RequestForm::html:
            return print_request_html(request, options);
        case RequestForm::json:
            return print_request_json(request);
    }
    return {};
}

}  // namespace packproof::report
