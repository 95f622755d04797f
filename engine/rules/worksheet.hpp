// A worksheet as rule data: lines to do, to measure or to enter, each for items of a kind, with the value
// that the description lets one expect.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "engine/language/tree.hpp"
#include "engine/model/vocabulary.hpp"

namespace packproof::rules {

/// Where a numbered line finds what was read: among the items of a kind, the one whose number is that of the
/// line.
struct FoundIn {
    model::KindIndex kind = 0;
    language::Expression number;
    language::Expression value;
};

/// Words with values in them: words[0], blanks[0], words[1], ... An empty blank is the number of the line.
struct Wording {
    std::vector<std::string> words;
    std::vector<language::Expression> blanks;  ///< one fewer than words
};

struct WorksheetLine {
    model::KindIndex kind = 0;
    language::Expression when;     ///< truth; may be empty
    language::Expression by;       ///< number: lines of one definition stand in its order; may be empty
    language::Expression times;    ///< number: so many lines, numbered from 1; may be empty
    Wording does;                  ///< what is done
    Wording detail;                ///< with what, in what order; told where there is room; may be empty
    Wording brief;                 ///< `does` where room is short; may be empty
    language::Expression expects;  ///< any value; may be empty
    bool adds_up = false;          ///< what is expected of line n is n times as much
    language::Expression found;    ///< what was read, of the type of `expects`; may be empty
    std::optional<FoundIn> found_in;
    language::Expression good;  ///< truth: false marks what was read as not as expected; may be empty
    language::Expression hold;  ///< truth: nobody goes on before this is done; may be empty
    std::string stop;           ///< what means: go no further; may be empty
};

/// How a worksheet lies on a page where room is short.
enum class SheetLayout : std::uint8_t {
    list,    ///< a line below the other, in columns
    flow,    ///< one after the other, as in a paragraph
    table,   ///< with the detail of each line, over the whole width
    beside,  ///< short lines beside a drawing
};

struct Worksheet {
    std::string name;
    std::string title;
    std::string about;
    std::string brief;  ///< `about` where room is short; may be empty
    SheetLayout layout = SheetLayout::list;
    int place = 0;  ///< worksheets stand in its order, then in that of their names
    std::vector<WorksheetLine> lines;
    std::vector<model::Authority> basis;
};

}  // namespace packproof::rules
