#include "engine/rules/load_rules.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <filesystem>

#include "engine/document/read_toml.hpp"
#include "engine/model/vocabulary.hpp"
#include "engine/rules/reading.hpp"
#include "engine/text/digest.hpp"
#include "engine/text/nearest_name.hpp"
#include "engine/text/safe_print.hpp"

namespace packproof::rules {

using document::Node;

namespace {

/// Says which top-level tables of a file mean nothing.
void check_sections(const Node& root, text::Messages& messages) {
    static constexpr std::string_view known[] = {"kind",     "caution", "table",  "network",   "solver",
                                                 "quantity", "rule",    "change", "worksheet", "drawing"};
    for (const Node& child : root.children) {
        if (std::find(std::begin(known), std::end(known), child.key) == std::end(known)) {
            const std::string_view near = text::nearest_name(child.key, known);
            messages.error(child.key_span,
                           fmt::format("unknown table [{}] in a rule file", text::safe_print(child.key)),
                           near.empty() ? "a rule file holds kind, caution, table, network, solver, "
                                          "quantity, rule, change, worksheet and drawing"
                                        : fmt::format("the nearest is [{}]", near));
        } else if (!child.is_table()) {
            messages.error(child.span, fmt::format("`{}` must be a table", child.key));
        }
    }
}

/// Texts that are open below the folder, whether on disk or not yet.
void add_replaced(const std::filesystem::path& root, const text::Sources& sources,
                  std::vector<std::string>& names) {
    const std::string below = root.string() + "/";
    for (const std::string& path : sources.replaced_files())
        if (path.starts_with(below) && path.ends_with(".toml")) names.push_back(path.substr(below.size()));
}

}  // namespace

std::vector<const Node*> members(const Reading& reading, std::string_view section) {
    std::vector<const Node*> found;
    for (const Node& root : reading.roots) {
        const Node* table = root.find(section);
        if (table == nullptr || !table->is_table()) continue;
        for (const Node& member : table->children) {
            if (member.is_table()) {
                found.push_back(&member);
            } else {
                reading.messages.error(member.span,
                                       fmt::format("[{}.{}] must be a table", section, member.key));
            }
        }
    }
    return found;
}

std::optional<RuleSet> load_rules(std::span<const text::SourceIndex> files, const text::Sources& sources,
                                  text::Messages& messages, const RuleSet* base) {
    const std::size_t errors_before = messages.error_count();
    Reading reading{sources, messages, base != nullptr ? *base : RuleSet{}, {}};
    text::Digest digest;
    digest.add(reading.set.digest);
    for (const text::SourceIndex file : files) {
        digest.add(sources.bytes(file));
        std::optional<Node> root = document::read_toml(file, sources, messages);
        if (!root) continue;
        check_sections(*root, messages);
        reading.roots.push_back(std::move(*root));
    }
    read_cautions(reading);
    read_kinds(reading);
    model::prepare(reading.set.vocabulary, messages);
    read_tables(reading);
    declare_networks(reading);
    declare_solvers(reading);
    read_quantities(reading);
    read_rules(reading);
    read_changes(reading);
    read_worksheets(reading);
    read_drawings(reading);
    if (messages.error_count() > errors_before) return std::nullopt;
    reading.set.digest = digest.print();
    return std::move(reading.set);
}

std::vector<text::SourceIndex> read_rule_folder(const std::string& folder, text::Sources& sources,
                                                text::Messages& messages) {
    namespace fs = std::filesystem;
    std::error_code failure;
    const fs::path root = fs::canonical(folder, failure);
    if (failure || !fs::is_directory(root, failure)) {
        messages.error(
            {}, fmt::format("rule folder {} is not a folder that can be read", text::safe_print(folder)));
        return {};
    }
    std::vector<std::string> names;
    for (fs::recursive_directory_iterator it(root, fs::directory_options::skip_permission_denied, failure),
         end;
         !failure && it != end; it.increment(failure)) {
        if (it->path().extension() != ".toml") continue;
        std::error_code ignored;
        const fs::path real = fs::canonical(it->path(), ignored);
        const auto [mismatch, unused] = std::mismatch(root.begin(), root.end(), real.begin(), real.end());
        if (ignored || mismatch != root.end()) {
            messages.error({}, fmt::format("rule file {} lies outside its folder",
                                           text::safe_print(it->path().string())));
            continue;
        }
        names.push_back(fs::relative(it->path(), root).string());
    }
    add_replaced(root, sources, names);
    std::sort(names.begin(), names.end());
    names.erase(std::unique(names.begin(), names.end()), names.end());
    if (names.empty())
        messages.error({}, fmt::format("rule folder {} holds no .toml file", text::safe_print(folder)));
    std::vector<text::SourceIndex> files;
    for (const std::string& name : names) {
        std::error_code ignored;  // what is not on disk is an open text below the folder
        const fs::path real = fs::weakly_canonical(root / name, ignored);
        if (auto file = document::read_file(real.string(), sources, messages, {}, {},
                                            (fs::path(folder) / name).string()))
            files.push_back(*file);
    }
    return files;
}

}  // namespace packproof::rules
