// Runs beside an earlier report, concessions, overlays, many files at once: what a pipeline lives on. The
// small rule set's limits: a device of 200 A on a conductor for 174 A fails, critical; 6 m of cable fails,
// minor.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "bench.hpp"

using namespace packproof::bench;
using Json = nlohmann::json;

namespace {

bool has(const std::string& text, std::string_view part) {
    return text.find(part) != std::string::npos;
}

const std::string second_fault = failing + "[conductor.long]\ncapacity = \"174 A\"\nlength = \"6 m\"\n";

Json since_of(const Outcome& run) {
    return Json::parse(run.out)["files"][0]["since"];
}

// Of the example pack with two concessions, on a day.
Json conceded_on(const std::string& day, int& code) {
    const Outcome run = call_with_real_rules(
        {"inspect", "--form", "json", "--date", day, "--library", PACKPROOF_SOURCE_DIR "/specs",
         PACKPROOF_SOURCE_DIR "/specs/cabin/conceded-thin-cable-for-a-season.toml"});
    code = run.code;
    return Json::parse(run.out);
}

Json finding_on(const Json& report, const std::string& rule, const std::string& item) {
    for (const Json& finding : report["findings"])
        if (finding["rule"] == rule && finding["item"] == item) return finding;
    return nullptr;
}

}  // namespace

TEST_CASE(
    "against an earlier report what is new is told apart from what was known, and may close the gate alone") {
    const Folder folder;
    const std::string file = folder.write("a.toml", failing);
    const std::string report = folder.write("earlier.json", call({"inspect", "--form", "json", file}).out);

    const Outcome same = call({"inspect", file, "--since", report});
    CHECK(same.code == 1);
    CHECK(has(same.out, ": 0 new, 0 changed, 1 unchanged, 0 gone."));
    CHECK(has(same.out, "UNCHANGED\n    device-protects-conductor on c, critical"));
    CHECK_FALSE(has(same.out, "working"));
    CHECK(call({"inspect", file, "--since", report, "--new-only"}).code == 0);

    folder.write("a.toml", second_fault);
    const Outcome more = call({"inspect", file, "--since", report, "--new-only", "--class", "minor"});
    CHECK(more.code == 1);
    CHECK(has(more.out, ": 1 new, 0 changed, 1 unchanged, 0 gone."));
    CHECK(call({"inspect", file, "--since", report, "--new-only"}).code == 0);  // the new one is minor

    folder.write("a.toml", conforming);
    const Outcome none = call({"inspect", file, "--since", report});
    CHECK(none.code == 0);
    CHECK(has(none.out, "0 unchanged, 1 gone."));
    CHECK(has(none.out, "gone: device-protects-conductor on c, critical fails"));
}

TEST_CASE("moved lines and renamed files are no news") {
    const Folder folder;
    const std::string file = folder.write("a.toml", second_fault);
    const std::string report = folder.write("earlier.json", call({"inspect", "--form", "json", file}).out);
    std::filesystem::remove(file);
    const std::string moved = folder.write("b.toml", "# one\n# two\n\n" + second_fault);
    const Json since = since_of(call({"inspect", "--form", "json", moved, "--since", report}));
    CHECK(since["new"] == 0);
    CHECK(since["unchanged"] == 2);
    CHECK(since["gone"].empty());
    CHECK(since["description"] == file);
}

TEST_CASE("undecided that fails now is changed for the worse, and the other way is not") {
    const Folder folder;
    const std::string file = folder.write("a.toml", undecided);
    const std::string report = folder.write("earlier.json", call({"inspect", "--form", "json", file}).out);
    folder.write("a.toml", failing);
    const Outcome worse = call({"inspect", "--form", "json", file, "--since", report, "--new-only"});
    CHECK(worse.code == 1);
    CHECK(since_of(worse)["changed"] == 1);
    CHECK(Json::parse(worse.out)["findings"][0]["worse"] == true);

    const std::string later = folder.write("later.json", call({"inspect", "--form", "json", file}).out);
    folder.write("a.toml", undecided);
    const Outcome better =
        call({"inspect", "--form", "json", file, "--since", later, "--new-only", "--undecided"});
    CHECK(better.code == 0);
    CHECK(since_of(better)["changed"] == 1);
}

TEST_CASE("the same check further beyond its limit is changed for the worse, nearer to it is not") {
    const Folder folder;
    const std::string file = folder.write("a.toml", failing);  // 200 A
    const std::string report = folder.write("earlier.json", call({"inspect", "--form", "json", file}).out);
    const auto since_with = [&](const std::string& current) {
        std::string text = failing;
        text.replace(text.find("200 A"), 5, current);
        folder.write("a.toml", text);
        return call({"inspect", file, "--form", "json", "--since", report, "--new-only"});
    };
    CHECK(since_with("200 A").code == 0);
    CHECK(since_with("190 A").code == 0);
    const Outcome worse = since_with("201 A");
    CHECK(worse.code == 1);
    CHECK(since_of(worse)["changed"] == 1);
    CHECK(has(worse.out, "with 200 A"));

    // A milder class hides no worse value.
    folder.write("house/change.toml",
                 "[change.device-protects-conductor]\nclass = \"major\"\nreason = \"tried\"\nby = \"A. "
                 "Example\"\n");
    const Outcome milder =
        call({"inspect", file, "--rules", folder.path("house"), "--since", report, "--new-only"});
    CHECK(milder.code == 1);
    folder.write("a.toml", failing);
    CHECK(call({"inspect", file, "--rules", folder.path("house"), "--since", report, "--new-only"}).code ==
          0);
}

TEST_CASE("a copy beside its original is compared with nothing, whether the original is inspected or not") {
    const Folder folder;
    const std::string file = folder.write("packs/a.toml", failing);
    const std::string report =
        folder.write("earlier.json", call({"inspect", "--form", "json", folder.path("packs")}).out);
    const std::string copy = folder.write("packs/new.toml", failing + "# a copy\n");
    const std::string same = folder.write("packs/same.toml", failing);
    const std::string list = folder.write("list", copy + "\n");
    CHECK(call({"inspect", folder.path("packs"), "--since", report, "--new-only"}).code == 1);
    CHECK(call({"inspect", copy, "--since", report, "--new-only"}).code == 1);
    CHECK(call({"inspect", same, "--since", report, "--new-only"}).code == 1);
    CHECK(
        call({"inspect", folder.path("packs"), "--since", report, "--new-only", "--touched-by", list}).code ==
        1);
    std::filesystem::remove(file);  // now it was renamed
    CHECK(call({"inspect", copy, "--since", report, "--new-only"}).code == 0);
}

TEST_CASE("a rule that did not count and counts now is news") {
    const Folder folder;
    const std::string file = folder.write("a.toml", "[conductor.c]\nlength = \"6 m\"\n");
    folder.write(
        "house/rule.toml",
        "[rule.is-shorter]\nasks = \"Short?\"\nof = \"conductor\"\ndemands = \"length <= 4 m\"\n"
        "class = \"major\"\nbecause = \"invented\"\nsince = \"99.0\"\n"
        "basis = [{ status = \"common practice\", note = \"invented\" }]\n"
        "[[rule.is-shorter.example]]\nverdict = \"conforms\"\nwith.conductor.c = { length = \"4 m\" }\n"
        "[[rule.is-shorter.example]]\nverdict = \"fails\"\nwith.conductor.c = { length = \"4.1 m\" }\n");
    const std::vector<std::string> base{"inspect", file, "--rules", folder.path("house")};
    const auto with = [&](std::vector<std::string> more) {
        more.insert(more.begin(), base.begin(), base.end());
        return call(more);
    };
    const Outcome before = with({"--form", "json"});
    REQUIRE(before.code == 0);
    const std::string report = folder.write("earlier.json", before.out);
    CHECK(with({"--since", report, "--new-only"}).code == 0);
    const Outcome counts = with({"--since", report, "--new-only", "--new-rules"});
    CHECK(counts.code == 1);
    CHECK(has(counts.out, "did not count yet"));

    folder.write("house/rule.toml", "[change.conductor-is-short]\ncounts = true\nreason = \"x\"\n" +
                                        read(folder.path("house/rule.toml")));
    std::string empty = read(folder.path("house/rule.toml"));
    empty.replace(empty.find("99.0"), 4, "");
    folder.write("house/rule.toml", empty);
    const Outcome nothing = with({});
    CHECK(nothing.code == 2);
    CHECK(has(nothing.err, "\"\" is no release"));
}

TEST_CASE("where one item is asked for, findings on others are not gone") {
    const Folder folder;
    const std::string file = folder.write("a.toml", second_fault);
    const std::string report = folder.write("earlier.json", call({"inspect", "--form", "json", file}).out);
    const Json since =
        since_of(call({"inspect", "--form", "json", file, "--item", "long", "--since", report}));
    CHECK(since["unchanged"] == 1);
    CHECK(since["gone"].empty());
}

TEST_CASE("SARIF tells the state of every result against the earlier report, those that are gone too") {
    const Folder folder;
    const std::string file = folder.write("a.toml", second_fault);
    const std::string report = folder.write("earlier.json", call({"inspect", "--form", "json", file}).out);
    folder.write("a.toml", failing);
    const Json log = Json::parse(call({"inspect", "--form", "sarif", file, "--since", report}).out);
    std::size_t absent = 0;
    for (const Json& result : log["runs"][0]["results"]) {
        REQUIRE(result.contains("baselineState"));  // SARIF 2.1.0, 3.27.24: on all or on none
        const auto index = result["ruleIndex"].get<std::size_t>();
        CHECK(log["runs"][0]["tool"]["driver"]["rules"][index]["id"] == result["ruleId"]);
        if (result["baselineState"] == "absent") {
            ++absent;
            CHECK(result["ruleId"] == "conductor-is-short");
        }
    }
    CHECK(absent == 1);
}

TEST_CASE("a report that cannot be compared with is refused with the reason") {
    const Folder folder;
    const std::string file = folder.write("a.toml", failing);
    const std::string good = call({"inspect", "--form", "json", file}).out;
    Json later = Json::parse(good);
    later["version"] = 99;
    Json odd = Json::parse(good);
    odd["findings"][0]["class"] = "frightful";
    Json stranger = Json::parse(good);
    stranger["findings"][0]["description"] = "elsewhere.toml";
    for (const std::string& text :
         {std::string(), std::string("{"), std::string("[]"), std::string("{\"form\":\"other\"}"),
          later.dump(), odd.dump(), stranger.dump(), good.substr(0, good.size() / 2)}) {
        const std::string report = folder.write("earlier.json", text);
        const Outcome run = call({"inspect", file, "--since", report});
        CAPTURE(text.substr(0, 60));
        CHECK(run.code == 2);
        CHECK(run.out.empty());
        CHECK(has(run.err, "cannot be compared with"));
    }
    CHECK(call({"inspect", file, "--since", folder.path("none.json")}).code == 2);
    CHECK(call({"inspect", file, "--new-only"}).code == 2);
}

TEST_CASE("each combination of overlays is a variant of the description, and the table crosses two of them") {
    const Folder folder;
    const std::string file = folder.write("base.toml", failing);
    folder.write("device/small.toml", "device.d.rated_current = \"100 A\"\n");
    folder.write("device/large.toml", "device.d.rated_current = \"250 A\"\n");
    folder.write("cable/short.toml", "conductor.c.length = \"1 m\"\n");
    folder.write("cable/long.toml", "conductor.c.length = \"6 m\"\n");
    const Outcome run = call({"inspect", file, "--form", "table", "--overlay", folder.path("device"),
                              "--overlay", folder.path("cable")});
    CHECK(run.code == 1);
    CHECK(has(run.out, "4 variants inspected"));
    CHECK(has(run.out, "GRAVEST CLASS THAT FAILS"));
    CHECK(has(run.out, "device-protects-conductor"));
    CHECK(has(run.out, "critical, in 2 of 4"));
    CHECK(has(run.out, "minor, in 2 of 4"));
    CHECK(has(run.out, "in large, long; large, short"));
    const Json report = Json::parse(call({"inspect", file, "--form", "json", "--overlay",
                                          folder.path("device"), "--overlay", folder.path("cable")})
                                        .out);
    REQUIRE(report["files"].size() == 4);
    CHECK(report["files"][0]["overlays"] ==
          Json::array({folder.path("device/large.toml"), folder.path("cable/long.toml")}));
    CHECK(report["files"][0]["coverage"]["failing"] == 2);
    CHECK(report["files"][3]["coverage"]["failing"] == 0);

    // Of files of one name the folder tells which is meant; a mistake in one is told once.
    folder.write("twice/a/x.toml", "device.d.rated_current = \"250 A\"\n");
    folder.write("twice/b/x.toml", "device.d.rated_current = \"100 A\"\n");
    CHECK(has(call({"inspect", file, "--form", "table", "--overlay", folder.path("twice")}).out, "in a/x\n"));
    const Outcome bad =
        call({"inspect", file, "--overlay", folder.write("bad.toml", "device.d.rated_current =\n"),
              "--overlay", folder.path("cable")});
    CHECK(bad.code == 2);
    CHECK(bad.err.find(": error: ") == bad.err.rfind(": error: "));

    const std::string wrong = folder.write("wrong.toml", "extends = \"base.toml\"\n");
    const Outcome refused = call({"inspect", file, "--overlay", wrong});
    CHECK(refused.code == 2);
    CHECK(has(refused.err, "wrong.toml:1:1: error: an overlay has no extends"));
    CHECK(call({"inspect", file, "--overlay", folder.path("empty.toml")}).code == 2);
}

TEST_CASE("the number of threads changes no byte, and a wrong file among many loses no other") {
    const Folder folder;
    for (int i = 0; i < 40; ++i)
        folder.write("p" + std::to_string(100 + i) + ".toml", i % 10 == 3  ? broken
                                                              : i % 3 == 0 ? failing
                                                                           : conforming);
    const Outcome one = call({"inspect", "--jobs", "1", "--form", "json", folder.path()});
    CHECK(one.code == 2);
    for (const char* jobs : {"2", "7"}) {
        const Outcome many = call({"inspect", "--jobs", jobs, "--form", "json", folder.path()});
        CHECK(many.out == one.out);
        CHECK(many.err == one.err);
        CHECK(many.code == 2);
    }
    CHECK(Json::parse(one.out)["files"].size() == 36);
    CHECK(Json::parse(one.out)["not_inspected"].size() == 4);
}

TEST_CASE("only descriptions of which a file was touched are inspected, through what they extend") {
    const Folder folder;
    folder.write("a.toml", failing);
    folder.write("b.toml", "extends = \"a.toml\"\n[conductor.c]\nlength = \"2 m\"\n");
    folder.write("c.toml", conforming);
    const std::string list =
        folder.write("list", folder.path("a.toml") + "\n" + folder.path("gone.toml") + "\n");
    const Outcome run = call({"inspect", "--form", "table", "--touched-by", list, folder.path()});
    CHECK(run.code == 1);
    CHECK(has(run.out, "2 files inspected"));
    CHECK(has(run.out, "1 description passed over: no file of theirs was touched"));
    const Outcome without_list = call({"inspect", "--touched-by", folder.path("no-list"), folder.path()});
    CHECK(without_list.code == 2);
    CHECK(without_list.out.empty());  // nothing that looks like the answer
}

TEST_CASE("the table says what is new since the earlier report") {
    const Folder folder;
    const std::string file = folder.write("a.toml", conforming);
    const std::string report = folder.write("earlier.json", call({"inspect", "--form", "json", file}).out);
    folder.write("a.toml", failing);
    const Outcome run = call({"inspect", "--form", "table", "--since", report, file});
    CHECK(has(run.out, "1 new, 0 changed"));
    CHECK(has(run.out, "(new)"));
    CHECK_FALSE(has(call({"inspect", "--form", "table", file}).out, "(new)"));
}

TEST_CASE(
    "a file that is gone, a quoted name and a list of git -z touch their descriptions; others are told") {
    const Folder folder;
    const std::string file = folder.write("a.toml", failing);
    folder.write("h\u00fctte.toml", failing);
    const auto inspected = [&](const std::string& list) {
        const Outcome run =
            call({"inspect", "--form", "table", "--touched-by", folder.write("list", list), folder.path()});
        CAPTURE(run.out);
        CHECK(run.code == (has(run.out, "0 files inspected") ? 0 : 1));
        return run;
    };
    CHECK(has(inspected(folder.path("a.concessions.toml\n")).out, "1 file inspected"));
    CHECK(has(inspected(folder.path("./x/../a.readings.toml\n")).out, "1 file inspected"));
    CHECK(has(inspected("\"" + folder.path("h\\303\\274tte.toml\"\n")).out, "1 file inspected"));
    CHECK(has(
        inspected(file + std::string(1, '\0') + folder.path("h\u00fctte.toml") + std::string(1, '\0')).out,
        "2 files inspected"));
    CHECK(has(inspected(folder.path() + "\n").out, "2 files inspected"));  // a link to a folder, a submodule
    const Outcome none = inspected(folder.path("list\n") + folder.path("gone.toml\n") + file + "x\n");
    CHECK(has(none.out, "0 files inspected"));
    CHECK(has(none.err, "3 of 3 touched paths belong to no description here; 2 of them not there: "));
    CHECK(call({"inspect", file, "--touched-by", ""}).code == 2);  // an empty variable drops no filter
    CHECK(call({"inspect", file, "--date", ""}).code == 2);
    CHECK(has(call({"inspect", file, "--jobs", "-1"}).err, "a whole number up to 256 is wanted, not -1"));
}

TEST_CASE("further reports of the same run are written whole, or the run says that they were not") {
    const Folder folder;
    const std::string file = folder.write("a.toml", failing);
    const std::string log = folder.path("log.sarif");
    const Outcome run = call({"inspect", file, "--also", "sarif=" + log, "--also",
                              "json=" + folder.path("all.json"), "--form", "table"});
    CHECK(run.code == 1);
    CHECK(Json::parse(read(log))["runs"][0]["results"].size() >= 1);
    CHECK(read(folder.path("all.json")) == call({"inspect", file, "--form", "json"}).out);
    const Outcome lost = call({"inspect", file, "--also", "sarif=" + folder.path("no/such/folder/x")});
    CHECK(lost.code == 2);
    CHECK(has(lost.err, "could not be written"));
    CHECK(call({"inspect", file, "--also", "/dev/full"}).code == 2);
    CHECK(call({"inspect", file, "--also", "sarif=/dev/full"}).code == 2);
}

TEST_CASE("a concession keeps the verdict and opens the gate until its last day") {
    int code = -1;
    const Json within = conceded_on("2027-04-30", code);
    const Json after = conceded_on("2027-05-01", code);
    const Json conceded = finding_on(within, "breaker-protects-conductor", "plus-to-fuse");
    const Json expired = finding_on(after, "breaker-protects-conductor", "plus-to-fuse");
    REQUIRE(conceded.is_object());
    REQUIRE(expired.is_object());
    CHECK(conceded["verdict"] == "fails");
    CHECK(conceded["conceded"] == true);
    CHECK(conceded["counts"] == false);
    CHECK(expired["verdict"] == "fails");
    CHECK(expired["conceded"] == false);
    CHECK(expired["counts"] == true);
    CHECK(code == 1);
    CHECK(within["files"][0]["coverage"]["conceded"] == 2);
    CHECK(after["files"][0]["coverage"]["conceded"] == 0);
    CHECK(within["files"][0]["judged_on"] == "2027-04-30");
    // Property: concessions change no verdict. What is found on anything but a concession is the same on both
    // days.
    const auto verdicts = [](const Json& report) {
        Json list = Json::array();
        for (const Json& finding : report["findings"])
            if (finding["kind"] != "concession")
                list.push_back(finding["rule"].get<std::string>() + " " + finding["item"].get<std::string>() +
                               " " + finding["verdict"].get<std::string>());
        std::sort(list.begin(), list.end());
        return list;
    };
    CHECK(verdicts(within) == verdicts(after));
    const auto refused = [](const Json& report) {
        return std::count_if(report["findings"].begin(), report["findings"].end(), [](const Json& finding) {
            return finding["kind"] == "concession" && finding["verdict"] == "fails" &&
                   finding["class"] != "observation";
        });
    };
    CHECK(refused(within) == 0);
    CHECK(refused(after) == 2);  // each of the two is over, and says so
}
