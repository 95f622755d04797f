#include "engine/text/message.hpp"

#include <algorithm>
#include <string_view>
#include <tuple>
#include <utility>

#include <fmt/format.h>

#include "engine/text/safe_print.hpp"

namespace packproof::text {

namespace {

auto order(const Message& m) {
    return std::tuple<const Span&, const std::string&, Severity, const std::string&>{m.span, m.text,
                                                                                     m.severity, m.hint};
}

std::string_view severity_name(Severity severity) {
    switch (severity) {
        case Severity::error:
            return "error";
        case Severity::warning:
            return "warning";
        case Severity::note:
            return "note";
    }
    return "note";
}

std::string place_of(const Span& span, const Sources& sources) {
    if (!sources.holds(span.source)) return "packproof";
    const Place place = sources.place(span.source, span.begin);
    return fmt::format("{}:{}:{}", safe_print(sources.path(span.source)), place.line, place.column);
}

}  // namespace

void Messages::error(Span span, std::string text, std::string hint) {
    add({Severity::error, span, std::move(text), std::move(hint)});
}

void Messages::warning(Span span, std::string text, std::string hint) {
    add({Severity::warning, span, std::move(text), std::move(hint)});
}

void Messages::note(Span span, std::string text, std::string hint) {
    add({Severity::note, span, std::move(text), std::move(hint)});
}

void Messages::add(Message message) {
    if (message.severity == Severity::error) ++errors_;
    messages_.push_back(std::move(message));
}

std::vector<Message> Messages::sorted() const {
    std::vector<Message> result = messages_;
    std::sort(result.begin(), result.end(),
              [](const Message& a, const Message& b) { return order(a) < order(b); });
    const auto repeats = std::unique(result.begin(), result.end(),
                                     [](const Message& a, const Message& b) { return order(a) == order(b); });
    result.erase(repeats, result.end());
    return result;
}

std::string print_message(const Message& message, const Sources& sources) {
    const std::string place = place_of(message.span, sources);
    std::string lines =
        fmt::format("{}: {}: {}", place, severity_name(message.severity), safe_print(message.text));
    if (!message.hint.empty()) lines += fmt::format("\n{}: note: {}", place, safe_print(message.hint));
    return lines;
}

}  // namespace packproof::text
