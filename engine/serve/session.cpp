#include "engine/serve/session.hpp"

#include <algorithm>
#include <exception>
#include <nlohmann/json.hpp>

#include "engine/report/json_text.hpp"
#include "engine/serve/features.hpp"
#include "engine/serve/framing.hpp"
#include "engine/serve/protocol.hpp"

namespace packproof::serve {

namespace {

using Json = nlohmann::json;

// Error codes of JSON-RPC 2.0 (5.1) and LSP 3.17 (ErrorCodes).
constexpr int parse_error = -32700;
constexpr int invalid_request = -32600;
constexpr int method_not_found = -32601;
constexpr int invalid_params = -32602;
constexpr int internal_error = -32603;
constexpr int not_initialized = -32002;

std::string message(const Json& json) {
    return framed(report::escape_invisible(json.dump(-1, ' ', false, Json::error_handler_t::replace)));
}

std::string failure(const Json& id, int code, const std::string& words) {
    return message(Json{{"jsonrpc", "2.0"}, {"id", id}, {"error", Json{{"code", code}, {"message", words}}}});
}

std::string answer(const Json& id, const Json& result) {
    return message(Json{{"jsonrpc", "2.0"}, {"id", id}, {"result", result}});
}

std::string notification(const char* method, const Json& params) {
    return message(Json{{"jsonrpc", "2.0"}, {"method", method}, {"params", params}});
}

std::uint32_t count_of(const Json& json) {
    return json.is_number_unsigned()
               ? static_cast<std::uint32_t>(std::min<std::uint64_t>(json.get<std::uint64_t>(), 0x7fffffffU))
               : throw Json::type_error::create(302, "a position counts from 0", &json);
}

Position position_in(const Json& json) {
    return {count_of(json.at("line")), count_of(json.at("character"))};
}

Extent extent_in(const Json& json) {
    return {position_in(json.at("start")), position_in(json.at("end"))};
}

std::optional<std::int64_t> version_in(const Json& document) {
    const auto found = document.find("version");
    if (found == document.end() || !found->is_number_integer()) return std::nullopt;
    return found->get<std::int64_t>();
}

bool flag_at(const Json& json, const char* path) {
    const Json::json_pointer pointer(path);
    return json.contains(pointer) && json.at(pointer).is_boolean() && json.at(pointer).get<bool>();
}

}  // namespace

struct Session::State {
    explicit State(Setting setting)
        : version(std::move(setting.version)),
          workspace(std::move(setting.built_in), std::move(setting.rule_folders),
                    std::move(setting.libraries)) {}

    std::string take(const std::string& content);
    std::string request(const Json& id, const std::string& method, const Json& params);
    void notify(const std::string& method, const Json& params);
    Json initialize(const Json& params);
    Json ask(const std::string& method, const Json& params);
    void change(const Json& params);

    std::string version;
    Workspace workspace;
    Frames frames;
    bool initialized = false;
    bool shut_down = false;
    bool ended = false;
    bool related = false;
};

Session::Session(Setting setting) : state_(std::make_unique<State>(std::move(setting))) {}
Session::~Session() = default;

bool Session::ended() const {
    return state_->ended;
}

int Session::exit_code() const {
    return state_->shut_down && state_->ended && !state_->frames.broken() ? 0 : 1;
}

std::string Session::receive(std::string_view bytes) {
    State& state = *state_;
    std::string answers;
    if (state.ended) return answers;
    state.frames.add(bytes);
    while (!state.ended) {
        const auto content = state.frames.next();
        for (std::size_t bad = state.frames.take_bad_headers(); bad > 0; --bad)
            answers += failure(nullptr, parse_error, "a header without a usable Content-Length");
        if (!content) break;
        answers += state.take(*content);
    }
    if (state.frames.broken() && !state.ended) {
        answers += failure(nullptr, parse_error, "a message is too long");
        state.ended = true;
    }
    return answers;
}

std::string Session::settle() {
    State& state = *state_;
    std::string told;
    if (!state.initialized || state.shut_down) return told;
    for (const Publication& publication : state.workspace.settle())
        told += notification("textDocument/publishDiagnostics",
                             Json::parse(publication_json(publication, state.related)));
    for (const std::string& trouble : state.workspace.take_troubles())
        told += notification("window/showMessage", Json{{"type", 1}, {"message", trouble}});
    return told;
}

std::string Session::State::take(const std::string& content) {
    const Json json = Json::parse(content, nullptr, false);
    if (json.is_discarded()) return failure(nullptr, parse_error, "this is not JSON");
    if (!json.is_object()) return failure(nullptr, invalid_request, "a message is an object");
    const auto id = json.find("id");
    const bool has_id = id != json.end() && (id->is_string() || id->is_number_integer());
    const auto method = json.find("method");
    if (method == json.end() && (json.contains("result") || json.contains("error"))) return {};  // an answer
    if (method == json.end() || !method->is_string())
        return failure(has_id ? *id : Json(), invalid_request, "a message has a method");
    const auto params = json.find("params");
    const Json& given = params != json.end() ? *params : Json::object();
    const auto& name = method->get_ref<const std::string&>();
    if (id != json.end() && !has_id) return failure(nullptr, invalid_request, "an id is a number or a text");
    try {
        if (has_id) return request(*id, name, given);
        notify(name, given);
    } catch (const Json::exception&) {
        if (has_id) return failure(*id, invalid_params, "these parameters do not fit the method");
    } catch (const std::exception& trouble) {
        if (has_id) return failure(*id, internal_error, trouble.what());
    }
    return {};
}

std::string Session::State::request(const Json& id, const std::string& method, const Json& params) {
    if (method == "initialize") {
        if (initialized) return failure(id, invalid_request, "initialize comes once");
        return answer(id, initialize(params));
    }
    if (!initialized) return failure(id, not_initialized, "initialize comes first");
    if (shut_down) return failure(id, invalid_request, "nothing is asked after shutdown");
    if (method == "shutdown") {
        shut_down = true;
        return answer(id, nullptr);
    }
    if (method == "textDocument/hover" || method == "textDocument/completion" ||
        method == "textDocument/definition" || method == "textDocument/codeAction")
        return answer(id, ask(method, params));
    return failure(id, method_not_found, "this server does not know " + method.substr(0, 100));
}

Json Session::State::initialize(const Json& params) {
    initialized = true;
    related = flag_at(params, "/capabilities/textDocument/publishDiagnostics/relatedInformation");
    std::string encoding = "utf-16";
    const Json::json_pointer encodings("/capabilities/general/positionEncodings");
    if (params.is_object() && params.contains(encodings) && params.at(encodings).is_array())
        for (const Json& one : params.at(encodings))
            if (one == "utf-16" || one == "utf-8" || one == "utf-32") {
                encoding = one;  // the client's first choice that is known here
                break;
            }
    workspace.set_encoding(encoding == "utf-8"    ? Encoding::utf8
                           : encoding == "utf-32" ? Encoding::utf32
                                                  : Encoding::utf16);
    return Json{
        {"capabilities", Json{{"positionEncoding", encoding},
                              {"textDocumentSync", Json{{"openClose", true}, {"change", 1}, {"save", true}}},
                              {"hoverProvider", true},
                              {"completionProvider", Json{{"triggerCharacters", {"[", ".", "\"", " "}}}},
                              {"definitionProvider", true},
                              {"codeActionProvider", Json{{"codeActionKinds", {"quickfix"}}}}}},
        {"serverInfo", Json{{"name", "packproof"}, {"version", version}}}};
}

void Session::State::notify(const std::string& method, const Json& params) {
    if (method == "exit") {
        ended = true;
        return;
    }
    if (!initialized || shut_down) return;
    if (method == "textDocument/didOpen") {
        const Json& document = params.at("textDocument");
        workspace.open(document.at("uri"), version_in(document), document.at("text"));
    } else if (method == "textDocument/didChange") {
        change(params);
    } else if (method == "textDocument/didClose") {
        workspace.close(params.at("textDocument").at("uri"));
    } else if (method == "textDocument/didSave" || method == "workspace/didChangeWatchedFiles") {
        workspace.files_changed();
    }
}

void Session::State::change(const Json& params) {
    const std::string uri = params.at("textDocument").at("uri");
    const OpenText* open = workspace.text(uri);
    if (open == nullptr) return;
    std::string text = open->text;
    for (const Json& one : params.at("contentChanges")) {
        const std::string& written = one.at("text").get_ref<const std::string&>();
        if (!one.contains("range")) {
            text = written;
            continue;
        }
        // not asked for, but some send it all the same
        const Extent extent = extent_in(one.at("range"));
        const std::uint32_t begin = offset_of(text, extent.start, workspace.encoding());
        const std::uint32_t end = std::max(begin, offset_of(text, extent.end, workspace.encoding()));
        text.replace(begin, end - begin, written);
    }
    workspace.change(uri, version_in(params.at("textDocument")), std::move(text));
}

Json Session::State::ask(const std::string& method, const Json& params) {
    const std::string uri = params.at("textDocument").at("uri");
    const OpenText* open = workspace.text(uri);
    if (method == "textDocument/codeAction") {
        const Extent range = extent_in(params.at("range"));
        if (open == nullptr) return Json::array();
        return Json::parse(actions_json(workspace.told_at(*open), uri, range, related));
    }
    const Position position = position_in(params.at("position"));
    if (open == nullptr) return nullptr;
    const Asked asked{*open, offset_of(open->text, position, workspace.encoding())};
    const bool of_rules = workspace.is_rule_text(*open);
    if (method == "textDocument/completion")
        return Json::parse(suggestions_json(of_rules ? complete_rules(asked, workspace)
                                                     : complete_description(asked, workspace)));
    if (method == "textDocument/hover") {
        const auto hover = of_rules ? hover_rules(asked, workspace) : hover_description(asked, workspace);
        return hover ? Json::parse(hover_json(*hover)) : Json();
    }
    const auto at = of_rules ? define_rules(asked, workspace) : define_description(asked, workspace);
    return at ? Json::parse(location_json(*at)) : Json();
}

}  // namespace packproof::serve
