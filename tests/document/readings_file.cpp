// The readings beside a description: read with it, as if they stood in it.
#include "engine/document/readings_file.hpp"

#include <doctest/doctest.h>

#include "tests/document/reading.hpp"

using packproof::document::is_readings_file;
using packproof::document::readings_file_of;
using packproof::testing::load;
using packproof::testing::TemporaryFolder;

namespace {

std::string outline(const packproof::document::Node& root) {
    std::string result;
    for (const auto& kind : root.children) {
        result += kind.key + ":";
        for (const auto& child : kind.children)
            result += " " + child.key;
        result += "; ";
    }
    return result;
}

}  // namespace

TEST_CASE("which file holds the readings of which description") {
    CHECK(is_readings_file("a/pack.readings.toml"));
    CHECK_FALSE(is_readings_file("a/readings.toml"));
    CHECK_FALSE(is_readings_file("a/pack.toml"));
    CHECK(readings_file_of("a/pack.toml") == "a/pack.readings.toml");
    CHECK(readings_file_of("a.b.toml") == "a.b.readings.toml");
    CHECK_FALSE(readings_file_of("-"));
    CHECK_FALSE(readings_file_of("pack.toml.txt"));
    CHECK_FALSE(readings_file_of("pack.readings.toml"));
}

TEST_CASE("readings beside a description are read with it, their items last, and counted among its files") {
    const TemporaryFolder folder;
    const std::string own = folder.write("pack.toml", "format = 1\n[cell.a]\nx = 1\n[bolt.c]\n");
    folder.write("pack.readings.toml", "[reading.r]\nof = \"a\"\n[cell.b]\ny = 2\n");
    folder.write("other.readings.toml", "[reading.s]\n");
    const auto loaded = load(own);
    REQUIRE_MESSAGE(loaded.description, loaded.said(folder));
    CHECK(outline(loaded.description->root) == "cell: a b; bolt: c; reading: r; ");
    REQUIRE(loaded.description->files.size() == 2);
    CHECK(loaded.description->readings == loaded.description->files[1]);
    CHECK(loaded.sources.path(loaded.description->readings) == folder.path("pack.readings.toml"));
    CHECK(loaded.description->source == loaded.description->files[0]);
    const auto& span = loaded.description->root.children[2].children[0].key_span;
    CHECK(span.source == loaded.description->readings);
    CHECK(loaded.sources.place(span.source, span.begin).line == 1);
}

TEST_CASE("a description without readings has none") {
    const TemporaryFolder folder;
    const auto loaded = load(folder.write("pack.toml", "[pack]\n"));
    REQUIRE(loaded.description);
    CHECK(loaded.description->readings == packproof::text::no_source);
    CHECK(loaded.description->files.size() == 1);
}

TEST_CASE("what a description extends brings its own items, not its readings") {
    const TemporaryFolder folder;
    folder.write("base.toml", "[cell.a]\n");
    folder.write("base.readings.toml", "[reading.base]\n");
    const std::string bare = folder.write("bare.toml", "extends = \"base.toml\"\n[bolt.b]\n");
    const std::string read = folder.write("read.toml", "extends = \"base.toml\"\n[bolt.b]\n");
    folder.write("read.readings.toml", "[reading.own]\n");
    CHECK(outline(load(bare).description->root) == "cell: a; bolt: b; ");
    CHECK(outline(load(read).description->root) == "cell: a; bolt: b; reading: own; ");
}

TEST_CASE("an item in both is an error with both places, each of them in one run") {
    const TemporaryFolder folder;
    const std::string own = folder.write(
        "pack.toml", "fixture = \"none\"\n[pack]\nx = 1\n[cell.a]\n[cell.b]\n[kit]\n[tool]\nsource = {}\n");
    folder.write("pack.readings.toml",
                 "fixture = \"none\"\n[cell.b]\n[cell.c]\n[pack]\ny = 1\n[kit]\n[tool]\nz = 1\n");
    const auto loaded = load(own);
    CHECK_FALSE(loaded.description);
    const std::string said = loaded.said(folder);
    CHECK(said.find("pack.readings.toml:1:1: error: \"fixture\" stands in pack.toml, line 1 too") !=
          std::string::npos);
    CHECK(said.find("pack.readings.toml:2:7: error: \"b\" stands in pack.toml, line 5 too") !=
          std::string::npos);
    CHECK(said.find("pack.readings.toml:4:2: error: \"pack\" stands in pack.toml, line 2 too") !=
          std::string::npos);
    CHECK(said.find("pack.readings.toml:6:2: error: \"kit\" stands in pack.toml, line 6 too") !=
          std::string::npos);
    CHECK(said.find("pack.readings.toml:7:2: error: \"tool\" stands in pack.toml, line 7 too") !=
          std::string::npos);
    CHECK(loaded.messages.error_count() == 5);
}

TEST_CASE("the base of a description counts as the description: its items are not repeated in readings") {
    const TemporaryFolder folder;
    folder.write("base.toml", "[cell.a]\n");
    const std::string own = folder.write("pack.toml", "extends = \"base.toml\"\n[bolt.b]\n");
    folder.write("pack.readings.toml", "[cell.a]\n");
    CHECK(load(own).said(folder).find(
              "pack.readings.toml:1:7: error: \"a\" stands in base.toml, line 1 too") == 0);
}

TEST_CASE("readings extend nothing and drop nothing, have the known format, and may name parts") {
    const TemporaryFolder folder;
    const std::string own = folder.write("pack.toml", "[pack]\n");
    folder.write("pack.readings.toml", "extends = \"pack.toml\"\ndrop = [\"x\"]\nformat = 2\n");
    const std::string said = load(own).said(folder);
    CHECK(said.find("pack.readings.toml:1:1: error: a file of readings has no extends") != std::string::npos);
    CHECK(said.find("pack.readings.toml:2:1: error: a file of readings has no drop") != std::string::npos);
    CHECK(said.find("pack.readings.toml:3:10: error: this format is not known") != std::string::npos);

    folder.write("pack.readings.toml", "format = 1\nparts = [\"tools.toml\"]\n");
    folder.write("tools.toml", "[tool.a]\n");
    const auto loaded = load(own);
    REQUIRE_MESSAGE(loaded.description, loaded.said(folder));
    CHECK(loaded.description->parts.size() == 1);
    CHECK(loaded.description->files.size() == 3);
}

TEST_CASE("mistakes in readings stand at their place in the file of readings") {
    const TemporaryFolder folder;
    const std::string own = folder.write("pack.toml", "[pack]\n");
    folder.write("pack.readings.toml", "[reading.a]\nx = = 1\n");
    const auto loaded = load(own);
    CHECK_FALSE(loaded.description);
    CHECK(loaded.said(folder).find("pack.readings.toml:2:5: error: ") == 0);
}

TEST_CASE("readings do not make a description out of nothing, and are none themselves") {
    const TemporaryFolder folder;
    const std::string own = folder.write("pack.toml", "# nothing\n");
    const std::string readings = folder.write("pack.readings.toml", "[reading.a]\n");
    CHECK(load(own).said(folder).find("this description states nothing") != std::string::npos);
    const auto loaded = load(readings);
    CHECK_FALSE(loaded.description);
    CHECK(loaded.said(folder).find("holds the readings of a description") != std::string::npos);
}

TEST_CASE("readings that a link leads out of the folder are refused") {
    const TemporaryFolder outside;
    const std::string secret = outside.write("secret.toml", "[cell.s]\n");
    const TemporaryFolder folder;
    const std::string own = folder.write("pack.toml", "[pack]\n");
    std::filesystem::create_symlink(secret, folder.path("pack.readings.toml"));
    const auto loaded = load(own);
    CHECK_FALSE(loaded.description);
    CHECK(loaded.sources.size() == 1);
    CHECK(loaded.said(folder).find("lie outside the description's folder") != std::string::npos);
}
