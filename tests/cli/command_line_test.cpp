#include <doctest/doctest.h>

#include <sstream>

#include "bench.hpp"
#include "engine/cli/version.hpp"
#include "engine/text/safe_print.hpp"

using namespace packproof::bench;

namespace {

bool has(const std::string& text, std::string_view part) {
    return text.find(part) != std::string::npos;
}

void check_mistake(const Outcome& run, std::string_view error, std::string_view note) {
    CHECK(run.code == 2);
    CHECK(run.out.empty());
    CHECK(has(run.err, error));
    CHECK(has(run.err, note));
}

void check_help(const Outcome& run, std::string_view usage) {
    CHECK(run.code == 0);
    CHECK(run.err.empty());
    CHECK(has(run.out, usage));
    CHECK(has(run.out, "Example:\n  packproof "));
    std::istringstream lines(run.out);
    for (std::string line; std::getline(lines, line);) {
        INFO(line);
        CHECK(packproof::text::display_width(line) <= 80);
    }
}

}  // namespace

TEST_CASE("every command has help with an example, 80 columns wide") {
    check_help(call({"--help"}), "Usage: packproof [OPTIONS] COMMAND");
    check_help(call({"inspect", "--help"}), "Usage: packproof inspect ");
    check_help(call({"explain", "-h"}), "Usage: packproof explain ");
    check_help(call({"rules", "--help"}), "Usage: packproof rules ");
    check_help(call({"rules", "list", "--help"}), "Usage: packproof rules list ");
    check_help(call({"rules", "prove", "--help"}), "Usage: packproof rules prove ");
    check_help(call({"new", "--help"}), "Usage: packproof new ");
    check_help(call({"vocabulary", "--help"}), "Usage: packproof vocabulary ");
}

TEST_CASE("the version is said everywhere") {
    const std::string line = "packproof " + std::string(packproof::cli::program_version) + "\n";
    CHECK(call({"--version"}).out == line);
    CHECK(call({"inspect", "--version"}).out == line);
    CHECK(call({"rules", "prove", "--version"}).out == line);
    CHECK(call({"new", "--version"}).code == 0);
}

TEST_CASE("the version is the one of the build") {
    const std::string build = read(std::string(PACKPROOF_SOURCE_DIR) + "/CMakeLists.txt");
    CHECK(has(build, "project(packproof VERSION " + std::string(packproof::cli::program_version) + " "));
}

TEST_CASE("a call without a command shows what there is, on standard error") {
    const Outcome run = call({});
    CHECK(run.code == 2);
    CHECK(run.out.empty());
    CHECK(has(run.err, "Commands:"));
}

TEST_CASE("a mistyped command, option or choice is told with the nearest right one") {
    check_mistake(call({"inspct", "a.toml"}), "packproof has no command inspct", "did you mean inspect");
    check_mistake(call({"rules", "lst"}), "packproof rules has no command lst", "did you mean list");
    check_mistake(call({"inspect", "--fomr", "json", "a.toml"}), "packproof inspect has no option --fomr",
                  "did you mean --form");
    check_mistake(call({"inspect", "--fomr=json", "a.toml"}), "has no option --fomr", "did you mean --form");
    check_mistake(call({"--hlep"}), "packproof has no option --hlep", "did you mean --help");
    check_mistake(call({"inspect", "--class", "mjor", "a.toml"}),
                  "--class is one of critical, major, minor, observation, not mjor", "did you mean major");
    check_mistake(call({"inspect", "--form", "jsno", "a.toml"}), "--form is one of text, lines, json",
                  "did you mean json");
    check_mistake(call({"inspect", "--colour", "alway", "a.toml"}), "--colour is one of auto, always, never",
                  "did you mean always");
    check_mistake(call({"inspect", "--log", "debgu", "a.toml"}), "--log is one of", "did you mean debug");
    check_mistake(call({"rules", "list", "--form", "lines"}), "--form is one of text, json, not lines", "");
}

TEST_CASE("what is missing or too much is told") {
    check_mistake(call({"inspect"}), "PATHS is required", "packproof inspect --help");
    check_mistake(call({"explain"}), "SUBJECT is required", "packproof explain --help");
    check_mistake(call({"inspect", "a.toml", "--rules"}), "--rules", "packproof inspect --help");
    check_mistake(call({"vocabulary", "pack", "device"}), "takes nothing more, but device was given",
                  "packproof vocabulary --help");
}

TEST_CASE("a width that is no number or out of bounds is refused") {
    for (const std::string width : {"abc", "-5", "0", "39", "1001", "99999999999999999999", "1e3", ""}) {
        const Outcome run = call({"inspect", "--width=" + width, "a.toml"});
        INFO(width);
        CHECK(run.code == 2);
        CHECK(run.out.empty());
        CHECK(has(run.err, "--width"));
    }
}

TEST_CASE("hostile arguments come out harmless") {
    for (const std::string& bad :
         {std::string("\x1b[2J"), std::string("--\x1b[2J"), std::string("a\u202Eb"), std::string("\xff")}) {
        for (const Outcome& run :
             {call({bad}), call({"inspect", bad}), call({"explain", bad}), call({"vocabulary", bad}),
              call({"inspect", "--class", bad, "x"}), call({"rules", bad})}) {
            CHECK(run.code == 2);
            std::istringstream lines(run.err);
            for (std::string line; std::getline(lines, line);)
                CHECK(packproof::text::safe_print(line) == line);
        }
    }
}
