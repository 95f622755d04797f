#include "engine/cli/rule_sources.hpp"

#include <fmt/format.h>

#include "engine/cli/log.hpp"
#include "engine/rules/load_rules.hpp"

namespace packproof::cli {

namespace {

bool add_folders(std::span<const std::string> folders, Workspace& workspace, text::Messages& messages) {
    if (folders.empty()) return true;
    std::vector<text::SourceIndex> files;
    for (const std::string& folder : folders) {
        const auto found = rules::read_rule_folder(folder, workspace.sources, messages);
        files.insert(files.end(), found.begin(), found.end());
    }
    if (messages.has_errors()) return false;
    auto set = rules::load_rules(files, workspace.sources, messages, &workspace.rules);
    if (!set) return false;
    workspace.rules = *std::move(set);
    return true;
}

void log_rules(const Workspace& workspace) {
    log_debug(fmt::format("{} rules, digest {}", workspace.rules.rules.size(), workspace.rules.digest));
}

}  // namespace

bool load_rule_set(std::span<const std::string> folders, Surroundings& around, Workspace& workspace,
                   text::Messages& messages) {
    workspace.rules = around.built_in_rules();
    const bool loaded = add_folders(folders, workspace, messages);
    log_rules(workspace);
    return loaded;
}

bool load_rule_texts(std::span<const std::string> folders, Surroundings& around, Workspace& workspace,
                     text::Messages& messages) {
    std::vector<text::SourceIndex> files;
    for (const auto& file : around.built_in_files())
        if (file.path.ends_with(".toml"))
            files.push_back(workspace.sources.add(std::string(file.path), std::string(file.text)));
    auto set = rules::load_rules(files, workspace.sources, messages, nullptr);
    if (!set) return false;
    workspace.rules = *std::move(set);
    const bool loaded = add_folders(folders, workspace, messages);
    log_rules(workspace);
    return loaded;
}

}  // namespace packproof::cli
