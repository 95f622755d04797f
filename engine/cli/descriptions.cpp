#include "engine/cli/descriptions.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "engine/document/read_toml.hpp"
#include "engine/document/readings_file.hpp"
#include "engine/text/safe_print.hpp"

namespace packproof::cli {

namespace {

namespace files = std::filesystem;

bool looks_like_description(const std::string& path, const model::Vocabulary& vocabulary) {
    text::Sources sources;  // of this look alone: the inspection reads and reports by itself
    text::Messages messages;
    const auto source = document::read_file(path, sources, messages);
    if (!source) return true;
    const auto root = document::read_toml(*source, sources, messages);
    if (!root || root->find("extends") != nullptr) return true;
    return std::any_of(vocabulary.kinds.begin(), vocabulary.kinds.end(), [&](const model::Kind& kind) {
        return kind.single && root->find(kind.name) != nullptr;
    });
}

bool is_passed_over(const files::path& folder) {
    const std::string name = folder.filename().string();
    return name == "parts" || name.starts_with('.');
}

std::vector<std::string> toml_files_below(const std::string& folder, text::Messages& messages) {
    std::vector<std::string> found;
    std::error_code code;
    files::recursive_directory_iterator entry(folder, code);
    for (; !code && entry != files::recursive_directory_iterator(); entry.increment(code)) {
        std::error_code ignored;  // an entry that vanished or cannot be looked at is not a description
        if (entry->is_symlink(ignored)) continue;
        if (entry->is_directory(ignored)) {
            if (is_passed_over(entry->path())) entry.disable_recursion_pending();
        } else if (entry->is_regular_file(ignored) && entry->path().extension() == ".toml") {
            if (!document::is_beside_file(entry->path().string())) found.push_back(entry->path().string());
        }
    }
    if (code)
        messages.error(
            {}, fmt::format("the folder {} cannot be read: {}", text::safe_print(folder), code.message()));
    std::sort(found.begin(), found.end());
    return found;
}

// The files that an overlay's place stands for.
std::vector<std::string> overlays_at(const std::string& place, text::Messages& messages) {
    std::error_code ignored;  // what is not a folder is left to the reader, who says what is wrong with it
    if (!files::is_directory(place, ignored)) return {place};
    std::vector<std::string> found = toml_files_below(place, messages);
    if (found.empty())
        messages.error({}, fmt::format("no overlay (*.toml) below the folder {}", text::safe_print(place)));
    return found;
}

}  // namespace

std::vector<Subject> combine(std::span<const std::string> descriptions, std::span<const std::string> places,
                             text::Messages& messages) {
    std::vector<std::vector<std::string>> axes;
    std::size_t count = descriptions.size();
    for (const std::string& place : places) {
        axes.push_back(overlays_at(place, messages));
        count *= std::min(axes.back().size(), most_combinations + 1);
        if (count <= most_combinations) continue;
        messages.error(
            {}, fmt::format("more than {} combinations of descriptions and overlays", most_combinations));
        return {};
    }
    std::vector<Subject> subjects;
    for (const std::string& file : descriptions)
        subjects.push_back({file, {}});
    for (const auto& axis : axes) {
        std::vector<Subject> longer;
        for (const Subject& subject : subjects)
            for (const std::string& overlay : axis) {
                longer.push_back(subject);
                longer.back().overlays.push_back(overlay);
            }
        subjects = std::move(longer);
    }
    return subjects;
}

std::vector<std::string> find_descriptions(std::span<const std::string> paths,
                                           const model::Vocabulary& vocabulary, text::Messages& messages) {
    std::vector<std::string> descriptions;
    const auto add = [&](const std::string& path) {
        if (std::find(descriptions.begin(), descriptions.end(), path) == descriptions.end())
            descriptions.push_back(path);
    };
    for (const std::string& path : paths) {
        std::error_code
            ignored;  // what is not a folder is left to the reader, who says what is wrong with it
        if (path == "-" || !files::is_directory(path, ignored)) {
            add(path);
            continue;
        }
        bool any = false;
        for (const std::string& file : toml_files_below(path, messages)) {
            if (!looks_like_description(file, vocabulary)) continue;
            any = true;
            add(file);
        }
        if (!any)
            messages.error({}, fmt::format("no description below the folder {}", text::safe_print(path)));
    }
    return descriptions;
}

}  // namespace packproof::cli
