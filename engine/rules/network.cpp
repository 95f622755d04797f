#include "engine/rules/network.hpp"

#include <array>
#include <utility>

namespace packproof::rules {

namespace {

constexpr std::array<std::pair<Question, std::string_view>, 14> names = {{
    {Question::in_circuit, "in circuit"},
    {Question::place_in_chain, "place in chain"},
    {Question::sources_beside, "sources beside"},
    {Question::length_of_chain, "length of chain"},
    {Question::against_chain, "against chain"},
    {Question::shorted, "shorted"},
    {Question::from_joined, "from joined"},
    {Question::to_joined, "to joined"},
    {Question::opened_by, "opened by"},
    {Question::distance_from_source, "distance from source"},
    {Question::greatest_fault, "greatest fault current"},
    {Question::least_fault, "least fault current"},
    {Question::current, "current"},
    {Question::resistance, "resistance"},
}};

}  // namespace

std::string_view question_name(Question question) {
    for (const auto& [known, name] : names)
        if (known == question) return name;
    return {};
}

std::optional<Question> read_question(std::string_view name) {
    for (const auto& [question, known] : names)
        if (known == name) return question;
    return std::nullopt;
}

std::vector<std::string_view> question_names() {
    std::vector<std::string_view> all;
    for (const auto& [question, name] : names)
        all.push_back(name);
    return all;
}

bool needs_case(Question question) {
    return question >= Question::greatest_fault;
}

}  // namespace packproof::rules
