#include "engine/cli/touched.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <set>
#include <system_error>

#include "engine/text/safe_print.hpp"

namespace packproof::cli {

namespace {

namespace files = std::filesystem;

// What the file holds, or why it cannot be read. A pipe is as good as a file.
std::optional<std::string> read_list(const std::string& list, std::string& why) {
    if (list == "-") return std::string(std::istreambuf_iterator<char>(std::cin), {});
    std::error_code ignored;
    if (files::is_directory(list, ignored)) {
        why = "it is a folder";
        return std::nullopt;
    }
    errno = 0;
    std::ifstream file(list, std::ios::binary);
    std::string bytes;
    if (file) bytes.assign(std::istreambuf_iterator<char>(file), {});
    if (file && !file.bad()) return bytes;
    why = std::generic_category().message(errno != 0 ? errno : EIO);
    return std::nullopt;
}

// "\"h\\303\\274tte.toml\"" is hütte.toml: git puts names with odd bytes in quotes, as in C. What is not well
// quoted is a name as it stands.
std::string unquoted(std::string_view line) {
    if (line.size() < 2 || line.front() != '"' || line.back() != '"') return std::string(line);
    static constexpr std::string_view letters = "abtnvfr\"\\";
    static constexpr std::string_view meant = "\a\b\t\n\v\f\r\"\\";
    const std::string_view inside = line.substr(1, line.size() - 2);
    const auto octal = [&](std::size_t at) {
        return at < inside.size() && inside[at] >= '0' && inside[at] <= '7';
    };
    std::string name;
    for (std::size_t i = 0; i < inside.size(); ++i) {
        if (inside[i] == '"') return std::string(line);
        if (inside[i] != '\\') {
            name += inside[i];
            continue;
        }
        ++i;
        if (octal(i) && octal(i + 1) && octal(i + 2)) {
            name +=
                static_cast<char>((inside[i] - '0') * 64 + (inside[i + 1] - '0') * 8 + inside[i + 2] - '0');
            i += 2;
            continue;
        }
        const std::size_t letter = i < inside.size() ? letters.find(inside[i]) : std::string_view::npos;
        if (letter == std::string_view::npos) return std::string(line);
        name += meant[letter];
    }
    return name;
}

std::vector<std::string> names_in(std::string_view bytes) {
    const bool by_nul = bytes.find('\0') != std::string_view::npos;
    std::vector<std::string> names;
    while (!bytes.empty()) {
        std::string_view one = bytes.substr(0, bytes.find(by_nul ? '\0' : '\n'));
        bytes.remove_prefix(std::min(bytes.size(), one.size() + 1));
        if (!by_nul && one.ends_with('\r')) one.remove_suffix(1);
        if (!one.empty()) names.push_back(by_nul ? std::string(one) : unquoted(one));
    }
    return names;
}

// The nearest folder from here upwards that has a repository; empty if there is none.
files::path top_of_repository(files::path folder) {
    std::error_code ignored;
    for (;; folder = folder.parent_path()) {
        if (files::exists(folder / ".git", ignored)) return folder;
        if (!folder.has_relative_path()) return {};
    }
}

TouchedPath touched_path(const std::string& written, const std::vector<files::path>& bases) {
    TouchedPath path{written, {}, false};
    std::set<std::string> places;
    for (const files::path& base : bases) {
        std::error_code code;
        const files::path whole = (base / written).lexically_normal();
        path.is_there = path.is_there || files::exists(files::symlink_status(whole, code));
        const files::path real = files::weakly_canonical(whole, code);
        std::string place = code ? whole.string() : real.string();
        if (place.size() > 1 && place.ends_with('/')) place.pop_back();
        places.insert(std::move(place));
    }
    path.places.assign(places.begin(), places.end());
    return path;
}

bool is_at_or_below(const std::string& file, const std::string& place) {
    return file.starts_with(place) &&
           (file.size() == place.size() || file[place.size()] == '/' || place.ends_with('/'));
}

}  // namespace

Touched read_touched(const std::string& list, text::Messages& messages) {
    if (list.empty()) return std::nullopt;
    std::string why;
    const auto bytes = read_list(list, why);
    if (!bytes) {
        messages.error({}, fmt::format("the list {} cannot be read: {}", text::safe_print(list), why),
                       "it holds one path a line, or as git diff -z --name-only writes them");
        return std::nullopt;
    }
    std::error_code ignored;
    const files::path here = files::current_path(ignored);
    std::vector<files::path> bases{here};
    const files::path top = top_of_repository(here);
    if (!top.empty() && top != here) bases.push_back(top);
    std::vector<TouchedPath> paths;
    for (const std::string& name : names_in(*bytes))
        paths.push_back(touched_path(name, bases));
    return paths;
}

std::vector<std::size_t> touched_of(const document::Description& description,
                                    const std::vector<TouchedPath>& touched) {
    const auto concerns = [](const std::vector<std::string>& list, const std::string& place) {
        return std::any_of(list.begin(), list.end(),
                           [&](const std::string& file) { return is_at_or_below(file, place); });
    };
    std::vector<std::size_t> found;
    for (std::size_t i = 0; i < touched.size(); ++i)
        if (std::any_of(touched[i].places.begin(), touched[i].places.end(), [&](const std::string& place) {
                return concerns(description.real_paths, place) || concerns(description.absent, place);
            }))
            found.push_back(i);
    return found;
}

std::string unmatched_words(const std::vector<TouchedPath>& touched, const std::vector<bool>& matched) {
    constexpr std::size_t most_names = 5;
    std::size_t unmatched = 0;
    std::vector<std::string> gone;
    for (std::size_t i = 0; i < touched.size(); ++i) {
        if (matched[i]) continue;
        ++unmatched;
        if (!touched[i].is_there) gone.push_back(text::safe_print(touched[i].written));
    }
    if (unmatched == 0) return {};
    std::string words =
        fmt::format("{} of {} touched paths belong to no description here", unmatched, touched.size());
    if (gone.empty()) return words;
    const std::size_t shown = std::min(gone.size(), most_names);
    words += fmt::format("; {} of them not there: {}", gone.size(),
                         fmt::join(gone.begin(), gone.begin() + static_cast<std::ptrdiff_t>(shown), ", "));
    if (gone.size() > shown) words += fmt::format(" and {} more", gone.size() - shown);
    return words;
}

}  // namespace packproof::cli
