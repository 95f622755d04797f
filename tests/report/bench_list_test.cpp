// The list for the bench in its forms: nothing lost, nothing acts.
#include "engine/report/bench_list.hpp"

#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

#include "engine/text/safe_print.hpp"

using namespace packproof;
using inspect::SheetLine;
using report::BenchForm;

namespace {

inspect::BenchList sample(const std::string& words) {
    inspect::BenchList list;
    list.file = words;
    list.title = words;
    list.stops = {words};
    list.rules_version = "0.1";
    list.rules_digest = "0123456789abcdef";
    list.input_digest = "fedcba9876543210";
    list.cautions = {"Live.", words};
    inspect::Sheet sheet;
    sheet.name = "taps";
    sheet.title = "Taps " + words;
    sheet.about = words;
    SheetLine line;
    line.item = words;
    line.text = "tap one " + words;
    line.expects = "3.3 V";
    line.measured = true;
    line.stop = "do not plug in";
    sheet.lines.push_back(line);
    line.text = "tap two";
    line.found = "9 V " + words;
    line.state = SheetLine::State::outside;
    sheet.lines.push_back(line);
    line.state = SheetLine::State::inside;
    line.hold = true;
    sheet.lines.push_back(line);
    line.state = SheetLine::State::uncertain;
    sheet.lines.push_back(line);
    list.sheets.push_back(sheet);
    inspect::Question question;
    question.title = "width of " + words;
    question.ask = "caliper";
    question.limit = "at least 20 mm";
    list.measure = {question};
    return list;
}

bool has(const std::string& text, std::string_view part) {
    return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("a state is told by a mark and words, never by colour alone") {
    report::Options plain;
    const std::string text = report::print_bench(BenchForm::text, sample("box"), plain);
    CHECK(has(text, "[ ] tap one box"));
    CHECK(has(text, "read ____________"));
    CHECK(has(text, "[!] tap two"));
    CHECK(has(text, "NOT as expected"));
    CHECK(has(text, "[x] HOLD: tap two"));
    CHECK(has(text, "[?] HOLD: tap two"));
    CHECK(has(text, "Local code"));
    const std::string html = report::print_bench(BenchForm::html, sample("box"), plain);
    CHECK(has(html, "NOT as expected"));
    CHECK(has(html, "<span>!</span>"));
    CHECK(has(html, "Local code"));
}

TEST_CASE("what stops the work is told once for the lines that share it") {
    const std::string text = report::print_bench(BenchForm::text, sample("box"), {});
    const std::size_t first = text.find("STOP if not: do not plug in");
    CHECK(first != std::string::npos);
    CHECK(text.find("STOP if not: do not plug in", first + 1) == std::string::npos);
}

TEST_CASE("nobody is told which value would do before he measures") {
    for (const BenchForm form : {BenchForm::text, BenchForm::html, BenchForm::json})
        CHECK(!has(report::print_bench(form, sample("box"), {}), "at least 20 mm"));
}

TEST_CASE("JSON keeps every line with its state") {
    const auto json = nlohmann::json::parse(report::print_bench(BenchForm::json, sample("box"), {}));
    CHECK(json["form"] == "packproof-bench");
    REQUIRE(json["sheets"][0]["lines"].size() == 4);
    CHECK(json["sheets"][0]["lines"][0]["state"] == "open");
    CHECK(json["sheets"][0]["lines"][1]["state"] == "outside");
    CHECK(json["sheets"][0]["lines"][2]["hold"] == true);
    CHECK(json["measure"][0]["how"] == "caliper");
}

TEST_CASE("no form of the bench list lets markup or control characters through") {
    for (const std::string attack :
         {"<script>alert(1)</script>\"'&", "\x1b[2Jx", "a\u202Eb", "x\ny", "\xff\xfe", "</td></tr>"}) {
        for (const BenchForm form : {BenchForm::text, BenchForm::html, BenchForm::json}) {
            const std::string printed = report::print_bench(form, sample(attack), {});
            CHECK(text::check_utf8(printed).good);
            CHECK(!has(printed, "\x1b"));
            CHECK(!has(printed, "\u202E"));
            if (form == BenchForm::html) CHECK(!has(printed, "<script"));
            if (form == BenchForm::html) CHECK(!has(printed, "</td></tr></td>"));
        }
    }
}

TEST_CASE("a value in doubt is not printed as one to go by") {
    inspect::BenchList list = sample("box");
    list.sheets[0].lines[0].doubt = "papers differ on torque of a";
    for (const BenchForm form : {BenchForm::text, BenchForm::html})
        CHECK(has(report::print_bench(form, list, {}), "do not go by"));
    CHECK(nlohmann::json::parse(
              report::print_bench(BenchForm::json, list, {}))["sheets"][0]["lines"][0]["doubt"] ==
          "papers differ on torque of a");
}
