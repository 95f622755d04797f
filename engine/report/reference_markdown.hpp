// The reference as Markdown (CommonMark, with the tables of its common extension).
#pragma once

#include <span>
#include <string>

#include "engine/report/reference.hpp"

namespace packproof::report {

[[nodiscard]] std::string print_reference_markdown(const ReferencePage& page);
[[nodiscard]] std::string print_reference_index_markdown(std::span<const ReferencePage> pages);

}  // namespace packproof::report
