// The letter in its forms: complete, in order, and harmless whatever a description holds.
#include "engine/report/request.hpp"

#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

#include "engine/report/markdown_text.hpp"
#include "engine/text/safe_print.hpp"

using namespace packproof;
using inspect::Question;
using report::RequestForm;

namespace {

inspect::Request sample(const std::string& words) {
    inspect::Request request;
    request.file = words;
    request.title = words;
    request.rules = 3;
    request.rules_version = "0.1";
    request.rules_digest = "0123456789abcdef";
    request.input_digest = "fedcba9876543210";
    Question first;
    first.title = "voltage of " + words;
    first.text = "Please state it: " + words;
    first.why = words;
    first.waiting = {words, "b", "c", "d", "e", "f", "g"};
    first.conceded = {words};
    first.acceptable = "a value in V";
    first.limit = "at least 58.4 V";
    first.gravest = rules::Class::critical;
    Question second = first;
    second.form = Question::Form::contradiction;
    second.title = "second";
    second.sides = {words + " one", words + " two"};
    second.gravest = rules::Class::minor;
    Question own = first;
    own.title = "measured-here";
    own.answered_by = model::AnsweredBy::bench;
    Question design = first;
    design.title = "decided-here";
    design.answered_by = model::AnsweredBy::builder;
    request.questions = {second, own, first, design};
    return request;
}

std::size_t count(const std::string& text, std::string_view part) {
    std::size_t found = 0;
    for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + part.size()))
        ++found;
    return found;
}

}  // namespace

TEST_CASE("the letter asks the supplier, gravest classes first, and numbers run on") {
    const std::string letter = report::print_request(RequestForm::markdown, sample("box"), {});
    CHECK(letter.find("### 1. voltage of box") != std::string::npos);
    CHECK(letter.find("### 2. second") != std::string::npos);
    CHECK(letter.find("## Needed before the work begins") < letter.find("### 1."));
    CHECK(letter.find("## Welcome besides") < letter.find("### 2."));
    CHECK(letter.find("## Welcome besides") > letter.find("### 1."));
    CHECK(letter.find("measured-here") == std::string::npos);
    CHECK(letter.find("decided-here") == std::string::npos);
    CHECK(letter.find("2 questions could not") != std::string::npos);
    CHECK(letter.find("and 2 more checks") != std::string::npos);
    CHECK(letter.find("at least 58.4 V") != std::string::npos);
    CHECK(letter.find("Local code") != std::string::npos);
}

TEST_CASE("at a desk what a bench would measure is asked too, what is the builder's own never") {
    const std::string letter = report::print_request(RequestForm::markdown, sample("box"), {true});
    CHECK(letter.find("measured-here") != std::string::npos);
    CHECK(letter.find("decided-here") == std::string::npos);
    CHECK(letter.find("3 questions could not") != std::string::npos);
}

TEST_CASE("nothing to ask is said, not an empty letter") {
    inspect::Request request = sample("box");
    request.questions.clear();
    for (const RequestForm form : {RequestForm::markdown, RequestForm::html}) {
        const std::string letter = report::print_request(form, request, {});
        CHECK(letter.find("leaves nothing open") != std::string::npos);
        CHECK(letter.find("Thank you") == std::string::npos);
    }
}

TEST_CASE("JSON holds every question and who can answer it") {
    const auto json = nlohmann::json::parse(report::print_request(RequestForm::json, sample("box"), {}));
    CHECK(json["form"] == "packproof-request");
    REQUIRE(json["questions"].size() == 4);
    CHECK(json["questions"][0]["form"] == "contradiction");
    CHECK(json["questions"][0]["sides"].size() == 2);
    CHECK(json["questions"][1]["answered_by"] == "bench");
    CHECK(json["questions"][3]["answered_by"] == "builder");
    CHECK(json["questions"][2]["class"] == "critical");
    CHECK(json["questions"][2]["conceded"][0] == "box");
}

TEST_CASE("no form of the letter lets markup or control characters through") {
    for (const std::string attack :
         {"<script>alert(1)</script>\"'&", "\x1b[2Jx", "a\u202Eb", "[x](javascript:y)", "# head",
          "**bold** `code`", "x\n\n# forged\n", "<!-- -->", "![i](http://x)", "| a | b |", "\xff\xfe",
          "1. one", "- item"}) {
        for (const RequestForm form : {RequestForm::markdown, RequestForm::html, RequestForm::json}) {
            const std::string letter = report::print_request(form, sample(attack), {});
            CHECK(text::check_utf8(letter).good);
            CHECK(letter.find('\x1b') == std::string::npos);
            CHECK(letter.find("\u202E") == std::string::npos);
            if (form == RequestForm::html) {
                CHECK(letter.find("<script") == std::string::npos);
                CHECK(count(letter, "<h3>") == 2);
            }
            if (form == RequestForm::markdown) {
                CHECK(count(letter, "<script") == count(letter, "\\<script"));
                CHECK(letter.find("\n# forged") == std::string::npos);
                CHECK(count(letter, "](") == count(letter, "\\]("));
                CHECK(count(letter, "\n### ") == 2);
                CHECK(count(letter, "\n# ") == 0);
            }
        }
    }
}

TEST_CASE("characters that begin markup stand behind a backslash, plain words stay plain") {
    CHECK(report::markdown_text("rated_current of main-breaker: 125 A") ==
          "rated_current of main-breaker: 125 A");
    CHECK(report::markdown_text("_a_ *b* <c>") == "\\_a\\_ \\*b\\* \\<c\\>");
    CHECK(report::markdown_text("1. one") == "1\\. one");
    CHECK(report::markdown_text("- one") == "\\- one");
    CHECK(report::markdown_text("3.65 V, -5 °C, x = y") == "3.65 V, -5 °C, x \\= y");
    CHECK(report::markdown_text("a --- 12) b") == "a \\--- 12\\) b");
}
