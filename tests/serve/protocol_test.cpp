// The conversation itself: LSP 3.17, "Base Protocol", "Server lifecycle" and "Position"; error codes of
// JSON-RPC 2.0, 5.1.
#include <doctest/doctest.h>

#include <unistd.h>

#include <sstream>

#include "client.hpp"
#include "engine/rules/built_in.hpp"

using namespace packproof;
using namespace packproof::serve_tests;

namespace {

const std::string initialize =
    R"({"jsonrpc":"2.0","id":"first","method":"initialize","params":{"capabilities":{}}})";

serve::Setting setting() {
    return {rules::built_in_rules(), {}, {}, "test"};
}

int error_in(const std::string& stream) {
    const auto messages = messages_in(stream);
    return messages.size() == 1 ? messages[0].at("error").at("code").get<int>() : 0;
}

}  // namespace

TEST_CASE("messages come in pieces of any size, several at once, with further header fields") {
    serve::Session session(setting());
    std::string answers;
    const std::string stream = "content-LENGTH:  " + std::to_string(initialize.size()) +
                               "\r\nContent-Type: application/vscode-jsonrpc; charset=utf-8\r\n\r\n" +
                               initialize;
    for (const char byte : stream)
        answers += session.receive(std::string(1, byte));
    auto messages = messages_in(answers);
    REQUIRE(messages.size() == 1);
    CHECK(messages[0].at("id") == "first");
    CHECK(messages[0].at("result").at("capabilities").at("positionEncoding") == "utf-16");
    CHECK(messages[0].at("result").at("capabilities").at("textDocumentSync").at("change") == 1);
    const std::string two = framed(R"({"jsonrpc":"2.0","id":2,"method":"shutdown"})") +
                            framed(R"({"jsonrpc":"2.0","method":"exit"})");
    messages = messages_in(session.receive(two));
    REQUIRE(messages.size() == 1);
    CHECK(messages[0].at("result").is_null());
    CHECK(session.ended());
    CHECK(session.exit_code() == 0);
}

TEST_CASE("what is no message is answered with an error, and the conversation goes on") {
    serve::Session session(setting());
    CHECK(error_in(session.receive(framed(R"({"jsonrpc":"2.0","id":1,"method":"textDocument/hover"})"))) ==
          -32002);
    CHECK(error_in(session.receive(framed("{not json"))) == -32700);
    CHECK(error_in(session.receive(framed("{\"method\": \"\xff\"}"))) == -32700);
    CHECK(error_in(session.receive(framed("[1, 2]"))) == -32600);
    CHECK(error_in(session.receive(framed(R"({"id": 3, "method": 4})"))) == -32600);
    CHECK(error_in(session.receive(framed(R"({"id": {}, "method": "shutdown"})"))) == -32600);
    CHECK(error_in(session.receive("Content-Type: text\r\n\r\n")) == -32700);
    CHECK(error_in(session.receive("Content-Length: -3\r\n\r\n")) == -32700);
    CHECK(error_in(session.receive(framed(std::string(100000, '[')))) == -32700);
    CHECK(messages_in(session.receive(framed(initialize))).at(0).contains("result"));
    CHECK(error_in(session.receive(framed(initialize))) == -32600);
    CHECK(error_in(session.receive(framed(R"({"id":1,"method":"packproof/unheard"})"))) == -32601);
    CHECK(error_in(session.receive(framed(R"({"id":1,"method":"textDocument/hover","params":{}})"))) ==
          -32602);
    CHECK(
        error_in(session.receive(framed(
            R"({"id":1,"method":"textDocument/hover","params":{"textDocument":{"uri":"a:b"},"position":{"line":-1,"character":0}}})"))) ==
        -32602);
    // Notifications are never answered: unknown ones, cancelling, wrong ones, texts that nobody opened.
    for (
        const char* quiet :
        {R"({"method":"$/cancelRequest","params":{"id":1}})", R"({"method":"unheard"})",
         R"({"method":"textDocument/didOpen","params":7})", R"({"id":9,"result":null})",
         R"({"method":"textDocument/didChange","params":{"textDocument":{"uri":"a:b"},"contentChanges":[]}})",
         R"({"method":"textDocument/didClose","params":{"textDocument":{"uri":"a:b"}}})"})
        CHECK(session.receive(framed(quiet)).empty());
    CHECK(messages_in(session.receive(framed(R"({"id":5,"method":"shutdown"})"))).at(0).at("id") == 5);
    CHECK(error_in(session.receive(framed(R"({"id":6,"method":"textDocument/hover"})"))) == -32600);
}

TEST_CASE("too long a message ends the conversation, as does exit without shutdown, with code 1") {
    for (const std::string& header :
         {std::string("Content-Length: 99999999999\r\n\r\n"),
          std::string("Content-Length: 99999999999999999999999\r\n\r\n"), std::string(20000, 'x')}) {
        serve::Session session(setting());
        CHECK(error_in(session.receive(header)) == -32700);
        CHECK(session.ended());
        CHECK(session.exit_code() == 1);
    }
    serve::Session session(setting());
    CHECK(session.receive(framed(R"({"method":"exit"})")).empty());
    CHECK(session.ended());
    CHECK(session.exit_code() == 1);
}

TEST_CASE("the end of the input ends it, and only messages stand on the output") {
    int ends[2];
    REQUIRE(::pipe(ends) == 0);
    const std::string half = framed(initialize) + "Content-Length: 10\r\n\r\nhalf";
    REQUIRE(::write(ends[1], half.data(), half.size()) == static_cast<ssize_t>(half.size()));
    ::close(ends[1]);
    serve::Session session(setting());
    std::ostringstream out;
    CHECK(serve::talk(ends[0], out, session) == 1);
    ::close(ends[0]);
    CHECK(messages_in(out.str()).size() == 1);
}

TEST_CASE("characters are counted in the units agreed upon") {
    // U+00B5 is 1 unit of UTF-16 and 2 bytes of UTF-8, U+1F50B is 2 units and 4 bytes (RFC 3629, RFC 2781):
    // before `nonsense` stand 17 ASCII characters, these two and 3 more.
    const std::string text = "pack = { name = \"\u00b5\U0001F50B\", nonsense = 1 }\n";
    struct Case {
        Json encodings;
        std::string agreed;
        int character;
    };
    for (const Case& one : {Case{nullptr, "utf-16", 23}, Case{{"utf-32", "utf-16"}, "utf-32", 22},
                            Case{{"utf-7", "utf-8"}, "utf-8", 26}}) {
        CAPTURE(one.agreed);
        Client client({}, one.encodings);
        client.open("untitled:one", text);
        const auto told = client.told("untitled:one", "input");
        REQUIRE(told.size() == 1);
        const Json& range = told[0].at("range");
        CHECK(range.at("start").at("character") == one.character);
        CHECK(range.at("end").at("character") == one.character + 8);
        // And back: the hover of `name` begins where its letters do.
        CHECK(client.at("hover", "untitled:one", 0, 10).at("range").at("start").at("character") == 9);
        // Far beyond the line is its end, beyond the text too: an answer, whatever it is.
        CHECK(client.at("hover", "untitled:one", 0, 5000).is_null());
        CHECK(client.at("hover", "untitled:one", 77, 2).is_null());
    }
}

TEST_CASE("of several changes only the last is told, with its version") {
    Client client;
    client.open("untitled:one", "pack = { series = 16 }\n");
    const std::size_t before = client.publications;
    for (const char* text :
         {"pack = { serie = 16 }\n", "pack = { series = \"x\" }\n", "pack = { series = 8 }\n"})
        client.change("untitled:one", text);
    CHECK(client.publications == before);
    client.settle();
    CHECK(client.publications == before + 1);
    CHECK(client.published.at("untitled:one").at("version") == 5);
    CHECK(client.told("untitled:one", "input").empty());
    client.close("untitled:one");
    CHECK(client.published.at("untitled:one").at("diagnostics").empty());
}
