#include "engine/serve/protocol.hpp"

#include <nlohmann/json.hpp>

namespace packproof::serve {

namespace {

using Json = nlohmann::ordered_json;

std::string dumped(const Json& json) {
    return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

Json position(Position position) {
    return Json{{"line", position.line}, {"character", position.character}};
}

Json range(const Extent& extent) {
    return Json{{"start", position(extent.start)}, {"end", position(extent.end)}};
}

Json location(const Location& location) {
    return Json{{"uri", location.uri}, {"range", range(location.extent)}};
}

Json diagnostic(const Told& told, bool related) {
    Json json{{"range", range(told.at.extent)},
              {"severity", static_cast<int>(told.severity)},
              {"code", told.code},
              {"source", "packproof"},
              {"message", told.message}};
    if (related && !told.related.empty()) {
        json["relatedInformation"] = Json::array();
        for (const Related& other : told.related)
            json["relatedInformation"].push_back(
                Json{{"location", location(other.at)}, {"message", other.text}});
    }
    if (!told.remedies.empty() || !told.fixes.empty()) {
        Json fixes = Json::array();
        for (const Fix& fix : told.fixes)
            fixes.push_back(
                Json{{"title", fix.title}, {"location", location(fix.at)}, {"newText", fix.writes}});
        json["data"] = Json{{"clears", told.remedies}, {"fixes", std::move(fixes)}};
    }
    return json;
}

bool touches(const Extent& a, const Extent& b) {
    return a.start <= b.end && b.start <= a.end;
}

}  // namespace

std::string location_json(const Location& at) {
    return dumped(location(at));
}

std::string hover_json(const Hover& hover) {
    return dumped(Json{{"contents", Json{{"kind", "markdown"}, {"value", hover.markdown}}},
                       {"range", range(hover.extent)}});
}

std::string suggestions_json(const std::vector<Suggestion>& suggestions) {
    Json list = Json::array();
    for (const Suggestion& one : suggestions)
        list.push_back(Json{{"label", one.label},
                            {"kind", static_cast<int>(one.kind)},
                            {"detail", one.detail},
                            {"filterText", one.writes},
                            {"textEdit", Json{{"range", range(one.replaces)}, {"newText", one.writes}}}});
    return dumped(Json{{"isIncomplete", false}, {"items", std::move(list)}});
}

std::string publication_json(const Publication& publication, bool related) {
    Json json{{"uri", publication.uri}};
    if (publication.version) json["version"] = *publication.version;
    json["diagnostics"] = Json::array();
    for (const Told& told : publication.told)
        json["diagnostics"].push_back(diagnostic(told, related));
    return dumped(json);
}

std::string actions_json(const std::vector<Told>& told, const std::string& uri, const Extent& asked,
                         bool related) {
    Json list = Json::array();
    for (const Told& one : told)
        for (const Fix& fix : one.fixes) {
            const bool at_fault = one.at.uri == uri && touches(one.at.extent, asked);
            const bool at_fix = fix.at.uri == uri && touches(fix.at.extent, asked);
            if (!at_fault && !at_fix) continue;
            Json edit{{"range", range(fix.at.extent)}, {"newText", fix.writes}};
            Json action{{"title", fix.title},
                        {"kind", "quickfix"},
                        {"edit", Json{{"changes", Json{{fix.at.uri, Json::array({std::move(edit)})}}}}}};
            if (one.at.uri == uri) action["diagnostics"] = Json::array({diagnostic(one, related)});
            list.push_back(std::move(action));
        }
    return dumped(list);
}

}  // namespace packproof::serve
