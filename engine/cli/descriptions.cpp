#include "engine/cli/descriptions.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <set>

#include "engine/document/read_toml.hpp"
#include "engine/document/readings_file.hpp"
#include "engine/text/nearest_name.hpp"
#include "engine/text/safe_print.hpp"

namespace packproof::cli {

namespace {

namespace files = std::filesystem;

bool is_nearly_single(const std::string& key, const model::Vocabulary& vocabulary) {
    std::vector<std::string_view> names{"format", "parts", "extends", "drop"};
    for (const model::Kind& kind : vocabulary.kinds)
        names.push_back(kind.name);
    const std::string_view meant = text::nearest_name(key, names);
    return std::any_of(vocabulary.kinds.begin(), vocabulary.kinds.end(),
                       [&](const model::Kind& kind) { return kind.single && kind.name == meant; });
}

// What a look at one file shows. It has sources of its own: the inspection reads and reports by itself.
struct Look {
    bool is_description = true;
    std::vector<std::string> parts;
};

Look look_at(const std::string& path, const model::Vocabulary& vocabulary) {
    text::Sources sources;
    text::Messages messages;
    const auto source = document::read_file(path, sources, messages);
    if (!source) return {};
    const auto root = document::read_toml(*source, sources, messages);
    if (!root) return {};
    Look look;
    if (const document::Node* parts = root->find("parts")) {
        if (parts->is_string()) look.parts.push_back(parts->text);
        for (const document::Node& part : parts->children)
            if (part.is_string()) look.parts.push_back(part.text);
    }
    look.is_description =
        root->find("extends") != nullptr ||
        std::any_of(root->children.begin(), root->children.end(),
                    [&](const document::Node& child) { return is_nearly_single(child.key, vocabulary); });
    return look;
}

std::string real(const files::path& path) {
    std::error_code code;
    const files::path found = files::weakly_canonical(files::absolute(path, code), code);
    return code ? path.string() : found.string();
}

bool lies_at(const std::string& file, std::span<const std::string> places) {
    return std::any_of(places.begin(), places.end(), [&](const std::string& place) {
        const std::string at = real(place);
        return file == at || (file.starts_with(at) && file.size() > at.size() && file[at.size()] == '/');
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

Descriptions find_descriptions(std::span<const std::string> paths, std::span<const std::string> overlays,
                               std::span<const std::string> libraries, const model::Vocabulary& vocabulary,
                               text::Messages& messages) {
    Descriptions result;
    std::set<std::string> added;
    std::set<std::string> parts;  // real paths of what files looked at name, there or not
    std::vector<std::string> others;
    const auto add = [&](const std::string& path) {
        if (added.insert(path).second) result.files.push_back(path);
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
            const Look look = look_at(file, vocabulary);
            for (const std::string& part : look.parts) {
                parts.insert(real(files::path(file).parent_path() / part));
                for (const std::string& library : libraries)
                    parts.insert(real(files::path(library) / part));
            }
            any = any || look.is_description;
            if (look.is_description)
                add(file);
            else
                others.push_back(file);
        }
        if (!any)
            messages.error({}, fmt::format("no description below the folder {}", text::safe_print(path)));
    }
    for (const std::string& file : others) {
        const std::string place = real(file);
        if (!added.contains(file) && !parts.contains(place) && !lies_at(place, overlays))
            result.left_out.push_back(file);
    }
    return result;
}

std::string left_out_words(const Descriptions& descriptions) {
    constexpr std::size_t most_names = 5;
    const auto& files = descriptions.left_out;
    if (files.empty()) return {};
    const std::size_t shown = std::min(files.size(), most_names);
    std::string words = fmt::format(
        "not inspected, for nothing shows that it is a description, and none names it as its part: {}",
        fmt::join(files.begin(), files.begin() + static_cast<std::ptrdiff_t>(shown), ", "));
    if (files.size() > shown) words += fmt::format(" and {} more", files.size() - shown);
    return words + "; named by itself it is inspected";
}

}  // namespace packproof::cli
