#include <doctest/doctest.h>

#include "bench.hpp"

using namespace packproof::bench;

TEST_CASE("sheet prints a page or a drawing; something critical is exit code 1, a mistake 2 and no page") {
    const Folder folder;
    const std::string file =
        folder.write("a.toml", "format = 1\n[pack]\nseries = 2\n[cell]\nchemistry = \"LFP\"\n");
    const Outcome page = call_with_real_rules({"sheet", file});
    CHECK(page.code == 0);
    CHECK(page.out.starts_with("<!DOCTYPE html>"));
    CHECK(page.out.find("The cells in line") != std::string::npos);
    CHECK(page.out.find("safe") == std::string::npos);
    CHECK(call_with_real_rules({"sheet", file}).out == page.out);
    CHECK(call_with_real_rules({"sheet", file, "--drawing"}).out.starts_with("<svg "));
    const std::string taps =
        "[reading.a]\ntap = 0\ntap_voltage = \"0 V\"\n[reading.b]\ntap = 1\ntap_voltage = \"-3.3 V\"\n"
        "[reading.c]\ntap = 2\ntap_voltage = \"-6.6 V\"\n";
    const Outcome stopped = call_with_real_rules({"sheet", folder.write("b.toml", read(file) + taps)});
    CHECK(stopped.code == 1);
    CHECK(stopped.out.find("Stop: these are critical") != std::string::npos);
    const Outcome mistaken = call_with_real_rules(
        {"sheet", folder.write("c.toml", "format = 1\n[pack]\nserie = 2\n[cell]\nthick = 1\n")});
    CHECK(mistaken.code == 2);
    CHECK(mistaken.out.empty());
    CHECK(mistaken.err.find("c.toml:3:1") != std::string::npos);
    CHECK(mistaken.err.find("c.toml:5:1") != std::string::npos);
    const Outcome nothing = call_with_real_rules(
        {"sheet", "--drawing", folder.write("d.toml", "format = 1\n[cell]\nchemistry = \"LFP\"\n")});
    CHECK(nothing.code == 2);
    CHECK(nothing.err.find("nothing to draw") != std::string::npos);
}

TEST_CASE("sheet writes over an older sheet, and over nothing else") {
    const Folder folder;
    const std::string file =
        folder.write("a.toml", "format = 1\n[pack]\nseries = 2\n[cell]\nchemistry = \"LFP\"\n");
    const std::string before = read(file);
    const Outcome refused = call_with_real_rules({"sheet", file, "-o", file});
    CHECK(refused.code == 2);
    CHECK(refused.err.find("no sheet") != std::string::npos);
    CHECK(read(file) == before);
    const std::string page = folder.write("a.html", "<!DOCTYPE html>\n");
    CHECK(call_with_real_rules({"sheet", file, "-o", page}).code == 0);
    CHECK(read(page) == call_with_real_rules({"sheet", file}).out);
    CHECK(call_with_real_rules({"sheet", file, "-o", page + "/none/x.html"}).code == 2);
    // A device is not read first, and nothing is said in between.
    const Outcome device = call_with_real_rules({"sheet", file, "-o", "/dev/null"});
    CHECK(device.code == 0);
    CHECK(device.out.empty());
}
