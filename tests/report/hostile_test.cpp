// Text from strangers in every form: nothing of it may act on a terminal, an editor or a program.
#include <doctest/doctest.h>

#include <array>
#include <nlohmann/json.hpp>

#include "engine/report/form.hpp"
#include "engine/text/safe_print.hpp"
#include "samples.hpp"

using packproof::report::Form;
using packproof::report::Options;
using packproof::samples::Sample;

namespace {

// Escape sequence, one-byte CSI, bidi override, line separator, tag, zero width, HTML, quotes, a line that
// looks like a message of ours, bad UTF-8, NUL.
const std::array<std::string, 9> attacks{"\x1b[2J\x1b]52;c;aGk=\x07",
                                         "\u009b31m",
                                         "a\u202Eb\u2066c",
                                         "x\u2028y\u2029z\u0085",
                                         "\U000E0041\u200Bhidden\uFEFF",
                                         "<script>alert(1)</script>\"'&",
                                         "id\nother.toml:1:1: error: fake",
                                         "\xff\xfe broken \xc0\x80",
                                         std::string("nul\0nul\x7f", 8)};

std::string printed(Form form, const Sample& sample) {
    Options options;
    options.all = true;
    return packproof::report::print(form, std::span(&sample.report, 1), sample.sources, options);
}

std::size_t line_count(const std::string& text) {
    return static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
}

}  // namespace

TEST_CASE("no form lets a control or invisible character of a stranger through") {
    for (const std::string& attack : attacks)
        for (const Form form : {Form::text, Form::lines, Form::json, Form::sarif}) {
            const std::string text = printed(form, packproof::samples::hostile(attack));
            CHECK(packproof::text::check_utf8(text).good);
            for (std::size_t begin = 0; begin < text.size();) {
                const std::size_t end = std::min(text.find('\n', begin), text.size());
                const std::string line = text.substr(begin, end - begin);
                CHECK(packproof::text::safe_print(line) == line);
                begin = end + 1;
            }
        }
}

TEST_CASE("a newline in a name makes no further line") {
    const std::string plain = printed(Form::lines, packproof::samples::hostile("name"));
    const std::string attacked = printed(Form::lines, packproof::samples::hostile("name\n"));
    CHECK(line_count(attacked) == line_count(plain));
}

TEST_CASE("JSON gives hostile text back unchanged where it is UTF-8") {
    for (const std::string& attack : attacks) {
        const auto run = nlohmann::json::parse(printed(Form::json, packproof::samples::hostile(attack)));
        if (packproof::text::check_utf8(attack).good)
            CHECK(run["findings"][0]["item"].get<std::string>() == attack);
        else
            CHECK(run["findings"][0]["item"].get<std::string>().find("broken") != std::string::npos);
    }
}

TEST_CASE("the same report gives the same bytes") {
    for (const Form form : {Form::text, Form::lines, Form::json, Form::sarif})
        CHECK(printed(form, packproof::samples::cabin_store()) ==
              printed(form, packproof::samples::cabin_store()));
}

TEST_CASE("a form is read by its name and by nothing else") {
    using packproof::report::read_form;
    CHECK(read_form("text") == Form::text);
    CHECK(read_form("lines") == Form::lines);
    CHECK(read_form("json") == Form::json);
    CHECK(read_form("sarif") == Form::sarif);
    CHECK_FALSE(read_form("JSON"));
    CHECK_FALSE(read_form(""));
}
