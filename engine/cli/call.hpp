// What the user asked for, read from the command line: plain data, one struct a command.
#pragma once

#include <cstddef>
#include <map>
#include <string>
#include <variant>
#include <vector>

#include "engine/report/bench_list.hpp"
#include "engine/report/form.hpp"
#include "engine/report/options.hpp"
#include "engine/report/request.hpp"
#include "engine/rules/rule_set.hpp"

namespace packproof::cli {

enum class Colour : std::uint8_t { automatic, always, never };

struct FurtherReport {
    report::Form form = report::Form::text;
    std::string file;
};

struct InspectCall {
    std::vector<std::string> paths;
    std::vector<std::string> rule_folders;
    std::vector<std::string> libraries;
    std::vector<std::string> overlays;  ///< files, or folders of them: one combination each is inspected
    std::vector<FurtherReport> also;    ///< of the same run
    std::string touched;                ///< file that lists paths, one a line; empty: all are inspected
    std::size_t jobs = 0;               ///< threads; 0: as many as there are cores
    std::string item;
    rules::Class gate = rules::Class::major;
    report::Form form = report::Form::text;
    report::Profile profile = report::Profile::full;
    Colour colour = Colour::automatic;
    bool undecided = false;  ///< undecided closes the gate too
    bool all = false;
    std::string day;         ///< on which concessions are judged, YYYY-MM-DD; empty: today
    bool new_rules = false;  ///< rules that count from a later release on count already
    std::string since;       ///< an earlier report to compare with; empty: none
    bool new_only = false;   ///< only what is new or worse since then closes the gate
    std::size_t width = 80;
};

struct ExplainCall {
    std::string subject;  ///< RULE or FILE#ITEM
    std::string day;
    std::vector<std::string> rule_folders;
    std::vector<std::string> libraries;
    Colour colour = Colour::automatic;
    std::size_t width = 80;
};

struct RfiCall {
    std::string path;
    std::string day;
    std::vector<std::string> rule_folders;
    std::vector<std::string> libraries;
    report::RequestForm form = report::RequestForm::markdown;
    bool desk = false;  ///< nobody has the parts in hand: what could be measured is asked too
};

struct BenchCall {
    std::string path;
    std::string day;
    std::vector<std::string> rule_folders;
    std::vector<std::string> libraries;
    std::string sheet;  ///< only this worksheet; empty: all
    report::BenchForm form = report::BenchForm::text;
    Colour colour = Colour::automatic;
    std::size_t width = 80;
};

struct SheetCall {
    std::string path;
    std::vector<std::string> rule_folders;
    std::vector<std::string> libraries;
    std::string output;    ///< empty: standard output
    bool drawing = false;  ///< the drawing alone, as SVG
    std::string day;       ///< on which concessions are judged; empty: today
};

struct RulesListCall {
    std::vector<std::string> rule_folders;
    bool as_json = false;
    std::size_t width = 80;
};

struct RulesProveCall {
    std::vector<std::string> rule_folders;
};

struct NewCall {
    std::string path;                           ///< empty: standard output
    std::map<std::string, std::string> values;  ///< blanks of the starter description that were given
};

struct VocabularyCall {
    std::vector<std::string> rule_folders;
    std::string kind;     ///< empty: all
    bool schema = false;  ///< as a JSON Schema instead
    std::size_t width = 80;
};

struct ManualCall {
    enum class Form : std::uint8_t { man, completion, pages };
    Form form = Form::man;
    std::vector<std::string> rule_folders;
    std::string shell;         ///< of a completion: bash, zsh or fish
    std::string folder;        ///< into which the pages go
    bool as_markdown = false;  ///< the pages; else HTML
};

struct ServeCall {
    std::vector<std::string> rule_folders;
    std::vector<std::string> libraries;
};

struct Call {
    std::variant<InspectCall, ExplainCall, RfiCall, BenchCall, SheetCall, RulesListCall, RulesProveCall,
                 NewCall, VocabularyCall, ManualCall, ServeCall>
        command;
    std::string log_level = "off";
};

}  // namespace packproof::cli
