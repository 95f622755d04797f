// A team's folder of rules outside the tree: works without rebuilding, and each way of breaking it is told at
// its line and column.
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <sstream>

#include "engine/inspect/prove.hpp"
#include "engine/rules/load_rules.hpp"
#include "tests/inspect/built_in.hpp"

using namespace packproof;
using inspect_test::built_in;
using inspect_test::source_path;

namespace {

namespace fs = std::filesystem;

std::string team_text(const std::string& name) {
    std::ifstream in(source_path("tests/inspect/team/" + name));
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

std::string house_text() {
    return team_text("house.toml");
}

/// A folder outside the tree, gone at the end.
class Folder {
  public:
    Folder() {
        std::string name = (fs::temp_directory_path() / "packproof-team-XXXXXX").string();
        REQUIRE(mkdtemp(name.data()) != nullptr);
        path_ = name;
    }
    ~Folder() { fs::remove_all(path_); }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    [[nodiscard]] std::string write(const std::string& name, const std::string& text) const {
        std::ofstream(fs::path(path_) / name) << text;
        return path_;
    }

  private:
    std::string path_;
};

struct Team {
    text::Sources sources;
    text::Messages messages;
    std::optional<rules::RuleSet> set;

    explicit Team(const std::string& folder) {
        const auto files = rules::read_rule_folder(folder, sources, messages);
        set = rules::load_rules(files, sources, messages, &built_in());
    }
    [[nodiscard]] std::string printed(const std::string& folder) const {
        std::string all;
        for (const text::Message& message : messages.sorted()) {
            std::string line = text::print_message(message, sources);
            for (std::size_t at = line.find(folder + "/"); at != std::string::npos;
                 at = line.find(folder + "/"))
                line.erase(at, folder.size() + 1);
            all += line + "\n";
        }
        return all;
    }
};

struct Break {
    const char* name;
    const char* from;
    const char* to;
    const char* expected;  ///< the first message's first line, from its start
};

}  // namespace

TEST_CASE("a team's field, table and rule work without rebuilding") {
    const Folder folder;
    const std::string path = folder.write("house.toml", house_text());
    Team team(path);
    REQUIRE_MESSAGE(team.set, team.printed(path));
    CHECK(inspect::prove(*team.set, team.sources, "house-section").failed == 0);
    CHECK(team.set->rule("bend-is-not-too-tight")->rule_class == rules::Class::minor);
    CHECK(team.set->digest != built_in().digest);

    const std::string pack = folder.write("pack.toml.txt",
                                          "[pack]\nseries = 16\n[device.b]\nrated_current = \"160 A\"\n"
                                          "[conductor.c]\nsection = \"35 mm²\"\ncolour = \"red\"\n"
                                          "protected_by = \"b\"\n") +
                             "/pack.toml.txt";
    text::Sources sources;
    text::Messages messages;
    const auto report = inspect::inspect(pack, *team.set, sources, messages);
    REQUIRE(report);
    bool seen = false;
    for (const inspect::Finding& finding : report->findings) {
        if (finding.rule_name != "house-section") continue;
        seen = true;
        CHECK(finding.verdict == inspect::Verdict::fails);
        CHECK(finding.needs_text == "at least 50 mm² (house_section of c)");
        CHECK(finding.clears.at(0).text == "section of c: at least 50 mm²");
    }
    CHECK(seen);
}

TEST_CASE("a country's own practice is a word, a row and a table") {
    const Folder folder;
    const std::string path = folder.write("south.toml", team_text("south.toml"));
    Team team(path);
    REQUIRE_MESSAGE(team.set, team.printed(path));
    const auto verdict_of = [&](const std::string& practice, const std::string& rated) {
        const std::string pack =
            folder.write("pack.toml.txt",
                         "[cell]\nchemistry = \"LFP\"\n[pack]\nseries = 16\nambient = \"30 °C\"\n" +
                             practice + "[device.b]\nrated_current = \"" + rated +
                             "\"\nkind = \"breaker\"\n"
                             "[conductor.c]\nsection = \"70 mm²\"\nprotected_by = \"b\"\n"
                             "insulation_temperature = \"90 °C\"\nbundled = 2\n") +
            "/pack.toml.txt";
        text::Sources sources;
        text::Messages messages;
        inspect::Options options;
        options.conforming = true;
        const auto report = inspect::inspect(pack, *team.set, sources, messages, options);
        REQUIRE(report);
        for (const inspect::Finding& finding : report->findings)
            if (finding.rule_name == "breaker-protects-conductor") return finding.verdict;
        return inspect::Verdict::not_applicable;
    };
    const std::string south = "practice = \"south\"\n";
    CHECK(verdict_of(south, "240 A") == inspect::Verdict::conforms);
    CHECK(verdict_of(south, "241 A") == inspect::Verdict::fails);
    CHECK(verdict_of("", "241 A") == inspect::Verdict::undecided);  // iec allows it, south does not
}

TEST_CASE("each way of breaking a team's rules is told at its line and column") {
    const Break breaks[] = {
        {"a field that is not there",
         "demands = \"section >=", "demands = \"sectoin >=", "house.toml:23:12: error: "},
        {"a current against an area", "section >= house_section\"", "section >= protected_by.rated_current\"",
         "house.toml:23:12: error: "},
        {"an unknown function", "lookup(house_section", "look(house_section", "house.toml:17:10: error: "},
        {"an unknown table", "lookup(house_section.section", "lookup(hause_section.section",
         "house.toml:17:17: error: "},
        {"no reason given", "because = \"One size for one breaker keeps spares and dies few.\"\n", "",
         "house.toml:19:7: error: rule house-section has no `because`"},
        {"no source given",
         "basis   = [{ status = \"common practice\", note = \"our own workshop\" }]\nclears", "clears",
         "house.toml:19:7: error: rule house-section has no `basis`"},
        {"rows out of order", "[100, 25], [125, 35]", "[125, 35], [100, 25]",
         "house.toml:12:32: error: a row of table house_section repeats or is out of order"},
        {"a row twice", "[100, 25], [125, 35]", "[100, 25], [100, 35]",
         "house.toml:12:32: error: a row of table house_section repeats or is out of order"},
        {"no example that fails", "verdict = \"fails\"", "verdict = \"undecided\"",
         "house.toml:19:7: error: rule house-section has no example that fails"},
        {"a name that is taken", "[rule.house-section]", "[rule.bend-is-not-too-tight]",
         "house.toml:19:7: error: "},
        {"a change without reason", "reason = \"we bend by hand and look at each one\"\n", "",
         "house.toml:39:9: error: the change of bend-is-not-too-tight has no `reason`"},
        {"a circle", "lookup(house_section.section, protected_by.rated_current)", "house_section + 1 mm²",
         "house.toml:14:21: error: derived quantities in a circle: conductor.house_section → "
         "conductor.house_section"},
        {"no TOML", "clears  = [\"section\"]", "clears  = [\"section\"", "house.toml:"},
        {"an unknown unit", "unit = \"d\"", "unit = \"fortnight\"",
         "house.toml:5:42: error: unknown unit \"fortnight\""},
    };
    for (const Break& one : breaks) {
        CAPTURE(one.name);
        std::string text = house_text();
        const std::size_t at = text.find(one.from);
        REQUIRE(at != std::string::npos);
        text.replace(at, std::string_view(one.from).size(), one.to);
        const Folder folder;
        const std::string path = folder.write("house.toml", text);
        Team team(path);
        CHECK_FALSE(team.set);
        const std::string printed = team.printed(path);
        const bool starts = printed.find(one.expected) != std::string::npos;
        CHECK_MESSAGE(starts, "wanted ", std::string(one.expected), " among\n", printed);
    }
}

TEST_CASE("a folder that is not there, or holds no rules, is an error") {
    text::Sources sources;
    text::Messages messages;
    CHECK(rules::read_rule_folder("/nowhere/at/all", sources, messages).empty());
    CHECK(messages.error_count() == 1);
    const Folder folder;
    text::Messages empty;
    CHECK(rules::read_rule_folder(folder.write("notes.txt", "x"), sources, empty).empty());
    CHECK(empty.error_count() == 1);
}
