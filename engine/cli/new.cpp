#include <fmt/format.h>

#include <cerrno>
#include <cstdio>
#include <ostream>
#include <system_error>

#include "engine/cli/commands.hpp"
#include "engine/cli/output.hpp"
#include "engine/cli/rule_sources.hpp"
#include "engine/cli/starter.hpp"
#include "engine/document/parts.hpp"
#include "engine/model/build_model.hpp"

namespace packproof::cli {

namespace {

// Reads the filled-in text as an inspection would, so that nobody starts from a file with mistakes.
bool check_starter(const std::string& text, const NewCall& call, Workspace& workspace,
                   text::Messages& messages) {
    const std::string name = call.path.empty() ? "new description" : call.path;
    document::Description description;
    description.name = name;
    description.source = workspace.sources.add(name, text);
    description.files = {description.source};
    auto root = document::read_toml(description.source, workspace.sources, messages);
    if (!root) return false;
    std::erase_if(root->children, [](const document::Node& node) { return node.key == "format"; });
    description.root = *std::move(root);
    return model::build_model(description, workspace.rules.vocabulary, workspace.sources, messages)
        .has_value();
}

// "x": an existing file is never overwritten, also if it comes to be between a look and the writing (C11).
int write_file(const std::string& text, const NewCall& call, Surroundings& around) {
    std::FILE* file = std::fopen(call.path.c_str(), "wbx");
    if (file == nullptr) {
        const bool exists = errno == EEXIST;
        print_trouble(fmt::format("{} is not written: {}", call.path, std::generic_category().message(errno)),
                      exists ? "an existing file is never overwritten: give another name" : "", around);
        return exit_trouble;
    }
    const bool written = std::fwrite(text.data(), 1, text.size(), file) == text.size();
    const bool closed = std::fclose(file) == 0;
    if (written && closed) return put_out(fmt::format("{} is written\n", call.path), exit_nothing, around);
    std::remove(call.path.c_str());
    print_trouble(fmt::format("{} could not be written whole, and is taken away again", call.path), "",
                  around);
    return exit_trouble;
}

}  // namespace

int start_new(const NewCall& call, Surroundings& around, Workspace& workspace) {
    const auto starter = starter_template(around.built_in_files());
    if (!starter) {
        print_trouble("this program was built without a description to start from", "", around);
        return exit_trouble;
    }
    text::Messages messages;
    if (!load_rule_set({}, around, workspace, messages)) {
        print_messages(messages, workspace.sources, around);
        return exit_trouble;
    }
    const std::string text = fill_in(*starter, call.values);
    const bool good = check_starter(text, call, workspace, messages);
    print_messages(messages, workspace.sources, around);
    if (!good) return exit_trouble;
    if (call.path.empty() || call.path == "-") return put_out(text, exit_nothing, around);
    return write_file(text, call, around);
}

}  // namespace packproof::cli
