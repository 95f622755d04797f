// The words of the list for the bench that its forms share.
#pragma once

#include <string>

#include "engine/inspect/worksheet.hpp"

namespace packproof::report {

/// 'x' as expected, '!' not, '?' not settled, ' ' not read yet.
[[nodiscard]] char mark_of(inspect::SheetLine::State state);

/// What was read, and in words whether it is as expected; empty if nothing was.
[[nodiscard]] std::string read_words(const inspect::SheetLine& line);

/// What to expect; of a value in doubt, why nobody should go by it. Empty if nothing can be said.
[[nodiscard]] std::string expect_words(const inspect::SheetLine& line);

/// How a value is found out; of a whole item the values that are wanted. Not which value would do: nobody
/// measures what he hopes for.
[[nodiscard]] std::string how_words(const inspect::Question& question);

/// The next line stops the work for another reason, or there is none.
[[nodiscard]] bool ends_its_stop(const inspect::Sheet& sheet, std::size_t line);

}  // namespace packproof::report
