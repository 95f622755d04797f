#include "engine/serve/rule_texts.hpp"

#include <algorithm>
#include <array>
#include <filesystem>

#include "engine/document/read_toml.hpp"
#include "engine/inspect/prove.hpp"
#include "engine/rules/load_rules.hpp"
#include "engine/serve/cursor.hpp"
#include "engine/serve/uri.hpp"

namespace packproof::serve {

namespace {

namespace files = std::filesystem;

constexpr std::array<std::string_view, 9> sections{"kind",     "caution", "table",  "network",  "solver",
                                                   "quantity", "rule",    "change", "worksheet"};
constexpr std::size_t most_neighbours = 200;

bool is_section(const std::string& key) {
    return std::find(sections.begin(), sections.end(), key) != sections.end();
}

void finish(std::span<const text::SourceIndex> files_read, std::span<const OpenText> open,
            const rules::RuleSet& base, RuleTexts& into) {
    Inspected& read = into.read;
    for (std::size_t i = read.paths.size(); i < read.sources.size(); ++i) {
        read.paths.push_back(real_path(std::string(read.sources.path(static_cast<text::SourceIndex>(i)))));
        read.uris.push_back(uri_of_file(read.paths.back(), open));
    }
    std::optional<rules::RuleSet> set;
    if (!read.messages.has_errors()) set = rules::load_rules(files_read, read.sources, read.messages, &base);
    into.sound = set.has_value();
    into.set = set ? *std::move(set) : base;
    if (!into.sound) return;
    for (const text::Message& failure : inspect::prove(into.set, read.sources).failures)
        read.messages.add(failure);
}

std::unique_ptr<RuleTexts> begun(std::span<const OpenText> open) {
    auto texts = std::make_unique<RuleTexts>();
    for (const OpenText& text : open)
        if (!text.path.empty()) texts->read.sources.replace_file(text.path, text.text);
    return texts;
}

std::vector<std::string> neighbours(const OpenText& own) {
    std::vector<std::string> names;
    std::error_code failure;
    for (files::directory_iterator it(files::path(own.path).parent_path(), failure), end;
         !failure && it != end && names.size() < most_neighbours; it.increment(failure)) {
        std::error_code ignored;  // what cannot be looked at is no neighbour
        const std::string path = it->path().string();
        if (path.ends_with(".toml") && path != own.path && it->is_regular_file(ignored))
            names.push_back(path);
    }
    std::sort(names.begin(), names.end());
    return names;
}

}  // namespace

bool looks_like_rules(std::string_view bytes, const model::Vocabulary& vocabulary) {
    bool any = false;
    for (const std::string& key : top_keys(bytes)) {
        if (is_section(key))
            any = true;
        else if (vocabulary.kind(key) || key == "format" || key == "parts" || key == "extends")
            return false;
    }
    return any;
}

bool looks_like_description(std::string_view bytes, const model::Vocabulary& vocabulary) {
    for (const std::string& key : top_keys(bytes)) {
        if (key == "extends" || key == "parts") return true;
        const auto kind = vocabulary.kind(key);
        if (kind && vocabulary.kinds[*kind].single) return true;
    }
    return false;
}

std::unique_ptr<RuleTexts> load_folders(const std::vector<std::string>& folders,
                                        std::span<const OpenText> open, const rules::RuleSet& base) {
    auto texts = begun(open);
    std::vector<text::SourceIndex> read;
    for (const std::string& folder : folders) {
        const auto more = rules::read_rule_folder(folder, texts->read.sources, texts->read.messages);
        read.insert(read.end(), more.begin(), more.end());
    }
    finish(read, open, base, *texts);
    return texts;
}

std::unique_ptr<RuleTexts> load_text(const OpenText& own, std::span<const OpenText> open,
                                     const rules::RuleSet& base) {
    auto texts = begun(open);
    Inspected& into = texts->read;
    std::vector<text::SourceIndex> read;
    if (own.path.empty()) {
        into.paths.emplace_back();
        into.uris.push_back(own.uri);
        if (const auto file = document::add_text(own.uri, own.text, into.sources, into.messages))
            read.push_back(*file);
    } else {
        if (const auto file = document::read_file(own.path, into.sources, into.messages))
            read.push_back(*file);
        for (const std::string& name : neighbours(own)) {
            text::Messages ignored;  // a neighbour that cannot be read is none
            const auto file = document::read_file(real_path(name), into.sources, ignored);
            if (file && looks_like_rules(into.sources.bytes(*file), base.vocabulary)) read.push_back(*file);
        }
    }
    finish(read, open, base, *texts);
    return texts;
}

}  // namespace packproof::serve
