// The list for the bench as one HTML file that needs no network.
#pragma once

#include <string>

#include "engine/inspect/worksheet.hpp"

namespace packproof::report {

[[nodiscard]] std::string print_bench_html(const inspect::BenchList& list);

}  // namespace packproof::report
