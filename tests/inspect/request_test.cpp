// Questions to whoever can answer them: which, in what order, and what answer would do.
#include "engine/inspect/request.hpp"

#include <doctest/doctest.h>

#include <fstream>

#include "tests/inspect/reference.hpp"

using namespace packproof;
using inspect::Question;
using inspect_test::built_in;
using inspect_test::Described;
using inspect_test::source_path;

namespace {

std::string form_word(Question::Form form) {
    switch (form) {
        case Question::Form::value:
            return "value";
        case Question::Form::tolerance:
            return "tolerance";
        case Question::Form::contradiction:
            return "contradiction";
        case Question::Form::failing:
            return "failing";
        case Question::Form::item:
            return "item";
    }
    return {};
}

std::string answerer_word(model::AnsweredBy who) {
    return who == model::AnsweredBy::supplier ? "supplier"
           : who == model::AnsweredBy::bench  ? "bench"
                                              : "builder";
}

std::vector<std::string> expected(const std::string& file) {
    std::ifstream in(source_path(file));
    std::vector<std::string> lines;
    for (std::string line; std::getline(in, line);)
        if (!line.empty() && line.front() != '#') lines.push_back(line);
    return lines;
}

inspect::Request asked(const std::string& text) {
    const Described pack(text);
    return inspect::request_model(*pack.model, built_in(), pack.sources);
}

const Question* find(const inspect::Request& request, const std::string& title) {
    for (const Question& question : request.questions)
        if (question.title == title) return &question;
    return nullptr;
}

}  // namespace

TEST_CASE("the box on the bench gives exactly the questions written beside it, in their order") {
    text::Sources sources;
    text::Messages messages;
    const auto request = inspect::request(source_path("specs/box/pack.toml"), built_in(), sources, messages);
    REQUIRE(request);
    std::vector<std::string> lines;
    for (const Question& question : request->questions)
        lines.push_back(form_word(question.form) + " " + answerer_word(question.answered_by) + " " +
                        std::string(rules::class_name(question.gravest)) + " " + question.title);
    const std::vector<std::string> wanted = expected("specs/box/pack.questions");
    for (std::size_t i = 0; i < std::max(lines.size(), wanted.size()); ++i)
        CHECK((i < lines.size() ? lines[i] : "") == (i < wanted.size() ? wanted[i] : ""));
}

TEST_CASE("questions stand by the weight of what they decide") {
    const auto request = asked("[pack]\nseries = 16\n[cell]\n[bms]\n[device.d]\nkind = \"breaker\"\n");
    REQUIRE(request.questions.size() > 10);
    for (std::size_t i = 1; i < request.questions.size(); ++i)
        CHECK(request.questions[i - 1].weight >= request.questions[i].weight);
    for (const Question& question : request.questions) {
        CHECK(!question.text.empty());
        CHECK(!question.why.empty());
        CHECK(question.checks > 0);
    }
}

// Hand arithmetic: 16 cells in series of at most 3.65 V (LFP, charge end) are 58.4 V.
TEST_CASE("the limit of an answer is worked out from all else that is stated") {
    const std::string base =
        "[pack]\nseries = 16\n[cell]\nchemistry = \"LFP\"\n[bms]\nswitches = \"negative\"\n";
    const auto request = asked(base + "[settings]\ncell_overvoltage = \"?\"\n");
    const Question* overvoltage = find(request, "cell overvoltage of the settings");
    REQUIRE(overvoltage != nullptr);
    CHECK(overvoltage->limit == "at most 3.65 V");
    CHECK(overvoltage->asked);
    CHECK(overvoltage->acceptable == "a value in V, with its tolerance");
    const Question* count = find(request, "cell count of the settings");
    REQUIRE(count != nullptr);
    CHECK(count->limit == "16");
    const Question* chemistry = find(request, "chemistry of the bms");
    REQUIRE(chemistry != nullptr);
    CHECK(chemistry->limit == "LFP");
    const Question* cells = find(request, "cells of the bms");
    REQUIRE(cells != nullptr);
    CHECK(cells->limit.empty());  // a range has no order to search in
    CHECK(cells->acceptable == "the permitted range: its lowest and its highest value");
}

TEST_CASE("a limit named to the supplier is where the rule turns") {
    const std::string base =
        "[pack]\nseries = 16\n[cell]\nchemistry = \"LFP\"\n[bms]\n[device.d]\nkind = \"breaker\"\n";
    const auto request = asked(base);
    const Question* voltage = find(request, "switch voltage of the bms");
    REQUIRE(voltage != nullptr);
    CHECK(voltage->limit == "at least 58.4 V");
    const auto fails_with = [&](const std::string& value) {
        const Described pack("[pack]\nseries = 16\n[cell]\nchemistry = \"LFP\"\n[bms]\nswitch_voltage = \"" +
                             value + "\"\n[device.d]\nkind = \"breaker\"\n");
        const auto report = inspect::inspect_model(*pack.model, built_in(), pack.sources);
        for (const auto& finding : report.findings)
            if (finding.verdict == inspect::Verdict::fails && finding.subject == "switch_voltage of bms")
                return true;
        return false;
    };
    CHECK(!fails_with("58.4 V"));
    CHECK(fails_with("58.3 V"));
}

TEST_CASE("the same question of several items is one, and of different limits several") {
    const auto request = asked(
        "[pack]\nseries = 16\n[cell]\n[busbar.long-link]\nmaterial = "
        "\"copper\"\n[busbar.short-link]\nmaterial = "
        "\"copper\"\n");
    bool joined = false;
    for (const Question& question : request.questions) {
        joined = joined || question.title.find("long-link, short-link (busbar)") != std::string::npos;
        CHECK(question.title.find("short-link, long-link") == std::string::npos);
    }
    CHECK(joined);
}

TEST_CASE("papers that contradict each other are asked as such, with both places") {
    const auto request = asked(
        "[pack]\nseries = 16\n[cell]\n[document.a]\ntitle = \"first sheet\"\nissue = \"2\"\ngrade = "
        "\"supplier\"\n"
        "[document.b]\ngrade = \"supplier\"\n[device.d]\nkind = \"breaker\"\nrated_current = \"125 "
        "A\"\nsource = "
        "\"a\"\n[claim.c]\nitem = \"d\"\nfield = \"rated_current\"\nvalue = \"160 A\"\nsource = \"b\"\n");
    const Question* question = find(request, "rated current of d (device)");
    REQUIRE(question != nullptr);
    CHECK(question->form == Question::Form::contradiction);
    REQUIRE(question->sides.size() == 2);
    CHECK(question->sides[0] == "125 A: a, \"first sheet\", issue 2 (reference.toml:12)");
    CHECK(question->sides[1] == "160 A: b (reference.toml:17)");
    const auto agreeing = asked(
        "[pack]\nseries = 16\n[cell]\n[document.a]\ngrade = \"supplier\"\n[document.b]\ngrade = "
        "\"supplier\"\n"
        "[device.d]\nkind = \"breaker\"\nrated_current = \"125 A\"\nsource = \"a\"\n[claim.c]\nitem = "
        "\"d\"\nfield = "
        "\"rated_current\"\nvalue = \"125 A\"\nsource = \"b\"\n");
    const Question* none = find(agreeing, "rated current of d (device)");
    CHECK((none == nullptr || none->form != Question::Form::contradiction));
}

TEST_CASE("what is stated too loosely is asked for closer") {
    const auto request =
        asked("[pack]\nseries = 16\n[cell]\nchemistry = \"LFP\"\n[bms]\nswitch_voltage = \"55 .. 65 V\"\n");
    const Question* question = find(request, "switch voltage of the bms");
    REQUIRE(question != nullptr);
    CHECK(question->form == Question::Form::tolerance);
    CHECK(question->text.find("(60 ± 5) V") != std::string::npos);
}

TEST_CASE("nothing is stated of an item: one question with its parts, not one for each") {
    const auto request = asked("[pack]\nseries = 16\n[cell]\nchemistry = \"LFP\"\n[bms]\n");
    const Question* settings = find(request, "the settings");
    REQUIRE(settings != nullptr);
    CHECK(settings->form == Question::Form::item);
    CHECK(settings->parts.size() > 10);
    CHECK(find(request, "cell overvoltage of the settings") == nullptr);
}

TEST_CASE("a rule that fails asks in its own words, with its item and values") {
    const auto request = asked(
        "[pack]\nseries = 16\n[cell]\n[document.leaflet]\nkind = \"assembly "
        "instruction\"\n[statement.torque]\n"
        "in_document = \"leaflet\"\nas_printed = \"tighten to 45\"\n");
    bool found = false;
    for (const Question& question : request.questions)
        if (question.form == Question::Form::failing &&
            question.text ==
                "The paper prints a number without its unit (torque: tighten to 45). Which unit is meant?")
            found = true;
    CHECK(found);
    for (const Question& question : request.questions)
        CHECK(question.text.find('{') == std::string::npos);
}

TEST_CASE("a value of the supplier that a grave check does not meet is asked about, not judged") {
    const auto request =
        asked("[pack]\nseries = 16\n[cell]\nchemistry = \"LFP\"\n[bms]\nswitch_voltage = \"48 V\"\n");
    const Question* question = find(request, "switch voltage of the bms");
    REQUIRE(question != nullptr);
    CHECK(question->form == Question::Form::failing);
    CHECK(question->text.starts_with("We have 48 V"));
    CHECK(!question->waiting.empty());
    const auto sound =
        asked("[pack]\nseries = 16\n[cell]\nchemistry = \"LFP\"\n[bms]\nswitch_voltage = \"60 V\"\n");
    CHECK(find(sound, "switch voltage of the bms") == nullptr);
}

TEST_CASE("what a truth should be is put into nobody's mouth, and nobody is told how to write a file") {
    const auto request =
        asked("[pack]\nseries = 16\n[cell]\nchemistry = \"LFP\"\n[bms]\n[device.d]\nkind = \"breaker\"\n");
    for (const Question& question : request.questions) {
        if (question.acceptable == "yes or no") CHECK(question.limit.empty());
        CHECK(question.text.find("\"none\"") == std::string::npos);
        for (const std::string& part : question.parts)
            CHECK(part.find("\"none\"") == std::string::npos);
    }
}
