#include <fmt/format.h>

#include <cstdio>
#include <filesystem>
#include <system_error>

#include "engine/cli/command_tree.hpp"
#include "engine/cli/commands.hpp"
#include "engine/cli/completion.hpp"
#include "engine/cli/man_page.hpp"
#include "engine/cli/output.hpp"
#include "engine/cli/rule_sources.hpp"
#include "engine/report/reference_html.hpp"
#include "engine/report/reference_markdown.hpp"

namespace packproof::cli {

namespace {

namespace files = std::filesystem;

bool write_file(const files::path& path, const std::string& text) {
    std::FILE* file = std::fopen(path.c_str(), "wb");
    if (file == nullptr) return false;
    const bool written = std::fwrite(text.data(), 1, text.size(), file) == text.size();
    return (std::fclose(file) == 0) && written;
}

int write_pages(const ManualCall& call, Surroundings& around, Workspace& workspace) {
    text::Messages messages;
    const bool loaded = load_rule_texts(call.rule_folders, around, workspace, messages);
    print_messages(messages, workspace.sources, around);
    if (!loaded) return exit_trouble;
    const auto pages = report::reference_pages(workspace.rules, workspace.sources);
    const files::path folder(call.folder);
    std::error_code error;
    files::create_directories(folder, error);
    if (error) {
        print_trouble(fmt::format("the folder {} cannot be made: {}", call.folder, error.message()), "",
                      around);
        return exit_trouble;
    }
    const std::string ending = call.as_markdown ? ".md" : ".html";
    const auto write = [&](const std::string& name, const std::string& text) {
        if (write_file(folder / (name + ending), text)) return true;
        print_trouble(fmt::format("{} could not be written", (folder / (name + ending)).string()),
                      "the disk may be full, or the folder is not yours to write to", around);
        return false;
    };
    for (const report::ReferencePage& page : pages)
        if (!write(page.file, call.as_markdown ? report::print_reference_markdown(page)
                                               : report::print_reference_html(page)))
            return exit_trouble;
    if (!write("index", call.as_markdown ? report::print_reference_index_markdown(pages)
                                         : report::print_reference_index_html(pages)))
        return exit_trouble;
    return put_out(fmt::format("{} pages and index{} in {}\n", pages.size(), ending, call.folder),
                   exit_nothing, around);
}

}  // namespace

int print_manual(const ManualCall& call, Surroundings& around, Workspace& workspace) {
    if (call.form == ManualCall::Form::pages) return write_pages(call, around, workspace);
    const auto starter = starter_template(around.built_in_files());
    const auto program = command_tree(starter ? blanks_of(*starter) : std::vector<Blank>{});
    return put_out(call.form == ManualCall::Form::man ? man_page(program) : completion(program, call.shell),
                   exit_nothing, around);
}

}  // namespace packproof::cli
