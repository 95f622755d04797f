// The log of a run: to standard error, without time or thread, so that two runs compare. Quiet by default.
#pragma once

#include <iosfwd>
#include <span>
#include <string>
#include <string_view>

namespace packproof::cli {

[[nodiscard]] std::span<const std::string_view> log_levels();  ///< "off", "error", ... "trace"

/// Everything that spdlog's default logger is given goes to `err` until close_log.
void open_log(std::ostream& err, const std::string& level);
void close_log();

/// For reading the run from outside: what was loaded, what is inspected.
void log_debug(std::string_view text);

}  // namespace packproof::cli
