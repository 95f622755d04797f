#include "engine/report/sarif_words.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "engine/report/markdown_text.hpp"
#include "engine/report/words.hpp"
#include "engine/text/safe_print.hpp"

namespace packproof::report {

namespace {

using inspect::Class;
using inspect::Finding;
using inspect::Report;
using inspect::Verdict;

std::string braces_doubled(std::string_view text) {
    std::string doubled;
    for (const char c : text) {
        if (c == '{' || c == '}') doubled += c;
        doubled += c;
    }
    return doubled;
}

std::string in_markdown(std::string_view untrusted) {
    return braces_doubled(markdown_text(untrusted));
}

// Within a link's text brackets would end it.
std::string link(std::string_view label, std::size_t number) {
    std::string words = text::safe_print(label);
    std::replace(words.begin(), words.end(), '[', '(');
    std::replace(words.begin(), words.end(), ']', ')');
    std::replace(words.begin(), words.end(), '\\', '/');
    return fmt::format("[{}]({})", braces_doubled(words), number);
}

std::string markdown_link(std::string_view label, std::size_t number) {
    return fmt::format("[{}]({})", in_markdown(label), number);
}

std::string wanted_words(const Finding& finding) {
    std::string words;
    for (const auto& wanted : finding.wanted) {
        words += (words.empty() ? "" : ", ") + wanted.text;
        if (!wanted.note.empty()) words += " (" + wanted.note + ")";
        if (!wanted.ask.empty()) words += " (" + wanted.ask + ")";
    }
    return words;
}

std::string cause_words(const Finding& finding, const Report& report) {
    if (!finding.cause || *finding.cause >= report.findings.size()) return {};
    const Finding& cause = report.findings[*finding.cause];
    return fmt::format("{} on {}", cause.rule_name, item_words(cause));
}

// Label and words of each line that a finding has.
struct Line {
    std::string_view label;
    std::string words;
};

std::vector<Line> lines_of(const Finding& finding, const Report& report) {
    std::vector<Line> lines{{"has", has_words(finding)},     {"needs", needs_words(finding)},
                            {"is off by", finding.by},       {"waits for", wanted_words(finding)},
                            {"decided by", finding.decides}, {"follows from", cause_words(finding, report)}};
    std::erase_if(lines, [](const Line& line) { return line.words.empty(); });
    return lines;
}

// "main-positive (conductor) fails (critical)".
std::string opening(const Finding& finding) {
    const auto is = [&]() -> std::string_view {
        switch (finding.verdict) {
            case Verdict::fails:
                return "fails";
            case Verdict::conforms:
                return "conforms";
            case Verdict::undecided:
                return "is undecided";
            case Verdict::not_stated:
                return "is not judged yet";
            case Verdict::not_applicable:
                break;
        }
        return "is not concerned";
    };
    return fmt::format("{} {} ({})", item_words(finding), is(), rules::class_name(finding.rule_class));
}

// What follows the first sentence, which a viewer with little room shows alone.
constexpr std::size_t most_links = 8;

std::string plain_message(const Finding& finding, const Report& report,
                          const std::vector<std::string>& links) {
    std::string first = opening(finding);
    std::string_view between = ": ";
    for (const Line& line : lines_of(finding, report)) {
        first += fmt::format("{}{} {}", between, line.label, line.words);
        between = "; ";
    }
    std::string message = sarif_text(first) + ".";
    for (std::size_t i = 0; i < std::min(links.size(), most_links); ++i)
        message += (i == 0 ? " See " : ", ") + link(links[i], i + 1);
    if (links.size() > most_links) message += fmt::format(" and {} more", links.size() - most_links);
    if (!links.empty()) message += ".";
    for (const auto& remedy : finding.clears)
        message +=
            (&remedy == &finding.clears.front() ? " Cleared by " : ", or by ") + sarif_text(remedy.text);
    if (!finding.clears.empty()) message += ".";
    if (finding.verdict == Verdict::fails && !finding.caution.empty())
        message += " Caution: " + sarif_text(finding.caution);
    return message;
}

template <class List, class Words>
void add_list(std::string& markdown, std::string_view label, const List& list, Words words) {
    if (list.empty()) return;
    markdown += fmt::format("\n\n{}:\n", label);
    for (const auto& one : list)
        markdown += "\n- " + words(one);
}

std::string markdown_message(const Finding& finding, const Report& report,
                             const std::vector<std::string>& links) {
    std::string markdown = "**" + in_markdown(opening(finding)) + "**\n";
    for (const Line& line : lines_of(finding, report))
        markdown += fmt::format("\n- {}: {}", line.label, in_markdown(line.words));
    std::vector<std::string> working;
    for (const auto& step : finding.working)
        if (!step.detail) working.push_back(step_words(step));
    add_list(markdown, "Working", working, in_markdown);
    add_list(markdown, "Also", finding.shows, in_markdown);
    std::size_t number = 0;
    add_list(markdown, "See", links, [&](const auto& label) { return markdown_link(label, ++number); });
    add_list(markdown, "Cleared by one of", finding.clears,
             [](const auto& remedy) { return in_markdown(remedy.text); });
    add_list(markdown, "Basis", finding.basis,
             [](const auto& authority) { return in_markdown(rules::print_authority(authority)); });
    if (!finding.caution.empty()) markdown += "\n\n**Caution:** " + in_markdown(finding.caution);
    return markdown;
}

}  // namespace

std::string_view level_of(Class rule_class) {
    if (rule_class == Class::observation) return "note";
    return rule_class == Class::minor ? "warning" : "error";
}

std::string_view kind_of(Verdict verdict) {
    switch (verdict) {
        case Verdict::conforms:
            return "pass";
        case Verdict::fails:
            return "fail";
        case Verdict::undecided:
            return "review";
        case Verdict::not_stated:
            return "open";
        case Verdict::not_applicable:
            return "notApplicable";
    }
    return "informational";
}

std::string sarif_text(std::string_view untrusted) {
    std::string words = braces_doubled(text::safe_print(untrusted));
    for (std::size_t at = words.find("]("); at != std::string::npos; at = words.find("](", at))
        words.insert(at + 1, " ");
    return words;
}

SarifWords finding_words(const Finding& finding, const Report& report,
                         const std::vector<std::string>& links) {
    return {plain_message(finding, report, links), markdown_message(finding, report, links)};
}

std::string step_words(const inspect::Step& step) {
    std::string words;
    for (const std::string* part : {&step.name, &step.formula, &step.numbers, &step.result})
        if (!part->empty()) words += (words.empty() ? "" : " = ") + *part;
    return words;
}

RuleWords rule_words(const Finding& finding, const rules::RuleSet* rules) {
    const rules::Rule* rule = rules == nullptr ? nullptr : rules->rule(finding.rule_name);
    if (rule == nullptr)
        return {finding.asks,       finding.because, {}, {}, finding.basis, {finding.kind_name},
                finding.rule_class, finding.at_once, {}};
    RuleWords words{rule->asks, rule->because,    rule->advice,  {},         rule->basis,
                    {},         rule->rule_class, rule->at_once, rule->since};
    for (const rules::Application& application : rule->applications) {
        words.kinds.push_back(rules->vocabulary.kinds[application.kind].name);
        std::string demand = application.demands.text;
        if (!application.when.text.empty()) demand += " (when " + application.when.text + ")";
        if (std::find(words.demands.begin(), words.demands.end(), demand) == words.demands.end())
            words.demands.push_back(std::move(demand));
    }
    return words;
}

SarifWords help_words(const RuleWords& rule) {
    SarifWords help;
    const auto add = [&](std::string_view label, const std::string& words) {
        if (words.empty()) return;
        help.text += fmt::format("{}{}: {}", help.text.empty() ? "" : "\n", label, sarif_text(words));
        help.markdown +=
            fmt::format("{}**{}:** {}", help.markdown.empty() ? "" : "\n\n", label, in_markdown(words));
    };
    add("Asks", rule.asks);
    for (const std::string& demand : rule.demands)
        add("Demands", demand);
    add("Why", rule.because);
    for (const model::Authority& authority : rule.basis)
        add("Basis", rules::print_authority(authority));
    add("Advice", rule.advice);
    return help;
}

}  // namespace packproof::report
