// The letter as Markdown (CommonMark): what comes from a description cannot become markup.
#pragma once

#include <string>

#include "engine/report/request.hpp"

namespace packproof::report {

[[nodiscard]] std::string print_request_markdown(const inspect::Request& request, RequestOptions options);

}  // namespace packproof::report
