#include "client.hpp"

#include <algorithm>
#include <fstream>
#include <sstream>
#include <stdexcept>

#include "engine/rules/built_in.hpp"

namespace packproof::serve_tests {

std::string framed(const std::string& content) {
    return "Content-Length: " + std::to_string(content.size()) + "\r\n\r\n" + content;
}

std::vector<Json> messages_in(std::string_view stream) {
    std::vector<Json> messages;
    while (!stream.empty()) {
        constexpr std::string_view field = "Content-Length: ";
        const std::size_t end = stream.find("\r\n\r\n");
        if (!stream.starts_with(field) || end == std::string_view::npos)
            throw std::runtime_error("no header where a message should begin");
        const std::size_t length = std::stoul(std::string(stream.substr(field.size(), end - field.size())));
        if (stream.size() < end + 4 + length) throw std::runtime_error("a message is cut short");
        messages.push_back(Json::parse(stream.substr(end + 4, length)));
        stream.remove_prefix(end + 4 + length);
    }
    return messages;
}

Client::Client(std::vector<std::string> rule_folders, const Json& encodings)
    : session({rules::built_in_rules(), std::move(rule_folders), {}, "test"}) {
    Json capabilities{{"textDocument", {{"publishDiagnostics", {{"relatedInformation", true}}}}}};
    if (!encodings.is_null()) capabilities["general"]["positionEncodings"] = encodings;
    ask("initialize", {{"processId", nullptr}, {"rootUri", nullptr}, {"capabilities", capabilities}});
    notify("initialized", Json::object());
}

Json Client::take(const std::string& stream) {
    Json answer;
    for (Json& message : messages_in(stream)) {
        const std::string method = message.value("method", "");
        if (method == "textDocument/publishDiagnostics") {
            ++publications;
            published[message["params"]["uri"].get<std::string>()] = message["params"];
        } else if (method == "window/showMessage") {
            shown.push_back(message["params"]);
        } else {
            answer = std::move(message);
        }
    }
    return answer;
}

Json Client::ask(const std::string& method, const Json& params) {
    return take(session.receive(
        framed(Json{{"jsonrpc", "2.0"}, {"id", next_id_++}, {"method", method}, {"params", params}}.dump())));
}

Json Client::at(const std::string& method, const std::string& uri, int line, int character) {
    return ask("textDocument/" + method,
               {{"textDocument", {{"uri", uri}}}, {"position", {{"line", line}, {"character", character}}}})
        .at("result");
}

void Client::notify(const std::string& method, const Json& params) {
    const Json answer = take(
        session.receive(framed(Json{{"jsonrpc", "2.0"}, {"method", method}, {"params", params}}.dump())));
    if (!answer.is_null()) throw std::runtime_error("a notification was answered");
}

void Client::settle() {
    take(session.settle());
}

void Client::open(const std::string& uri, const std::string& text) {
    texts[uri] = text;
    notify(
        "textDocument/didOpen",
        {{"textDocument", {{"uri", uri}, {"languageId", "toml"}, {"version", ++version_}, {"text", text}}}});
    settle();
}

void Client::change(const std::string& uri, const std::string& text) {
    texts[uri] = text;
    notify("textDocument/didChange", {{"textDocument", {{"uri", uri}, {"version", ++version_}}},
                                      {"contentChanges", Json::array({{{"text", text}}})}});
}

void Client::close(const std::string& uri) {
    texts.erase(uri);
    notify("textDocument/didClose", {{"textDocument", {{"uri", uri}}}});
    settle();
}

Json Client::actions(const std::string& uri, const Json& range) {
    return ask("textDocument/codeAction", {{"textDocument", {{"uri", uri}}},
                                           {"range", range},
                                           {"context", {{"diagnostics", Json::array()}}}})
        .at("result");
}

void Client::apply(const Json& action) {
    for (const auto& [uri, edits] : action.at("edit").at("changes").items()) {
        std::string text = texts.contains(uri) ? texts.at(uri) : throw std::runtime_error("not open: " + uri);
        // Lines end in LF; characters are counted in UTF-16: a byte that begins four (RFC 3629) is two units.
        const auto offset = [&text](const Json& position) {
            std::size_t at = 0;
            for (int line = position.at("line"); line > 0; --line)
                at = text.find('\n', at) + 1;
            for (int left = position.at("character"); left > 0 && at < text.size();) {
                left -= static_cast<unsigned char>(text[at]) >= 0xF0 ? 2 : 1;
                do
                    ++at;
                while (at < text.size() && (static_cast<unsigned char>(text[at]) & 0xC0U) == 0x80U);
            }
            return at;
        };
        const Json& edit = edits.at(0);
        const std::size_t begin = offset(edit.at("range").at("start"));
        const std::size_t end = offset(edit.at("range").at("end"));
        text.replace(begin, end - begin, edit.at("newText").get<std::string>());
        change(uri, text);
    }
    settle();
}

std::vector<Json> Client::told(const std::string& uri, const std::string& code) const {
    std::vector<Json> found;
    const auto all = published.find(uri);
    if (all == published.end()) return found;
    for (const Json& one : all->second.at("diagnostics"))
        if (one.at("code") == code) found.push_back(one);
    return found;
}

std::vector<std::string> labels(const Json& completion) {
    std::vector<std::string> found;
    for (const Json& item : completion.at("items"))
        found.push_back(item.at("label"));
    return found;
}

std::string source_text(const std::string& name) {
    std::ifstream file(std::string(PACKPROOF_SOURCE_DIR) + "/" + name);
    std::ostringstream text;
    text << file.rdbuf();
    if (text.str().empty()) throw std::runtime_error("cannot read " + name);
    return text.str();
}

std::string source_uri(const std::string& name) {
    return "file://" + std::string(PACKPROOF_SOURCE_DIR) + "/" + name;
}

std::string replaced(std::string text, const std::string& old, const std::string& by) {
    const std::size_t at = text.find(old);
    if (at == std::string::npos) throw std::runtime_error("does not occur: " + old);
    return text.replace(at, old.size(), by);
}

std::pair<int, int> place_of(const std::string& text, const std::string& part) {
    const std::size_t at = text.find(part);
    if (at == std::string::npos) throw std::runtime_error("does not occur: " + part);
    const auto line = static_cast<int>(std::count(text.begin(), text.begin() + static_cast<long>(at), '\n'));
    const std::size_t begin = at == 0 ? 0 : text.rfind('\n', at - 1) + 1;
    return {line, static_cast<int>(at - begin)};
}

}  // namespace packproof::serve_tests
