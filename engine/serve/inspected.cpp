#include "engine/serve/inspected.hpp"

#include <algorithm>

#include "engine/inspect/judging_day.hpp"
#include "engine/serve/uri.hpp"

namespace packproof::serve {

std::optional<Location> Telling::location(const text::Span& span) const {
    if (span.source >= of.uris.size()) return std::nullopt;
    return Location{of.uris[span.source],
                    extent_of(of.sources.bytes(span.source), span.begin, span.end, encoding)};
}

std::string uri_of_file(const std::string& path, std::span<const OpenText> open) {
    const auto found =
        std::find_if(open.begin(), open.end(), [&](const OpenText& text) { return text.path == path; });
    return found != open.end() ? found->uri : uri_of_path(path);
}

std::unique_ptr<Inspected> inspect_text(const OpenText& own, std::span<const OpenText> open,
                                        const rules::RuleSet& rules,
                                        const std::vector<std::string>& libraries,
                                        facts::SolverMemory& memory) {
    auto result = std::make_unique<Inspected>();
    for (const OpenText& text : open)
        if (!text.path.empty()) result->sources.replace_file(text.path, text.text);
    inspect::Options options;
    options.folders.libraries = libraries;
    options.memory = &memory;
    inspect::set_day("", options);
    const std::string path = own.path.empty() ? "-" : own.path;
    auto description = own.path.empty() ? document::load_description_text(path, own.text, result->sources,
                                                                          result->messages, options.folders)
                                        : document::load_description(path, result->sources, result->messages,
                                                                     options.folders);
    std::optional<model::Model> model;
    if (description)
        model = inspect::model_of(*description, rules, result->sources, result->messages, options);
    for (std::size_t i = 0; i < result->sources.size(); ++i) {
        const std::string shown(result->sources.path(static_cast<text::SourceIndex>(i)));
        const bool content = own.path.empty() && i == 0;
        result->paths.push_back(content ? "" : real_path(shown));
        result->uris.push_back(content ? own.uri : uri_of_file(result->paths.back(), open));
    }
    if (!model) return result;
    result->report = inspect::inspect_model(*model, rules, result->sources, options);
    result->report->file = path;
    result->loaded.emplace(inspect::Loaded{*std::move(model), description->source, path, ""});
    return result;
}

}  // namespace packproof::serve
