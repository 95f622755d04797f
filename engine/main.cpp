// The program: surroundings from the operating system, then one run.
#include <unistd.h>

#include <csignal>
#include <cstdlib>
#include <iostream>
#include <string>
#include <vector>

#include "engine/cli/run.hpp"

namespace {

std::string variable(const char* name) {
    const char* value = std::getenv(name);  // no other thread exists yet
    return value == nullptr ? "" : value;
}

}  // namespace

int main(int argc, char** argv) {
    using namespace packproof;
    std::ios::sync_with_stdio(false);
    std::signal(SIGPIPE, SIG_IGN);  // a closed pipe is an output that failed: a message and exit code 2
    const std::vector<std::string> arguments(argv + (argc > 0 ? 1 : 0), argv + argc);
    cli::Surroundings around{std::cout,
                             std::cerr,
                             isatty(STDOUT_FILENO) == 1,
                             isatty(STDERR_FILENO) == 1,
                             variable("NO_COLOR"),
                             variable("TERM"),
                             rules::built_in_rules,
                             rules::built_in_files};
    // Never taken apart: rules, sources and reports are many small pieces, and freeing them one by one would
    // cost a good part of a short run for nothing. The system takes them back at once.
    auto* workspace = new cli::Workspace;
    const int code = cli::run(arguments, around, *workspace);
    std::cout.flush();
    std::cerr.flush();
    std::_Exit(code);
}
