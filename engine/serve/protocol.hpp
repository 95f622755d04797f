// What an editor is told, as the JSON of the Language Server Protocol 3.17. In text form, so that the library
// stays out of the header; see session.cpp for the messages around it.
#pragma once

#include <string>
#include <vector>

#include "engine/serve/told.hpp"

namespace packproof::serve {

[[nodiscard]] std::string location_json(const Location& location);
[[nodiscard]] std::string hover_json(const Hover& hover);
[[nodiscard]] std::string suggestions_json(const std::vector<Suggestion>& suggestions);
/// PublishDiagnosticsParams. `related`: the editor can show related places.
[[nodiscard]] std::string publication_json(const Publication& publication, bool related);
/// Code actions for what is told in `range` of `uri`, and for fixes of something in that range.
[[nodiscard]] std::string actions_json(const std::vector<Told>& told, const std::string& uri,
                                       const Extent& range, bool related);

}  // namespace packproof::serve
