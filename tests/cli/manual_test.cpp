#include <doctest/doctest.h>

#include <filesystem>
#include <map>
#include <regex>
#include <set>

#include "bench.hpp"
#include "engine/cli/command_tree.hpp"
#include "engine/cli/completion.hpp"
#include "engine/cli/man_page.hpp"
#include "engine/language/functions.hpp"
#include "engine/report/reference.hpp"
#include "engine/rules/built_in.hpp"

using namespace packproof;
using namespace packproof::bench;

namespace {

bool has(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

std::map<std::string, std::string> pages_in(const std::string& folder) {
    std::map<std::string, std::string> pages;
    for (const auto& entry : std::filesystem::directory_iterator(folder))
        pages[entry.path().filename().string()] = read(entry.path().string());
    return pages;
}

std::size_t count_of(const std::map<std::string, std::string>& pages, const std::string& group) {
    std::size_t count = 0;
    for (const auto& entry : pages)
        if (entry.first.starts_with(group + "-")) ++count;
    return count;
}

// Every link leads to a page that is there, and to a place on it.
void check_links(const std::map<std::string, std::string>& pages, const std::regex& link,
                 const std::string& place_begins) {
    std::size_t links = 0;
    for (const auto& entry : pages) {
        const std::string& text = entry.second;
        for (std::sregex_iterator one(text.begin(), text.end(), link), end; one != end; ++one) {
            const auto target = pages.find((*one)[1].str());
            const bool there = target != pages.end();
            const std::string place = (*one)[2].str();
            if (!there || (!place.empty() && !has(target->second, place_begins + place.substr(1) + "\""))) {
                CAPTURE(entry.first);
                CAPTURE(one->str());
                FAIL_CHECK("a link leads nowhere");
            }
            ++links;
        }
    }
    CHECK(links > pages.size());
}

void all_options(const cli::ShownCommand& command, std::set<std::string>& into) {
    for (const auto& option : command.options)
        into.insert(option.names.begin(), option.names.end());
    for (const auto& inner : command.commands)
        all_options(inner, into);
}

}  // namespace

TEST_CASE("everything in the rule set has a page, and no link leads nowhere") {
    const Folder folder;
    const rules::RuleSet set = rules::built_in_rules();
    REQUIRE(call_with_real_rules({"manual", "--pages", folder.path("html")}).code == 0);
    const auto html = pages_in(folder.path("html"));
    CHECK(count_of(html, "rule") == set.rules.size());
    CHECK(count_of(html, "kind") == set.vocabulary.kinds.size());
    CHECK(count_of(html, "quantity") == set.quantities.size());
    CHECK(count_of(html, "table") == set.tables.size());
    CHECK(count_of(html, "network") == set.networks.size());
    CHECK(count_of(html, "solver") == set.solvers.size());
    CHECK(count_of(html, "worksheet") == set.worksheets.size());
    CHECK(count_of(html, "caution") == set.cautions.size());
    for (const model::Kind& kind : set.vocabulary.kinds)
        for (const model::Field& field : kind.fields)
            if (!has(html.at("kind-" + kind.name + ".html"), "<h2 id=\"field-" + field.name + "\">"))
                FAIL_CHECK("no place for the field " << field.name << " of " << kind.name);
    std::set<std::string> names;
    for (const auto& form : language::functions()) {
        const std::string name(form.name);
        CAPTURE(name);
        names.insert(name);
        CHECK_FALSE(form.meaning.empty());
        REQUIRE(html.contains("function-" + name + ".html"));
    }
    CHECK(count_of(html, "function") == names.size());
    check_links(html, std::regex("href=\"([^\"#]*)(#[^\"]*)?\""), "id=\"");

    REQUIRE(call_with_real_rules({"manual", "--pages", folder.path("md"), "--form", "markdown"}).code == 0);
    const auto markdown = pages_in(folder.path("md"));
    CHECK(markdown.size() == html.size());
    check_links(markdown, std::regex("[^\\\\]\\]\\(([^)#]*)(#[^)]*)?\\)"), "<a id=\"");
    CHECK(has(markdown.at("rule-breaker-protects-conductor.md"), "kind-conductor.md#field-section"));
}

TEST_CASE("pages are written over pages alone: what somebody else put there stays, also behind a link") {
    const Folder folder;
    const std::string index = folder.write("mine/index.html", "<!DOCTYPE html>mine");
    CHECK(call({"manual", "--pages", folder.path("mine")}).code == 2);
    CHECK(read(index) == "<!DOCTYPE html>mine");
    CHECK(std::filesystem::is_regular_file(index));
    const std::string precious = folder.write("precious", "<meta content=\"packproof manual\">");
    std::filesystem::create_directory(folder.path("linked"));
    std::filesystem::create_symlink(precious, folder.path("linked/index.md"));
    CHECK(call({"manual", "--form", "markdown", "--pages", folder.path("linked")}).code == 2);
    CHECK(read(precious) == "<meta content=\"packproof manual\">");
    for (const char* form : {"html", "markdown"}) {
        CHECK(call({"manual", "--form", form, "--pages", folder.path("new")}).code == 0);
        CHECK(call({"manual", "--form", form, "--pages", folder.path("new")}).code == 0);
    }
}

TEST_CASE(
    "the pages have a team's rules, and names of strangers neither leave the folder nor become markup") {
    const Folder folder;
    folder.write("house/house.toml",
                 "[kind.\"../../<b>\u202E\"]\nabout = \"<script>alert(1)</script>\"\n"
                 "[kind.\"../../<b>\u202E\".field]\nx = { form = \"text\", about = \"<i>&\" }\n");
    const Outcome run = call({"manual", "--pages", folder.path("pages"), "--rules", folder.path("house")});
    const std::string file = report::reference_file("kind", "../../<b>\u202E");
    CHECK(file == "kind-..~2F..~2F~3Cb~3E~E2~80~AE");
    if (run.code == 0) {  // else the name was refused at once
        const std::string page = read(folder.path("pages/" + file + ".html"));
        CHECK_FALSE(has(page, "<script"));
        CHECK_FALSE(has(page, "<b>"));
        CHECK_FALSE(has(page, "\u202E"));
    } else {
        CHECK(run.code == 2);
        CHECK_FALSE(run.err.empty());
    }
    CHECK(report::reference_file("rule", std::string(1000, 'x')).size() < 200);
    CHECK(report::reference_file("rule", std::string(1000, 'x')) !=
          report::reference_file("rule", std::string(1001, 'x')));
}

TEST_CASE("man page and completion name every command and option") {
    const std::vector<cli::Blank> blanks{{"volume", "7", "how much it 'holds' \\ .x"}};
    const cli::ShownCommand program = cli::command_tree(blanks);
    std::set<std::string> options;
    all_options(program, options);
    CHECK(options.contains("--undecided"));
    CHECK(options.contains("--volume"));
    const std::string page = cli::man_page(program);
    CHECK(has(page, "\\(aqholds\\(aq \\e .x"));
    for (const std::string& option : options) {
        CAPTURE(option);
        const std::string escaped = std::regex_replace(option, std::regex("-"), "\\-");
        CHECK(has(page, (option.starts_with("-") ? "\\fB" : "\\fI") + escaped));
        if (!option.starts_with("--")) continue;
        CHECK(has(cli::completion(program, "bash"), option));
        CHECK(has(cli::completion(program, "zsh"), option));
        CHECK(has(cli::completion(program, "fish"), "-l " + option.substr(2)));
    }
    CHECK(cli::completion(program, "csh").empty());
}

TEST_CASE("manual writes one thing at a time and says what it cannot") {
    CHECK(call({"manual"}).code == 2);
    CHECK(call({"manual", "--man", "--pages", "x"}).code == 2);
    CHECK(has(call({"manual", "--completion", "bsh"}).err, "did you mean bash"));
    CHECK(has(call({"manual", "--man", "--form", "html"}).err, "--form is of the pages"));
    CHECK(call({"manual", "--man"}).out.starts_with(".TH PACKPROOF 1"));
    CHECK(call_with_full_disk({"manual", "--man"}).code == 2);
    const Folder folder;
    const std::string file = folder.write("file", "x");
    const Outcome run = call({"manual", "--pages", file});
    CHECK(run.code == 2);
    CHECK_FALSE(run.err.empty());
    CHECK(read(file) == "x");
    CHECK(call({"vocabulary", "--schema"}).out.starts_with("{\n \"$schema\""));
    CHECK(call({"vocabulary", "--schema", "pack"}).code == 2);
}
