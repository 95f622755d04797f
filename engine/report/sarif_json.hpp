// Messages and places as a SARIF log has them. The JSON library is only named here, not included whole.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string_view>

#include "engine/report/sarif_artifacts.hpp"
#include "engine/report/sarif_words.hpp"
#include "engine/text/source.hpp"

namespace packproof::report {

using SarifJson = nlohmann::ordered_json;

inline constexpr std::string_view sarif_schema =
    "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json";
inline constexpr std::string_view sarif_base = "SRCROOT";  ///< the folder in which the program was called

/// A message of plain text.
[[nodiscard]] SarifJson message_json(std::string_view words);
/// A message in both forms.
[[nodiscard]] SarifJson words_json(const SarifWords& words);
/// The location of an artifact without its number.
[[nodiscard]] SarifJson name_json(const Artifact& artifact);
/// An artifactLocation.
[[nodiscard]] SarifJson file_json(std::string_view path, Artifacts& artifacts);
/// A physicalLocation.
[[nodiscard]] SarifJson place_json(const text::Span& span, const text::Sources& sources,
                                   Artifacts& artifacts);
/// The list of a run's artifacts, with length and digest of those that were read.
[[nodiscard]] SarifJson artifacts_json(const Artifacts& artifacts, const text::Sources& sources);

}  // namespace packproof::report
