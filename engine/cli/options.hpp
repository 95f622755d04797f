// What each command takes: its options, their explanations and where their words go. Commands and options are
// declared here and nowhere else.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "engine/cli/call.hpp"
#include "engine/cli/starter.hpp"

namespace CLI {
class App;
}

namespace packproof::cli {

/// The words of the command line before they are checked against what they may be.
struct Words {
    std::string log = "off";
    std::string gate = "major";
    std::string form = "text";
    std::vector<std::string> also;  ///< FORM=FILE
    std::string profile;            ///< empty: not given
    std::string colour = "auto";
    InspectCall inspect;
    ExplainCall explain;
    RfiCall rfi;
    std::string request_form = "markdown";
    BenchCall bench;
    std::string bench_form = "text";
    SheetCall sheet;
    RulesListCall list;
    RulesProveCall prove;
    NewCall start;
    VocabularyCall vocabulary;
    ManualCall manual;
    bool man = false;
    std::string pages_form;  ///< empty: not given
    ServeCall serve;
    std::string list_form = "text";
};

struct Commands {
    CLI::App* inspect = nullptr;
    CLI::App* explain = nullptr;
    CLI::App* rfi = nullptr;
    CLI::App* bench = nullptr;
    CLI::App* sheet = nullptr;
    CLI::App* rules = nullptr;
    CLI::App* list = nullptr;
    CLI::App* prove = nullptr;
    CLI::App* start = nullptr;
    CLI::App* vocabulary = nullptr;
    CLI::App* manual = nullptr;
    CLI::App* serve = nullptr;
};

inline constexpr std::string_view program_about =
    "Checks the design of a home-built battery pack before anyone builds it.";

[[nodiscard]] std::string version_line();  ///< "packproof 0.1.0"

/// Declares everything on `app`. `words` is written to when the library parses, and must outlive that.
[[nodiscard]] Commands add_commands(CLI::App& app, Words& words, std::span<const Blank> blanks);

}  // namespace packproof::cli
