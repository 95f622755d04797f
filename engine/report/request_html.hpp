// The letter as one HTML file that needs no network and prints on plain paper, with room to write answers.
#pragma once

#include <string>

#include "engine/report/request.hpp"

namespace packproof::report {

[[nodiscard]] std::string print_request_html(const inspect::Request& request, RequestOptions options);

}  // namespace packproof::report
