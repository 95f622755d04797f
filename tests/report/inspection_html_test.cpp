// The inspection as a page: complete, in order, and the same data as JSON.
#include "engine/report/inspection_html.hpp"

#include <doctest/doctest.h>

#include <nlohmann/json.hpp>
#include <set>

#include "engine/report/json.hpp"
#include "samples.hpp"

using packproof::report::Options;
using packproof::report::print_inspection_html;
using packproof::samples::Sample;

namespace {

std::string printed(const Sample& sample, bool all = false) {
    Options options;
    options.all = all;
    return print_inspection_html(std::span(&sample.report, 1), sample.sources, options);
}

bool has(const std::string& text, std::string_view part) {
    return text.find(part) != std::string::npos;
}

// Every text of a report is a word of its own, "word7word".
struct Marked {
    Sample sample = packproof::samples::hostile("x");
    int last = 0;

    void mark(std::string& text) { text = "word" + std::to_string(++last) + "word"; }

    void mark(packproof::inspect::Wanted& wanted) {
        mark(wanted.text);
        mark(wanted.ask);
        mark(wanted.note);
    }

    void mark(packproof::inspect::Finding& finding) {
        for (std::string* text : {&finding.rule_name,
                                  &finding.asks,
                                  &finding.because,
                                  &finding.item_name,
                                  &finding.kind_name,
                                  &finding.subject,
                                  &finding.origin,
                                  &finding.has.text,
                                  &finding.needs_text,
                                  &finding.by,
                                  &finding.decides,
                                  &finding.caution,
                                  &finding.advice,
                                  &finding.rests_on[0],
                                  &finding.shows[0],
                                  &finding.clears[0].text,
                                  &finding.basis[0].document,
                                  &finding.basis[0].clause,
                                  &finding.basis[0].note,
                                  &finding.working[0].name,
                                  &finding.working[0].formula,
                                  &finding.working[0].numbers,
                                  &finding.working[0].result})
            mark(*text);
        mark(finding.wanted[0]);
    }

    Marked() {
        auto& report = sample.report;
        for (auto& finding : report.findings)
            mark(finding);
        mark(report.next[0].value);
        mark(report.next[0].rule_names[0]);
        for (std::string* text :
             {&report.file, &report.title, &report.assumptions[0].text, &report.assumptions[0].basis,
              &report.chosen[0], &report.tried[0], &report.rules_version})
            mark(*text);
    }
};

std::set<std::string> words_of(const std::string& text) {
    std::set<std::string> words;
    for (std::size_t at = text.find("word"); at != std::string::npos; at = text.find("word", at + 4)) {
        const std::size_t end = text.find("word", at + 4);
        if (end == std::string::npos) break;
        const std::string number = text.substr(at + 4, end - at - 4);
        if (!number.empty() && number.find_first_not_of("0123456789") == std::string::npos)
            words.insert(number);
    }
    return words;
}

}  // namespace

TEST_CASE("the page holds every text that JSON holds, and JSON every text of the page") {
    const Marked marked;
    Options options;
    options.all = true;
    const std::span reports(&marked.sample.report, 1);
    const auto page = words_of(print_inspection_html(reports, marked.sample.sources, options));
    const auto data = words_of(packproof::report::print_json(reports, marked.sample.sources, options));
    CHECK(data.size() == static_cast<std::size_t>(marked.last));
    for (const std::string& word : page)
        CHECK_MESSAGE(data.count(word) == 1, word);
    // Left out: the caution and the reason of a check that neither fails nor is undecided.
    std::set<std::string> missing;
    for (const std::string& word : data)
        if (page.count(word) == 0) missing.insert("word" + word + "word");
    const auto& waiting = marked.sample.report.findings[3];
    const auto& conforming = marked.sample.report.findings[4];
    CHECK(missing == std::set<std::string>{waiting.caution, conforming.caution, conforming.because});
}

TEST_CASE(
    "verdict first, then what can hurt, what stops, what is open, who can settle it, coverage, findings") {
    const std::string page = printed(packproof::samples::cabin_store());
    std::size_t last = 0;
    for (const char* part :
         {"<h2 ", "class=\"verdict\"", "What can hurt", "What stops the build", "What is open",
          "Who can settle it", "Coverage", "id=\"filter\"", "id=\"critical-1\"", "id=\"minor-1\"",
          "id=\"undecided-1\"", "id=\"not-stated-1\"", "Assumed where", "id=\"coverage-1\"", "<h3>Cautions",
          "<footer>"}) {
        const std::size_t at = page.find(part);
        REQUIRE_MESSAGE(at != std::string::npos, part);
        CHECK_MESSAGE(at > last, part);
        last = at;
    }
    CHECK(has(page, "1 nonconformity: 1 critical, with 1 consequence; 1 check undecided; 4 checks wait"));
    CHECK(has(page, std::string(packproof::inspect::general_caution().substr(0, 10))));
}

TEST_CASE("a class without failing checks says how many of its checks are open") {
    const std::string page = printed(packproof::samples::cabin_store());
    CHECK(has(page, "No such check fails; 1 is undecided."));
}

TEST_CASE("what conforms is on the page only if all is asked for") {
    CHECK_FALSE(has(printed(packproof::samples::cabin_store()), "data-verdict=\"conforms\""));
    CHECK(has(printed(packproof::samples::cabin_store(), true), "data-verdict=\"conforms\""));
}

TEST_CASE("a consequence stands with a link to its cause, and the cause with one to it") {
    const std::string page = printed(packproof::samples::cabin_store());
    CHECK(has(page, "<dt>leads to</dt><dd><a href=\"#finding-1-2\">"));
    CHECK(has(page, "<dt>follows from</dt><dd><a href=\"#finding-1-1\">"));
}

TEST_CASE("who can settle a value is told, and counted once for all checks that wait for it") {
    Sample sample = packproof::samples::cabin_store();
    auto& wanted = sample.report.findings[3].wanted[0];
    wanted.answered_by = packproof::model::AnsweredBy::bench;
    sample.report.findings.push_back(sample.report.findings[3]);
    const std::string page = printed(sample);
    CHECK(has(page, "caliper, one minute</bdi> (bench)"));
    CHECK(has(page, "1 value at the bench"));
    const auto json = nlohmann::json::parse(
        packproof::report::print_json(std::span(&sample.report, 1), sample.sources, {}));
    CHECK(json["findings"][3]["wanted"][0]["answered_by"] == "bench");
    CHECK(json["findings"][0]["at_once"] == false);
}

TEST_CASE("a page of a run with files that could not be inspected says so first") {
    Options options;
    options.not_inspected = {"broken.toml"};
    const Sample sample = packproof::samples::cabin_store();
    const std::string page = print_inspection_html(std::span(&sample.report, 1), sample.sources, options);
    const std::size_t at = page.find("This report is not complete: 1 file was not inspected");
    REQUIRE(at != std::string::npos);
    CHECK(at < page.find("<h2 "));
}

TEST_CASE("steps inside a solved network are counted, and shown if all is asked for") {
    Sample sample = packproof::samples::cabin_store();
    sample.report.findings[0].working[0].detail = true;
    CHECK(has(printed(sample), "1 step inside the solved network, with --all"));
    CHECK(has(printed(sample, true), "192 A × 0.906"));
}
