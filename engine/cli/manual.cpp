#include <fmt/format.h>

#include <cstdio>
#include <filesystem>
#include <fstream>
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

// Every page has it near its beginning.
constexpr std::string_view mark = "packproof manual";

// Pages of an earlier run are written anew; what somebody else put into the folder stays, and a link is no
// page.
std::vector<std::string> in_the_way(const files::path& folder, const std::vector<std::string>& names) {
    constexpr std::size_t beginning = 200;
    std::vector<std::string> found;
    for (const std::string& name : names) {
        std::error_code ignored;
        const files::file_status status = files::symlink_status(folder / name, ignored);
        if (!files::exists(status)) continue;
        std::string begin(beginning, '\0');
        if (files::is_regular_file(status))
            std::ifstream(folder / name, std::ios::binary).read(begin.data(), beginning);
        if (begin.find(mark) == std::string::npos) found.push_back((folder / name).string());
    }
    return found;
}

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
    std::vector<std::string> names{"index" + ending};
    for (const report::ReferencePage& page : pages)
        names.push_back(page.file + ending);
    if (const auto there = in_the_way(folder, names); !there.empty()) {
        print_trouble(fmt::format("no page is written: {} is there already, and no page of this command{}",
                                  there.front(),
                                  there.size() > 1 ? fmt::format(" (and {} more)", there.size() - 1) : ""),
                      "name a folder of its own for the pages", around);
        return exit_trouble;
    }
    const auto write = [&](const std::string& name, const std::string& text) {
        if (write_file(folder / name, text)) return true;
        print_trouble(fmt::format("{} could not be written", (folder / name).string()),
                      "the disk may be full, or the folder is not yours to write to", around);
        return false;
    };
    if (!write(names.front(), call.as_markdown ? report::print_reference_index_markdown(pages)
                                               : report::print_reference_index_html(pages)))
        return exit_trouble;
    for (std::size_t i = 0; i < pages.size(); ++i)
        if (!write(names[i + 1], call.as_markdown ? report::print_reference_markdown(pages[i])
                                                  : report::print_reference_html(pages[i])))
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
