#include "engine/document/parts.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>

#include "engine/document/merge.hpp"
#include "engine/document/readings_file.hpp"
#include "engine/document/shown.hpp"

namespace packproof::document {
namespace {

namespace files = std::filesystem;
using text::Span;

constexpr int known_format = 1;

// A file on disk: as it is shown, and with links resolved, which is what tells files apart.
struct Place {
    std::string shown;
    std::string real;
};

// The keys at the top of a file that belong to no item.
struct Reserved {
    std::optional<Node> format;
    std::optional<Node> parts;
    std::optional<Node> extends;
    std::optional<Node> drop;
};

bool inside(std::string_view path, std::string_view folder) {
    if (!path.starts_with(folder)) return false;
    return path.size() == folder.size() || folder.ends_with('/') || path[folder.size()] == '/';
}

// A path with links resolved, and whether anything lies there.
struct Resolved {
    std::string path;
    bool exists = false;
};

std::optional<Resolved> resolved(const std::string& path, const text::Sources& sources) {
    const std::string& wanted = path.empty() ? "." : path;
    if (char* real = ::realpath(wanted.c_str(), nullptr)) {
        Resolved found{real, true};
        std::free(real);  // NOLINT(cppcoreguidelines-no-malloc): realpath allocated it
        return found;
    }
    std::error_code code;
    files::path real = files::weakly_canonical(wanted, code);
    if (!code && real.is_relative()) real = files::absolute(real, code).lexically_normal();
    if (code) return std::nullopt;
    std::error_code unknown;
    return Resolved{real.string(),
                    sources.replacement(real.string()) != nullptr || files::exists(real, unknown)};
}

// A name in a file's folder.
std::string beside(const std::string& file, const std::string& name) {
    if (name.starts_with('/')) return name;
    return file.substr(0, file.rfind('/') + 1) + name;
}

// Without steps to the same folder or back.
std::string normal(const std::string& path) {
    const bool may_step =
        path.starts_with('.') || path.find("/.") != std::string::npos || path.find("//") != std::string::npos;
    return may_step ? files::path(path).lexically_normal().string() : path;
}

Reserved take_reserved(Node& root) {
    Reserved result;
    const auto take = [&root](std::string_view name, std::optional<Node>& into) {
        const auto found = std::find_if(root.children.begin(), root.children.end(),
                                        [name](const Node& child) { return child.key == name; });
        if (found == root.children.end()) return;
        into = std::move(*found);
        root.children.erase(found);
    };
    take("format", result.format);
    take("parts", result.parts);
    take("extends", result.extends);
    take("drop", result.drop);
    return result;
}

class Loader {
  public:
    Loader(text::Sources& sources, text::Messages& messages, const Folders& folders, const Limits& limits)
        : sources_(sources), messages_(messages), folders_(folders), limits_(limits) {}

    // With `bytes` the first file is not read from disk.
    std::optional<Description> load(const std::string& path, std::optional<std::string> bytes) {
        given_ = std::move(bytes);
        const std::size_t errors = messages_.error_count();
        if (is_beside_file(path)) {
            const std::string_view what = is_readings_file(path) ? "readings" : "concessions";
            messages_.error({}, fmt::format("{} holds the {} of a description", in_quotes(path), what),
                            fmt::format("name the description beside it; its {} are read with it", what));
            return std::nullopt;
        }
        const bool input = path == "-";
        const files::path folder = input ? files::path(".") : files::path(path).parent_path();
        allow(folder.string());
        for (const std::string& library : folders_.libraries) {
            std::error_code ignored;
            if (!files::is_directory(library, ignored))
                messages_.error({}, fmt::format("library folder {} is not a folder that can be read",
                                                in_quotes(library)));
            allow(library);
        }
        for (const std::string& overlay : folders_.overlays)
            allow(files::path(overlay).parent_path().string());

        Description description;
        description.name = path;
        const Place place{path, input ? "-" : resolved(path, sources_).value_or(Resolved{path}).path};
        std::optional<Node> root = own_file(place, {}, description);
        if (root) {
            description.root = std::move(*root);
            for (const std::string& overlay : folders_.overlays)
                lay_over(overlay, description);
        }
        if (messages_.error_count() == errors && description.root.children.empty())
            messages_.error({description.source, 0, 0}, "this description states nothing",
                            "packproof new writes one to start from");
        if (!input && root && folders_.overlays.empty()) {
            read_beside(readings_file_of(path), "readings", description, description.readings);
            read_beside(concessions_file_of(path), "concessions", description, description.concessions);
        }
        if (messages_.error_count() > errors) return std::nullopt;
        description.real_paths = done_;
        description.absent = absent_;
        return description;
    }

  private:
    void allow(const std::string& folder) {
        if (auto real = resolved(folder, sources_)) allowed_.push_back(std::move(real->path));
    }

    void lay_over(const std::string& path, Description& description) {
        const Place place{path, resolved(path, sources_).value_or(Resolved{path}).path};
        Reserved reserved;
        std::optional<Node> root = read(place, {}, reserved, description);
        if (!root) return;
        if (reserved.extends)
            messages_.error(reserved.extends->key_span, "an overlay has no extends",
                            "it is laid over the description that is inspected");
        if (reserved.drop) drop_members(description.root, *reserved.drop, messages_);
        merge(description.root, std::move(*root));
        trail_.push_back(place);
        if (reserved.parts) read_parts(place, *reserved.parts, description);
        trail_.pop_back();
    }

    // Beside the description itself, not beside what it extends: readings are of one thing that was built,
    // and a concession is for one.
    void read_beside(const std::optional<std::string>& name, std::string_view what, Description& description,
                     text::SourceIndex& into) {
        if (!name) return;
        const std::optional<Resolved> real = resolved(*name, sources_);
        std::error_code unknown;
        const bool is_link = files::is_symlink(files::symlink_status(*name, unknown));
        if (is_link && (!real || !real->exists)) {
            messages_.error({description.source, 0, 0},
                            fmt::format("{} is a link to a file that is not there", in_quotes(*name)),
                            fmt::format("mend the link, or take it away if there are no {}", what));
            return;
        }
        if (real && !real->exists) absent_.push_back(real->path);
        if (!real || !real->exists) return;
        if (!is_allowed(real->path)) {
            messages_.error(
                {description.source, 0, 0},
                fmt::format("the {} {} lie outside the description's folder", what, in_quotes(*name)),
                "keep them beside the description");
            return;
        }
        const Place place{*name, real->path};
        Reserved reserved;
        std::optional<Node> root = read(place, {description.source, 0, 0}, reserved, description);
        if (!root) return;
        into = description.files.back();
        for (const auto* key : {&reserved.extends, &reserved.drop})
            if (*key)
                messages_.error((*key)->key_span, fmt::format("a file of {} has no {}", what, (*key)->key),
                                "only a description extends another");
        join_readings(description.root, std::move(*root), sources_, messages_);
        trail_.push_back(place);
        if (reserved.parts) read_parts(place, *reserved.parts, description);
        trail_.pop_back();
    }

    // A description or what it extends: one tree.
    std::optional<Node> own_file(const Place& place, Span named_at, Description& description) {
        if (in_circle(place, named_at, "extends")) return std::nullopt;
        Reserved reserved;
        std::optional<Node> root = read(place, named_at, reserved, description);
        if (!root) return std::nullopt;
        if (description.source == text::no_source) description.source = description.files.front();
        trail_.push_back(place);
        std::optional<Node> result = std::move(root);
        if (reserved.extends)
            result = extended(place, *reserved.extends, reserved.drop, std::move(result), description);
        else if (reserved.drop)
            messages_.error(reserved.drop->key_span,
                            "drop takes out what a description extends; this one extends none",
                            "add extends = \"base.toml\", or take the line out");
        if (reserved.parts) read_parts(place, *reserved.parts, description);
        trail_.pop_back();
        return result;
    }

    std::optional<Node> extended(const Place& place, const Node& extends, const std::optional<Node>& drop,
                                 std::optional<Node> own, Description& description) {
        if (!extends.is_string()) {
            messages_.error(extends.span,
                            fmt::format("extends names one file, not {}", kind_name(extends.kind)),
                            "write extends = \"base.toml\"");
            return std::nullopt;
        }
        const std::optional<Place> base_place = find(place, extends);
        if (!base_place) return std::nullopt;
        std::optional<Node> base = own_file(*base_place, extends.span, description);
        if (!base) return std::nullopt;
        if (drop) drop_members(*base, *drop, messages_);
        merge(*base, std::move(*own));
        return base;
    }

    void read_parts(const Place& place, const Node& list, Description& description) {
        if (list.is_string()) return read_part(place, list, description);
        if (!list.is_array()) {
            messages_.error(list.span, fmt::format("parts is a list of files, not {}", kind_name(list.kind)),
                            "write parts = [\"parts/cell.toml\"]");
            return;
        }
        for (const Node& entry : list.children)
            read_part(place, entry, description);
    }

    void read_part(const Place& from, const Node& entry, Description& description) {
        if (!entry.is_string()) {
            messages_.error(entry.span,
                            fmt::format("a parts file is named by text, not {}", kind_name(entry.kind)),
                            "write parts = [\"parts/cell.toml\"]");
            return;
        }
        const std::optional<Place> place = find(from, entry);
        if (!place || in_circle(*place, entry.span, "parts")) return;
        if (std::find(done_.begin(), done_.end(), place->real) != done_.end()) return;
        Reserved reserved;
        std::optional<Node> root = read(*place, entry.span, reserved, description);
        if (!root) return;
        for (const auto* key : {&reserved.extends, &reserved.drop})
            if (*key)
                messages_.error((*key)->key_span, fmt::format("a parts file has no {}", (*key)->key),
                                "only a description extends another");
        description.parts.push_back(std::move(*root));
        trail_.push_back(*place);
        if (reserved.parts) read_parts(*place, *reserved.parts, description);
        trail_.pop_back();
    }

    std::optional<Node> read(const Place& place, Span named_at, Reserved& reserved,
                             Description& description) {
        if (description.files.size() == most_files_of_a_description) {
            if (!too_many_)
                messages_.error(named_at, fmt::format("more than {} files in one description",
                                                      most_files_of_a_description));
            too_many_ = true;
            return std::nullopt;
        }
        done_.push_back(place.real);
        const auto source = add_source(place, named_at);
        if (!source) return std::nullopt;
        description.files.push_back(*source);
        std::optional<Node> root = read_toml(*source, sources_, messages_, limits_);
        if (!root) return std::nullopt;
        reserved = take_reserved(*root);
        if (reserved.format) check_format(*reserved.format);
        return root;
    }

    // Opened with links resolved, so that what was checked is what is read.
    std::optional<text::SourceIndex> add_source(const Place& place, Span named_at) {
        if (!given_) return read_file(place.real, sources_, messages_, limits_, named_at, place.shown);
        std::string bytes = std::move(*given_);
        given_.reset();
        return add_text(place.shown, std::move(bytes), sources_, messages_, limits_);
    }

    void check_format(const Node& format) {
        if (format.kind == Node::Kind::integer && format.integer == known_format) return;
        messages_.error(format.span,
                        fmt::format("this format is not known; this program reads format {}", known_format),
                        fmt::format("write format = {}", known_format));
    }

    // Where a file named in another lies: beside that file, or in a library folder.
    std::optional<Place> find(const Place& from, const Node& name) {
        const bool input = from.shown == "-";
        std::vector<std::string> candidates{beside(input ? std::string() : from.shown, name.text)};
        for (const std::string& library : folders_.libraries)
            candidates.push_back((files::path(library) / name.text).string());
        bool allowed = false;
        for (const std::string& candidate : candidates) {
            std::optional<Resolved> real = resolved(candidate, sources_);
            const bool whole =
                name.text.find('\0') == std::string::npos;  // a name ends at a NUL for the system
            if (!real || !whole || !is_allowed(real->path)) continue;
            allowed = true;
            if (real->exists) return Place{normal(candidate), std::move(real->path)};
            absent_.push_back(std::move(real->path));
        }
        if (allowed)
            messages_.error(name.span, fmt::format("the file {} is not there", in_quotes(name.text)));
        else
            messages_.error(
                name.span,
                fmt::format("the file {} lies outside the description's folder", in_quotes(name.text)),
                "keep parts beside the description, or name their folder as a library folder");
        return std::nullopt;
    }

    [[nodiscard]] bool is_allowed(std::string_view real) const {
        return std::any_of(allowed_.begin(), allowed_.end(),
                           [real](const std::string& folder) { return inside(real, folder); });
    }

    bool in_circle(const Place& place, Span named_at, std::string_view what) {
        const auto same = std::find_if(trail_.begin(), trail_.end(),
                                       [&place](const Place& step) { return step.real == place.real; });
        if (same == trail_.end()) return false;
        std::string circle;
        for (auto step = same; step != trail_.end(); ++step)
            circle += shown(step->shown) + ", ";
        messages_.error(named_at, fmt::format("a circle of {}: {}{}", what, circle, shown(same->shown)),
                        "one of these files must not name the next");
        return true;
    }

    text::Sources& sources_;
    text::Messages& messages_;
    const Folders& folders_;
    const Limits& limits_;
    std::vector<std::string> allowed_;
    std::vector<std::string> done_;
    std::vector<std::string> absent_;
    std::vector<Place> trail_;
    std::optional<std::string> given_;
    bool too_many_ = false;
};

}  // namespace

std::optional<Description> load_description(const std::string& path, text::Sources& sources,
                                            text::Messages& messages, const Folders& folders,
                                            const Limits& limits) {
    return Loader(sources, messages, folders, limits).load(path, std::nullopt);
}

std::optional<Description> load_description_text(const std::string& path, std::string bytes,
                                                 text::Sources& sources, text::Messages& messages,
                                                 const Folders& folders, const Limits& limits) {
    return Loader(sources, messages, folders, limits).load(path, std::move(bytes));
}

}  // namespace packproof::document
