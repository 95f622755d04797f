#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

#include "bench.hpp"

using namespace packproof::bench;

namespace {

bool has(const std::string& text, std::string_view part) {
    return text.find(part) != std::string::npos;
}

const std::string half = "format = 1\n[pack]\nseries = 16\n[cell]\n[bms]\n";

}  // namespace

TEST_CASE("rfi writes a letter to standard output and says what is not in it on the other") {
    const Folder folder;
    const std::string file = folder.write("kit.toml", half);
    const Outcome run = call_with_real_rules({"rfi", file});
    CHECK(run.code == 0);
    CHECK(run.out.starts_with("# Request for information"));
    CHECK(has(run.err, "yours to measure or to settle"));
    const Outcome html = call_with_real_rules({"rfi", file, "--form", "html"});
    CHECK(html.code == 0);
    CHECK(html.out.starts_with("<!DOCTYPE html>"));
    const Outcome json = call_with_real_rules({"rfi", file, "--form", "json"});
    CHECK(json.code == 0);
    CHECK(json.err.empty());
    CHECK(nlohmann::json::parse(json.out)["questions"].size() > 5);
    CHECK(call_with_real_rules({"rfi", file}).out == run.out);
}

TEST_CASE("a description with mistakes gives no letter") {
    const Folder folder;
    const Outcome run =
        call_with_real_rules({"rfi", folder.write("kit.toml", "format = 1\n[pack]\nseries = \"x\"\n")});
    CHECK(run.code == 2);
    CHECK(run.out.empty());
    CHECK(has(run.err, ":3:"));
    CHECK(call_with_real_rules({"rfi", folder.path("none.toml")}).code == 2);
    CHECK(call_with_real_rules({"rfi"}).code == 2);
    const Outcome form = call_with_real_rules({"rfi", folder.path("kit.toml"), "--form", "htm"});
    CHECK(form.code == 2);
    CHECK(has(form.err, "did you mean html"));
}
