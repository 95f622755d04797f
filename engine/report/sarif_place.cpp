#include "engine/report/sarif_place.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "engine/report/words.hpp"

namespace packproof::report {

namespace {

namespace files = std::filesystem;

bool is_unreserved(char c) {  // RFC 3986, 2.3
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' ||
           c == '.' || c == '_' || c == '~';
}

std::string percent_encoded(std::string_view path) {
    constexpr std::string_view digits = "0123456789ABCDEF";
    std::string uri;
    for (const char c : path) {
        if (is_unreserved(c) || c == '/') {
            uri += c;
            continue;
        }
        const auto byte = static_cast<unsigned char>(c);
        uri += '%';
        uri += digits[byte >> 4U];
        uri += digits[byte & 15U];
    }
    return uri;
}

bool leads_out(const files::path& path) {
    return path.empty() || *path.begin() == "..";
}

}  // namespace

FileUri file_uri(std::string_view path, std::string_view folder) {
    if (path.empty() || path == "-" || path == "standard input") return {};
    files::path file = files::path(path).lexically_normal();
    if (!folder.empty()) {
        const files::path base = files::path(folder).lexically_normal();
        const files::path whole = (base / file).lexically_normal();
        file = whole.lexically_relative(base);
        if (leads_out(file)) file = whole;
    }
    std::string name = file.generic_string();
    if (file.is_absolute()) {  // more than one slash at the beginning would name a machine
        name.erase(0, std::min(name.find_first_not_of('/'), name.size()));
        return {"file:///" + percent_encoded(name), false};
    }
    return {percent_encoded(name), !leads_out(file)};
}

bool has_place(const text::Span& span, const text::Sources& sources) {
    return sources.holds(span.source);
}

Region region_of(const text::Span& span, const text::Sources& sources) {
    const text::Place begin = sources.place(span.source, span.begin);
    const text::Place end = sources.place(span.source, std::max(span.begin, span.end));
    return {begin.line, begin.column, end.line, end.column};
}

std::vector<inspect::Elsewhere> related_places(const inspect::Finding& finding, const inspect::Report& report,
                                               const text::Sources& sources) {
    constexpr std::size_t most_places = 100;
    std::vector<inspect::Elsewhere> places;
    const auto add = [&](const std::string& words, const text::Span& span) {
        const bool met =
            std::any_of(places.begin(), places.end(), [&](const auto& one) { return one.span == span; });
        if (has_place(span, sources) && span != finding.place && !met && places.size() < most_places)
            places.push_back({words, span});
    };
    for (const auto& place : finding.elsewhere)
        add(place.text, place.span);
    if (finding.cause && *finding.cause < report.findings.size()) {
        const inspect::Finding& cause = report.findings[*finding.cause];
        add(fmt::format("{} on {}", cause.rule_name, item_words(cause)), cause.place);
    }
    return places;
}

}  // namespace packproof::report
