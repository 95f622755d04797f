// The files that a SARIF log speaks of, each once, in the order in which they are first mentioned.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "engine/report/sarif_place.hpp"
#include "engine/text/source.hpp"

namespace packproof::report {

struct Artifact {
    FileUri name;
    text::SourceIndex source = text::no_source;  ///< whose bytes are the file's; nowhere if it was not read
    bool target = false;                         ///< was to be inspected itself
};

class Artifacts {
  public:
    /// `sources` must outlive it. `folder`: as of file_uri.
    Artifacts(const text::Sources& sources, std::string folder)
        : sources_(sources), folder_(std::move(folder)) {}

    /// Where in the list the file of this path stands; added if it is new.
    [[nodiscard]] std::size_t index_of(std::string_view path);
    std::size_t add_target(std::string_view path);

    [[nodiscard]] const std::vector<Artifact>& list() const { return list_; }

  private:
    const text::Sources& sources_;
    std::string folder_;
    std::map<std::string, std::size_t> index_;  ///< by URI
    std::vector<Artifact> list_;
};

}  // namespace packproof::report
