#include <doctest/doctest.h>

#include "bench.hpp"

using namespace packproof::bench;

TEST_CASE("bench prints its list; something critical is exit code 1, a mistake 2 and no list") {
    const Folder folder;
    const std::string file =
        folder.write("a.toml", "format = 1\n[pack]\nseries = 2\n[cell]\nchemistry = \"LFP\"\n");
    const Outcome run = call_with_real_rules({"bench", file});
    CHECK(run.code == 0);
    CHECK(run.out.starts_with("Bench list"));
    const std::string taps =
        "[reading.a]\ntap = 0\ntap_voltage = \"0 V\"\n[reading.b]\ntap = 1\ntap_voltage = \"-3.3 V\"\n"
        "[reading.c]\ntap = 2\ntap_voltage = \"-6.6 V\"\n";
    const std::string wrong = folder.write("b.toml", read(file) + taps);
    const Outcome stopped = call_with_real_rules({"bench", wrong});
    CHECK(stopped.code == 1);
    CHECK(stopped.out.find("STOP") < stopped.out.find("Before the sense plugs"));
    CHECK(call_with_real_rules({"bench", file, "--form", "html"}).out.starts_with("<!DOCTYPE html>"));
    const Outcome broken_file =
        call_with_real_rules({"bench", folder.write("c.toml", "format = 1\n[pack]\nserie = 2\n")});
    CHECK(broken_file.code == 2);
    CHECK(broken_file.out.empty());
    CHECK(call_with_real_rules({"bench", file, "--form", "pdf"}).code == 2);
    CHECK(call_with_real_rules({"bench", file, "--width", "10"}).code == 2);
    const Outcome taps_only = call_with_real_rules({"bench", file, "--sheet", "taps"});
    CHECK(taps_only.out.find("Before the sense plugs") != std::string::npos);
    CHECK(taps_only.out.find("Before power") == std::string::npos);
    const Outcome unknown = call_with_real_rules({"bench", file, "--sheet", "tap"});
    CHECK(unknown.code == 2);
    CHECK(unknown.err.find("did you mean taps") != std::string::npos);
}

TEST_CASE("the starter description gives a bench list with every hold point in its place") {
    const Outcome start = call_with_real_rules({"new"});
    REQUIRE(start.code == 0);
    const Folder folder;
    const Outcome list =
        call_with_real_rules({"bench", folder.write("my.toml", start.out), "--sheet", "order"});
    CHECK(list.code == 0);
    std::size_t from = 0;
    for (const char* step : {"rings", "HOLD: taps", "plug-in", "HOLD: enter-settings", "HOLD: insulation",
                             "HOLD: polarity", "power", "join-load"}) {
        const std::size_t at = list.out.find(step, from);
        CHECK_MESSAGE(at != std::string::npos, std::string(step));
        from = at == std::string::npos ? from : at;
    }
    CHECK(list.out.find("not among the steps") == std::string::npos);
}
