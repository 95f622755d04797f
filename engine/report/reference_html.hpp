// The reference as HTML pages that need nothing but themselves, also opened from a folder.
#pragma once

#include <span>
#include <string>

#include "engine/report/reference.hpp"

namespace packproof::report {

[[nodiscard]] std::string print_reference_html(const ReferencePage& page);
/// The list of all pages by group, with a box to search it. Without script the list is whole.
[[nodiscard]] std::string print_reference_index_html(std::span<const ReferencePage> pages);

}  // namespace packproof::report
