#include <doctest/doctest.h>

#include <filesystem>
#include <iostream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "bench.hpp"

using namespace packproof::bench;

namespace {

bool has(const std::string& text, std::string_view part) {
    return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("nothing fails: exit code 0 and a report") {
    const Folder folder;
    const Outcome run = call({"inspect", folder.write("a.toml", conforming)});
    CHECK(run.code == 0);
    CHECK(has(run.out, "Nothing fails among the 2 checks that could be made."));
    CHECK(run.err.empty());
}

TEST_CASE("a critical failure closes the gate, which stands at major if nothing is said") {
    const Folder folder;
    const std::string file = folder.write("a.toml", failing);
    CHECK(call({"inspect", file}).code == 1);
    CHECK(call({"inspect", file, "--class", "critical"}).code == 1);
}

TEST_CASE("a minor failure closes the gate only when the gate stands at minor or below") {
    const Folder folder;
    const std::string file = folder.write("a.toml", "[conductor.c]\nlength = \"6 m\"\n");
    CHECK(call({"inspect", file}).code == 0);
    CHECK(call({"inspect", file, "--class", "critical"}).code == 0);
    CHECK(call({"inspect", file, "--class=minor"}).code == 1);
    CHECK(call({"inspect", file, "--class", "observation"}).code == 1);
}

TEST_CASE("what is undecided closes the gate only when asked to") {
    const Folder folder;
    const std::string file = folder.write("a.toml", undecided);
    const Outcome run = call({"inspect", file});
    CHECK(run.code == 0);
    CHECK(has(run.out, "UNDECIDED  c (conductor) (critical if it fails)"));
    CHECK(call({"inspect", file, "--undecided"}).code == 1);
}

TEST_CASE("an input with errors gives all of them, no report and exit code 2") {
    const Folder folder;
    const Outcome run = call({"inspect", folder.write("a.toml", broken)});
    CHECK(run.code == 2);
    CHECK(run.out.empty());
    CHECK(has(run.err, "a.toml:2:1: error: "));
    CHECK(has(run.err, "a.toml:4:"));
}

TEST_CASE("one file with errors does not keep the others from being inspected, and the run says which") {
    const Folder folder;
    const std::string good = folder.write("a.toml", conforming);
    const std::string bad = folder.write("b.toml", broken);
    const Outcome run = call({"inspect", bad, good, "--form", "json"});
    CHECK(run.code == 2);
    const auto json = nlohmann::json::parse(run.out);
    CHECK(json["complete"] == false);
    CHECK(json["not_inspected"][0] == bad);
    CHECK(json["files"][0]["file"] == good);
    CHECK(has(call({"inspect", bad, good}).out, "not inspected: its input has errors"));
}

TEST_CASE("a file that is not there is an error with its name") {
    const Outcome run = call({"inspect", "no-such-file.toml"});
    CHECK(run.code == 2);
    CHECK(run.out.empty());
    CHECK(has(run.err, "no-such-file.toml is not there"));
}

TEST_CASE("a dash is standard input") {
    std::istringstream input(failing);
    std::streambuf* before = std::cin.rdbuf(input.rdbuf());
    const Outcome run = call({"inspect", "-", "--form", "lines"});
    std::cin.rdbuf(before);
    CHECK(run.code == 1);
    CHECK(has(run.out, "[device-protects-conductor]"));
}

TEST_CASE("of a folder the descriptions are inspected, in the order of their names") {
    const Folder folder;
    folder.write("pack/b.toml", conforming);
    folder.write("pack/a.toml", failing);
    folder.write("pack/variant.toml", "extends = \"b.toml\"\n");
    folder.write("pack/parts/cable.toml", broken);
    folder.write("pack/.hidden/c.toml", broken);
    folder.write("pack/other.toml", "[something]\nelse = 1\n");
    folder.write("pack/notes.txt", "[pack]\n");
    const Outcome run = call({"inspect", folder.path("pack"), "--form", "json"});
    CHECK(has(run.err, "packproof: note: not inspected"));
    CHECK(has(run.err, "/other.toml"));
    CHECK_FALSE(has(run.err, "cable.toml"));
    CHECK(run.code == 1);
    const auto json = nlohmann::json::parse(run.out);
    REQUIRE(json["files"].size() == 3);
    CHECK(has(json["files"][0]["file"].get<std::string>(), "/a.toml"));
    CHECK(has(json["files"][1]["file"].get<std::string>(), "/b.toml"));
    CHECK(has(json["files"][2]["file"].get<std::string>(), "/variant.toml"));
}

TEST_CASE(
    "of a folder nothing is left out in silence but what others name, and a slip in a head is a mistake") {
    const Folder folder;
    folder.write("a.toml", "parts = [\"cable.toml\"]\n" + conforming);
    folder.write("cable.toml", "[conductor.spare]\nlength = \"1 m\"\n");
    CHECK(call({"inspect", folder.path()}).err.empty());
    folder.write("alone.toml", "[conductor.alone]\nlength = \"6 m\"\n");
    CHECK(has(call({"inspect", folder.path()}).err, "alone.toml"));
    CHECK(call({"inspect", folder.path("a.toml"), folder.path("alone.toml")}).err.empty());
    folder.write("slip.toml", "[Pack]\nname = \"x\"\n");
    const Outcome slip = call({"inspect", folder.path()});
    CHECK(slip.code == 2);
    CHECK(has(slip.err, "slip.toml:1:"));
}

TEST_CASE("readings in a folder are no description of their own, but read with the one beside them") {
    const Folder folder;
    folder.write("pack/a.toml", conforming);
    folder.write("pack/a.readings.toml", "[conductor.later]\nlength = \"6 m\"\n");
    const Outcome run = call({"inspect", folder.path("pack"), "--form", "lines"});
    CHECK(run.code != 2);
    CHECK(run.err.empty());
    CHECK(has(run.out, "a.readings.toml:2:"));
    const Outcome named = call({"inspect", folder.path("pack/a.readings.toml")});
    CHECK(named.code == 2);
    CHECK(has(named.err, "name the description beside it"));
}

TEST_CASE("a description in a folder that cannot be read is told, not passed over") {
    const Folder folder;
    folder.write("a.toml", "[pack\n");
    const Outcome run = call({"inspect", folder.path()});
    CHECK(run.code == 2);
    CHECK(has(run.err, "a.toml:1:"));
}

TEST_CASE("a folder without descriptions is an error") {
    const Folder folder;
    const Outcome run = call({"inspect", folder.path()});
    CHECK(run.code == 2);
    CHECK(has(run.err, "no description below the folder"));
}

TEST_CASE("a file named twice is inspected once") {
    const Folder folder;
    const std::string file = folder.write("a.toml", conforming);
    const auto json = nlohmann::json::parse(call({"inspect", file, file, "--form", "json"}).out);
    CHECK(json["files"].size() == 1);
}

TEST_CASE("only one item's findings, if that is asked for; an unknown item is an error") {
    const Folder folder;
    const std::string file = folder.write("a.toml", failing + "[conductor.other]\nlength = \"6 m\"\n");
    const Outcome run = call({"inspect", file, "--item", "other", "--form", "lines"});
    CHECK(run.code == 0);
    CHECK(has(run.out, "conductor-is-short"));
    CHECK_FALSE(has(run.out, "device-protects-conductor"));
    CHECK(call({"inspect", file, "--item", "nobody"}).code == 2);
}

TEST_CASE("a team's own rules come on top, and an option that stands twice takes one folder each time") {
    const Folder folder;
    const std::string file = folder.write("a.toml", failing);
    const std::string change =
        "[change.device-protects-conductor]\nactive = false\nreason = \"tried out\"\nby = \"A. Example\"\n";
    folder.write("one/change.toml", change);
    folder.write("two/change.toml",
                 "[change.conductor-is-short]\nclass = \"major\"\nreason = \"long runs here\"\n");
    CHECK(call({"inspect", "--rules", folder.path("one"), file}).code == 0);
    CHECK(call({"inspect", "--rules", folder.path("one"), "--rules", folder.path("two"), file}).code == 0);
    const Outcome run = call({"inspect", "--rules", folder.path("none"), file});
    CHECK(run.code == 2);
    CHECK(run.out.empty());
}

TEST_CASE("colour comes only on a terminal, never with NO_COLOR or a dumb one, unless it is asked for") {
    const Folder folder;
    const std::string file = folder.write("a.toml", failing);
    const auto coloured = [&](const Terminal& terminal) {
        return has(call({"inspect", file}, terminal).out, "\x1b[");
    };
    CHECK_FALSE(coloured({false, true, "", "xterm"}));
    CHECK(coloured({true, false, "", "xterm"}));
    CHECK_FALSE(coloured({true, false, "1", "xterm"}));
    CHECK_FALSE(coloured({true, false, "", "dumb"}));
    const Terminal dumb{false, false, "1", "dumb"};
    CHECK(has(call({"inspect", file, "--colour", "always"}, dumb).out, "\x1b["));
    CHECK_FALSE(has(call({"inspect", file, "--colour", "never"}, {true, true, "", "xterm"}).out, "\x1b["));
}

TEST_CASE("a long run shows how far it is on a terminal only, and wipes it away") {
    const Folder folder;
    for (int i = 10; i < 30; ++i)
        folder.write(std::to_string(i) + ".toml", conforming);
    const Outcome on_terminal = call({"inspect", folder.path()}, {false, true, "", "xterm"});
    CHECK(has(on_terminal.err, "20 of 20 inspected"));
    CHECK(on_terminal.err.ends_with("\r\x1b[K"));
    CHECK(call({"inspect", folder.path()}).err.empty());
    CHECK(call({"inspect", folder.path()}, {true, true, "", "dumb"}).err.empty());
}

TEST_CASE("a result that cannot be written is trouble, whatever the verdict") {
    const Folder folder;
    const Outcome run = call_with_full_disk({"inspect", folder.write("a.toml", conforming)});
    CHECK(run.code == 2);
    CHECK(has(run.err, "could not be written whole"));
}

TEST_CASE("the width is kept") {
    const Folder folder;
    const std::string file = folder.write("a.toml", failing);
    const std::string text = call({"inspect", file, "--width", "60", "--class", "critical"}).out;
    CHECK(has(text, "Its terminals stay live."));
    CHECK(text != call({"inspect", file}).out);
}

TEST_CASE("the log is quiet unless asked for, and never on standard output") {
    const Folder folder;
    const std::string file = folder.write("a.toml", conforming);
    const Outcome quiet = call({"inspect", file});
    const Outcome loud = call({"inspect", file, "--log", "debug"});
    CHECK(quiet.err.empty());
    CHECK(has(loud.err, "packproof: debug: inspected "));
    CHECK(loud.out == quiet.out);
}

TEST_CASE("the same call gives the same bytes") {
    const Folder folder;
    const std::string file = folder.write("a.toml", failing);
    for (const std::string form : {"text", "lines", "json", "sarif"})
        CHECK(call({"inspect", file, "--form", form, "--all"}).out ==
              call({"inspect", file, "--form", form, "--all"}).out);
}

TEST_CASE("a further report is written over nothing that the run reads, and no old one stays in its place") {
    const Folder folder;
    const std::string file = folder.write("a.toml", "parts = [\"part.txt\"]\n" + failing);
    const std::string part = folder.write("part.txt", "[device.spare]\nrated_current = \"1 A\"\n");
    const std::string link = folder.path("link.json");
    std::filesystem::create_symlink("a.toml", link);
    const std::string report = folder.write("earlier.json", call({"inspect", "--form", "json", file}).out);
    const std::string text = read(file);
    for (const std::string& target : {file, link, part, report, std::string("-")}) {
        CAPTURE(target);
        CHECK(call({"inspect", file, "--since", report, "--also", "json=" + target}).code == 2);
        CHECK(read(file) == text);
        CHECK(has(read(part), "spare"));
    }
    CHECK(call({"inspect", file, "--also", "json=" + folder.path("x"), "--also", "sarif=" + folder.path("x")})
              .code == 2);

    const std::string stale = folder.write("stale.json", "old");
    const std::string log = folder.write("stale.sarif", "old");
    CHECK(call({"inspect", folder.write("b.toml", broken), "--also", "json=" + stale}).code == 2);
    CHECK_FALSE(std::filesystem::exists(stale));
    folder.write("stale.json", "old");
    CHECK(call({"inspect", file, "--since", folder.path("none"), "--also", "json=" + stale, "--also",
                "sarif=" + log})
              .code == 2);
    CHECK_FALSE(std::filesystem::exists(stale));
    CHECK(nlohmann::json::parse(read(log))["runs"][0]["invocations"][0]["executionSuccessful"] == false);
}
