#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <filesystem>
#include <system_error>

#include "engine/cli/commands.hpp"
#include "engine/cli/output.hpp"
#include "engine/cli/rule_sources.hpp"
#include "engine/inspect/build_sheet.hpp"
#include "engine/inspect/judging_day.hpp"
#include "engine/report/drawing_svg.hpp"
#include "engine/report/sheet.hpp"

namespace packproof::cli {

namespace {

// A pipe or a device: it holds nothing that could be lost, and reading it could wait for ever.
bool is_stream(const std::string& path) {
    std::error_code none;
    const std::filesystem::file_type type = std::filesystem::status(path, none).type();
    return type == std::filesystem::file_type::fifo || type == std::filesystem::file_type::character;
}

// A sheet may be written anew over an older one; any other file stays as it is.
bool may_be_replaced(const std::string& path) {
    std::FILE* file = std::fopen(path.c_str(), "rb");
    if (file == nullptr) return errno == ENOENT;
    std::string begin(9, '\0');
    begin.resize(std::fread(begin.data(), 1, begin.size(), file));
    std::fclose(file);
    return begin.empty() || begin == "<!DOCTYPE" || begin.starts_with("<svg ");
}

int write_file(const std::string& text, int code, const SheetCall& call, Surroundings& around) {
    const bool stream = is_stream(call.output);
    if (!stream && !may_be_replaced(call.output)) {
        print_trouble(fmt::format("{} is not written: it is there already, and no sheet", call.output),
                      "give another name", around);
        return exit_trouble;
    }
    std::FILE* file = std::fopen(call.output.c_str(), "wb");
    if (file == nullptr) {
        print_trouble(
            fmt::format("{} is not written: {}", call.output, std::generic_category().message(errno)), "",
            around);
        return exit_trouble;
    }
    const bool written = std::fwrite(text.data(), 1, text.size(), file) == text.size();
    const bool closed = std::fclose(file) == 0;
    if (written && closed && stream) return code;
    if (written && closed) return put_out(fmt::format("{} is written\n", call.output), code, around);
    if (!stream) std::remove(call.output.c_str());
    print_trouble(fmt::format("{} could not be written whole{}", call.output,
                              stream ? "" : ", and is taken away again"),
                  "", around);
    return exit_trouble;
}

}  // namespace

int write_sheet(const SheetCall& call, Surroundings& around, Workspace& workspace) {
    text::Messages messages;
    const bool loaded = load_rule_set(call.rule_folders, around, workspace, messages);
    std::optional<inspect::BuildSheet> sheet;
    inspect::Options options;
    options.folders.libraries = call.libraries;
    inspect::set_day(call.day, options);
    if (loaded)
        sheet = inspect::build_sheet(call.path, workspace.rules, workspace.sources, messages, options);
    print_messages(messages, workspace.sources, around);
    if (!sheet) return exit_trouble;
    const bool is_drawn = std::any_of(
        sheet->figures.begin(), sheet->figures.end(),
        [](const inspect::Figure& figure) { return !figure.marks.empty() || !figure.runs.empty(); });
    if (call.drawing && !is_drawn) {
        if (sheet->figures.empty())
            print_trouble(
                fmt::format("there is nothing to draw: {} says neither where parts lie nor what is joined "
                            "to what",
                            call.path),
                "", around);
        else
            print_trouble(fmt::format("nothing of {} can be drawn", call.path),
                          "packproof sheet without --drawing says why", around);
        return exit_trouble;
    }
    const std::string text =
        call.drawing ? report::print_drawing(sheet->figures) : report::print_sheet(*sheet);
    const int code = sheet->list.stops.empty() ? exit_nothing : exit_fails;
    if (call.output.empty() || call.output == "-") return put_out(text, code, around);
    return write_file(text, code, call, around);
}

}  // namespace packproof::cli
