#include "engine/report/sarif_artifacts.hpp"

namespace packproof::report {

std::size_t Artifacts::index_of(std::string_view path) {
    FileUri name = file_uri(path, folder_);
    const auto [found, is_new] = index_.try_emplace(name.uri, list_.size());
    if (!is_new) return found->second;
    Artifact artifact{std::move(name)};
    for (text::SourceIndex i = 0; i < sources_.size() && artifact.source == text::no_source; ++i)
        if (sources_.holds(i) && sources_.path(i) == path) artifact.source = i;
    list_.push_back(std::move(artifact));
    return list_.size() - 1;
}

std::size_t Artifacts::add_target(std::string_view path) {
    const std::size_t index = index_of(path);
    list_[index].target = true;
    return index;
}

}  // namespace packproof::report
