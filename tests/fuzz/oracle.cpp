#include "tests/fuzz/oracle.hpp"

#include <cstdio>
#include <cstdlib>

#include "engine/text/safe_print.hpp"

namespace packproof::fuzz {

void demand(bool holds, const char* sentence) {
    if (holds) return;
    std::fprintf(stderr, "broken: %s\n", sentence);
    std::abort();
}

std::string_view as_text(const std::uint8_t* data, std::size_t size) {
    return {reinterpret_cast<const char*>(data), size};
}

void demand_good_messages(const text::Messages& messages, const text::Sources& sources) {
    std::size_t errors = 0;
    for (const text::Message& message : messages.sorted()) {
        if (message.severity == text::Severity::error) ++errors;
        demand(!message.text.empty(), "a message says something");
        demand(text::check_utf8(message.text).good, "a message is whole UTF-8");
        demand(text::check_utf8(message.hint).good, "a hint is whole UTF-8");
        if (message.span.source == text::no_source) continue;
        demand(message.span.source < sources.size(), "a message lies in a source that exists");
        const std::string_view bytes = sources.bytes(message.span.source);
        demand(message.span.begin <= message.span.end, "a message's place does not end before it begins");
        demand(message.span.end <= bytes.size(), "a message's place lies inside its source");
    }
    demand((errors > 0) == messages.has_errors(), "errors are counted right");
}

std::string print_messages(const text::Messages& messages, const text::Sources& sources) {
    std::string printed;
    for (const text::Message& message : messages.sorted())
        printed += text::print_message(message, sources);
    return printed;
}

std::optional<document::Description> description_from(std::string_view text, text::Sources& sources,
                                                      text::Messages& messages) {
    return document::load_description_text("nowhere/pack.toml", std::string{text}, sources, messages);
}

std::string print_everything(const inspect::Report& report) {
    std::string all = report.file + '\n' + report.title + '\n';
    const auto line = [&](std::string_view text) { all.append(text).append("\n"); };
    for (const inspect::Finding& finding : report.findings) {
        line(finding.rule_name);
        line(finding.item_name);
        line(rules::verdict_name(finding.verdict));
        line(rules::class_name(finding.rule_class));
        for (const std::string* text : {&finding.subject, &finding.has.text, &finding.needs.text,
                                        &finding.needs_text, &finding.by, &finding.decides, &finding.advice})
            line(*text);
        for (const inspect::Step& step : finding.working)
            line(step.name + step.formula + step.numbers + step.result);
        for (const inspect::Remedy& remedy : finding.clears)
            line(remedy.text);
        for (const inspect::Wanted& wanted : finding.wanted)
            line(wanted.text + wanted.note);
        for (const std::string& text : finding.shows)
            line(text);
        for (const std::string& text : finding.rests_on)
            line(text);
    }
    for (const inspect::NextValue& next : report.next)
        line(next.value.text);
    for (const inspect::Assumption& assumption : report.assumptions)
        line(assumption.text + assumption.basis);
    for (const std::string& tried : report.tried)
        line(tried);
    return all;
}

}  // namespace packproof::fuzz
