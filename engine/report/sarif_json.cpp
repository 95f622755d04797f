#include "engine/report/sarif_json.hpp"

#include <nlohmann/json.hpp>

#include "engine/report/sarif_place.hpp"
#include "engine/text/sha256.hpp"

namespace packproof::report {

SarifJson message_json(std::string_view words) {
    return SarifJson{{"text", sarif_text(words)}};
}

SarifJson words_json(const SarifWords& words) {
    return SarifJson{{"text", words.text}, {"markdown", words.markdown}};
}

SarifJson name_json(const Artifact& artifact) {
    if (artifact.name.uri.empty()) return SarifJson{{"description", message_json("standard input")}};
    SarifJson json{{"uri", artifact.name.uri}};
    if (artifact.name.below) json["uriBaseId"] = sarif_base;
    return json;
}

SarifJson file_json(std::string_view path, Artifacts& artifacts) {
    const std::size_t index = artifacts.index_of(path);
    SarifJson json = name_json(artifacts.list()[index]);
    json["index"] = index;
    return json;
}

SarifJson place_json(const text::Span& span, const text::Sources& sources, Artifacts& artifacts) {
    const Region region = region_of(span, sources);
    return SarifJson{{"artifactLocation", file_json(sources.path(span.source), artifacts)},
                     {"region", SarifJson{{"startLine", region.start_line},
                                          {"startColumn", region.start_column},
                                          {"endLine", region.end_line},
                                          {"endColumn", region.end_column}}}};
}

SarifJson artifacts_json(const Artifacts& artifacts, const text::Sources& sources) {
    SarifJson list = SarifJson::array();
    for (const Artifact& artifact : artifacts.list()) {
        SarifJson json{{"location", name_json(artifact)}};
        if (artifact.target) json["roles"] = SarifJson::array({"analysisTarget"});
        if (artifact.name.uri.empty()) json["roles"].push_back("standardStream");
        if (artifact.source != text::no_source) {
            const std::string_view bytes = sources.bytes(artifact.source);
            json["encoding"] = "utf-8";
            json["length"] = bytes.size();
            json["hashes"] = SarifJson{{"sha-256", text::sha256(bytes)}};
        }
        list.push_back(std::move(json));
    }
    return list;
}

}  // namespace packproof::report
