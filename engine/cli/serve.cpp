#include "engine/serve/session.hpp"

#include <malloc.h>
#include <unistd.h>

#include <filesystem>

#include "engine/cli/commands.hpp"
#include "engine/cli/output.hpp"
#include "engine/cli/version.hpp"

namespace packproof::cli {

namespace {

constexpr int kept_bytes = 64 << 20;

}  // namespace

int serve_editor(const ServeCall& call, Surroundings& around) {
    bool all_there = true;
    for (const std::string& folder : call.rule_folders) {
        std::error_code failure;
        if (std::filesystem::is_directory(folder, failure)) continue;
        print_trouble("rule folder " + folder + " is not a folder that can be read", "", around);
        all_there = false;
    }
    if (!all_there) return exit_trouble;
    // Each inspection takes and frees the same few megabytes; giving them back to the system in between costs
    // a third of its time.
    mallopt(M_TRIM_THRESHOLD, kept_bytes);
    mallopt(M_MMAP_THRESHOLD, kept_bytes);
    mallopt(M_TOP_PAD, kept_bytes / 16);
    serve::Session session(
        {around.built_in_rules(), call.rule_folders, call.libraries, std::string(program_version)});
    return serve::talk(STDIN_FILENO, around.out, session);
}

}  // namespace packproof::cli
