// Text from strangers in every form of the report, the letter and the bench list: nothing of it may act on a
// terminal, in an editor, in a browser or in a program.
#include <doctest/doctest.h>

#include <array>
#include <nlohmann/json.hpp>

#include "engine/report/bench_list.hpp"
#include "engine/report/form.hpp"
#include "engine/report/html_page.hpp"
#include "engine/report/html_text.hpp"
#include "engine/report/request.hpp"
#include "engine/text/safe_print.hpp"
#include "samples.hpp"

using packproof::report::Form;
using packproof::report::Options;
using packproof::samples::Sample;

namespace {

// So long that it is broken into lines: any of its words comes to stand at the beginning of one.
std::string repeated(std::string_view words, int times) {
    std::string text;
    for (int i = 0; i < times; ++i)
        text += words;
    return text;
}

// Escape sequence, one-byte CSI, operating system command that makes a link, bidi override and isolate, line
// separators, tags, zero width, HTML as text and in attributes, ends of what holds it, URIs that run, quotes,
// Markdown, a table's edges, new lines that look like ours, bad UTF-8, NUL.
const std::array<std::string, 17> attacks{
    "\x1b[2J\x1b]52;c;aGk=\x07",
    "\u009b31m",
    "\x1b]8;;http://a.example\x1b\\x\x1b]8;;\x1b\\",
    "a\u202Eb\u2066c\u061Cd",
    "x\u2028y\u2029z\u0085",
    "\U000E0041\u200Bhidden\uFEFF",
    "<script>alert(1)</script>\"'&",
    "\" onmouseover=\"alert(1)\" x='",
    "</style></title></bdi></dd><img src=x onerror=alert(1)><!--",
    "javascript:alert(1) [x](javascript:alert(1)) ![y](data:text/html,z)",
    "`code` | cell | **bold** \\ {{x}} {0}",
    repeated("a - b + c 1. d 2) e # f ", 20),
    repeated("=== --- - ", 40),
    "id\nother.toml:1:1: error: fake",
    "x\r\n\n# forged\n- item\n| a |\n|---|\n",
    "\xff\xfe broken \xc0\x80",
    std::string("nul\0nul\x7f", 8)};

constexpr std::array forms{Form::text, Form::lines, Form::json, Form::sarif, Form::html};

std::size_t count(const std::string& text, std::string_view part) {
    std::size_t found = 0;
    for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + part.size()))
        ++found;
    return found;
}

std::string printed(Form form, const Sample& sample) {
    Options options;
    options.all = true;
    return packproof::report::print(form, std::span(&sample.report, 1), sample.sources, options);
}

std::size_t line_count(const std::string& text) {
    return static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
}

// Lines that begin a heading, a list item, a rule or the line below a heading (CommonMark 4.1 to 4.3
// and 5.2).
std::size_t block_count(const std::string& markdown) {
    std::size_t blocks = 0;
    for (std::size_t begin = 0; begin < markdown.size();) {
        const std::size_t end = std::min(markdown.find('\n', begin), markdown.size());
        std::string line = markdown.substr(begin, end - begin);
        begin = end + 1;
        line.erase(0, line.find_first_not_of(' '));
        const std::size_t digits = std::min(line.find_first_not_of("0123456789"), line.size());
        const bool item =
            line.starts_with("- ") || line.starts_with("+ ") || line == "-" || line == "+" ||
            (digits > 0 && digits < line.size() && (line[digits] == '.' || line[digits] == ')') &&
             (digits + 1 == line.size() || line[digits + 1] == ' '));
        const bool below = !line.empty() && (line.find_first_not_of('=') == std::string::npos ||
                                             line.find_first_not_of("- ") == std::string::npos);
        if (item || below || line.starts_with('#')) ++blocks;
    }
    return blocks;
}

// A letter and a bench list of which a stranger wrote every word.
packproof::inspect::Question question_of(const std::string& words) {
    packproof::inspect::Question question;
    for (std::string* each : {&question.title, &question.text, &question.why, &question.ask,
                              &question.acceptable, &question.limit})
        *each = words;
    question.sides = question.parts = question.waiting = {words, words};
    return question;
}

packproof::inspect::Request letter_of(const std::string& words) {
    packproof::inspect::Request request;
    request.file = request.title = request.rules_version = words;
    request.rules_digest = request.input_digest = words;
    request.questions = {question_of(words)};
    return request;
}

packproof::inspect::BenchList bench_of(const std::string& words) {
    packproof::inspect::BenchList list;
    list.file = list.title = list.rules_version = list.rules_digest = list.input_digest = words;
    list.stops = list.cautions = {words};
    packproof::inspect::SheetLine line;
    line.item = line.text = line.expects = line.doubt = line.found = line.stop = words;
    packproof::inspect::Sheet& sheet = list.sheets.emplace_back();
    sheet.name = "sheet";
    sheet.title = sheet.about = sheet.brief = words;
    sheet.lines = {line};
    list.measure = {question_of(words)};
    return list;
}

// Every page, letter and list, of whose words a stranger wrote all.
struct Printed {
    bool html = false;
    bool markdown = false;
    std::string text;
};

std::vector<Printed> all_printed(const std::string& words) {
    using packproof::report::BenchForm;
    using packproof::report::RequestForm;
    std::vector<Printed> all;
    for (const Form form : forms)
        all.push_back({form == Form::html, false, printed(form, packproof::samples::hostile(words))});
    for (const RequestForm form : {RequestForm::markdown, RequestForm::html, RequestForm::json})
        all.push_back({form == RequestForm::html, form == RequestForm::markdown,
                       packproof::report::print_request(form, letter_of(words), {})});
    for (const BenchForm form : {BenchForm::text, BenchForm::html, BenchForm::json})
        all.push_back(
            {form == BenchForm::html, false, packproof::report::print_bench(form, bench_of(words), {})});
    return all;
}

// What a page is made of: its tags with their attributes, and nothing else. A stranger's word that becomes a
// tag or an attribute changes it.
std::string skeleton(const std::string& html) {
    std::string tags;
    for (std::size_t at = html.find('<'); at != std::string::npos; at = html.find('<', at + 1)) {
        const std::size_t end = html.find('>', at);
        tags += html.substr(at, end == std::string::npos ? end : end - at + 1);
    }
    return tags;
}

}  // namespace

TEST_CASE("no form lets a control or invisible character of a stranger through") {
    for (const std::string& attack : attacks)
        for (const Printed& one : all_printed(attack)) {
            CHECK(packproof::text::check_utf8(one.text).good);
            for (std::size_t begin = 0; begin < one.text.size();) {
                const std::size_t end = std::min(one.text.find('\n', begin), one.text.size());
                const std::string line = one.text.substr(begin, end - begin);
                CHECK(packproof::text::safe_print(line) == line);
                begin = end + 1;
            }
        }
}

TEST_CASE("a stranger's words become no tag, no attribute and no line of a page") {
    const auto plain = all_printed("name");
    for (const std::string& attack : attacks) {
        const auto attacked = all_printed(attack);
        for (std::size_t i = 0; i < plain.size(); ++i) {
            if (!plain[i].html) continue;
            CAPTURE(attack);
            CHECK(skeleton(attacked[i].text) == skeleton(plain[i].text));
            CHECK(line_count(attacked[i].text) == line_count(plain[i].text));
        }
    }
}

TEST_CASE("a stranger's words begin no markup of a letter in Markdown") {
    const auto plain = all_printed("name");
    for (const std::string& attack : attacks) {
        const auto attacked = all_printed(attack);
        for (std::size_t i = 0; i < plain.size(); ++i) {
            if (!plain[i].markdown) continue;
            const std::string& text = attacked[i].text;
            CAPTURE(attack);
            CHECK(block_count(text) == block_count(plain[i].text));
            // CommonMark 2.4: a backslash before punctuation takes its meaning away.
            for (const char* mark : {"<", "`", "|", "![", "](", "**bold"})
                CHECK(count(text, mark) - count(plain[i].text, mark) ==
                      count(text, std::string("\\") + mark));
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
    for (const Form form : forms)
        CHECK(printed(form, packproof::samples::cabin_store()) ==
              printed(form, packproof::samples::cabin_store()));
}

TEST_CASE("a form is read by its name and by nothing else") {
    using packproof::report::read_form;
    CHECK(read_form("text") == Form::text);
    CHECK(read_form("lines") == Form::lines);
    CHECK(read_form("json") == Form::json);
    CHECK(read_form("sarif") == Form::sarif);
    CHECK(read_form("html") == Form::html);
    CHECK_FALSE(read_form("JSON"));
    CHECK_FALSE(read_form(""));
}

TEST_CASE("right-to-left words stand apart from what is beside them") {
    CHECK(packproof::report::html_isolated("a<b") == "<bdi>a&lt;b</bdi>");
    CHECK(packproof::report::html_isolated("").empty());
}

TEST_CASE("bytes given in hexadecimal are told in base64") {
    // Expected: RFC 4648 section 10, the letters of "foobar" being 66 6f 6f 62 61 72.
    using packproof::report::base64_of_hex;
    CHECK(base64_of_hex("").empty());
    CHECK(base64_of_hex("66") == "Zg==");
    CHECK(base64_of_hex("666f") == "Zm8=");
    CHECK(base64_of_hex("666f6f") == "Zm9v");
    CHECK(base64_of_hex("666f6f62") == "Zm9vYg==");
    CHECK(base64_of_hex("666f6f626172") == "Zm9vYmFy");
}
