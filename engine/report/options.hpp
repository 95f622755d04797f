// How a report is to look. Nothing here changes what is found.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

namespace packproof::report {

struct Options {
    bool colour = false;                     ///< only for a terminal; no meaning rests on colour alone
    bool all = false;                        ///< what conforms and every value that is not stated, too
    std::size_t width = 80;                  ///< cells a line of the text form; taken as at least 40
    std::vector<std::string> not_inspected;  ///< files of the same run whose input has errors
};

}  // namespace packproof::report
