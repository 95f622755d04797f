// What a builder takes to the bench: the worksheets of the rule set filled in for one description, the values
// that are still to be measured, and what stops the work.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/inspect/request.hpp"

namespace packproof::inspect {

struct SheetLine {
    enum class State : std::uint8_t {
        open,      ///< nothing was read yet
        inside,    ///< what was read is as expected, and no check on it fails or waits
        outside,   ///< it is not, or a check on it fails
        uncertain  ///< the limit lies within the tolerance of what was read, or a check on it waits
    };
    std::string item;
    std::string text;
    std::string expects;  ///< may be empty: nothing can be said
    std::string
        doubt;  ///< why what is expected does not hold yet: papers differ, a check on it fails; may be empty
    std::string found;  ///< may be empty
    State state = State::open;
    bool measured = false;  ///< a value is read here, so that a blank is due
    bool hold = false;      ///< nobody goes on before this is done
    std::string stop;
    std::string detail = {};  ///< with what, in what order; may be empty
    std::string brief = {};   ///< `text` where room is short; may be empty
    int number = 0;           ///< of a repeated line, from 1
};

struct Sheet {
    std::string name;
    std::string title;
    std::string about;
    std::vector<SheetLine> lines;
    std::string brief = {};  ///< `about` where room is short; may be empty
    rules::SheetLayout layout = rules::SheetLayout::list;
};

struct BenchList {
    std::string file;
    std::string title;
    /// What is critical and fails, conceded or not: a line for each rule, which names every item.
    std::vector<std::string> stops;
    std::vector<Sheet> sheets;  ///< those with lines
    std::vector<Question>
        measure;  ///< values that whoever has the parts in hand can find out, heaviest first
    std::vector<std::string> cautions;
    std::string rules_version;
    std::string rules_digest;
    std::string input_digest;
};

/// Empty when the description has errors: `messages` says which.
[[nodiscard]] std::optional<BenchList> bench_list(const std::string& path, const rules::RuleSet& rules,
                                                  text::Sources& sources, text::Messages& messages,
                                                  const Options& options = {});

/// The list from a model already built and the report on it.
[[nodiscard]] BenchList bench_list_of(const Loaded& loaded, const rules::RuleSet& rules,
                                      const text::Sources& sources, const Report& report);

/// The worksheets alone, from a model already built and the report on it.
[[nodiscard]] std::vector<Sheet> fill_sheets(const model::Model& model, const rules::RuleSet& rules,
                                             const Report& report);

}  // namespace packproof::inspect
