// Files that are not what a description should be.
#include <doctest/doctest.h>
#include <sys/stat.h>

#include "tests/document/reading.hpp"

using packproof::testing::load;
using packproof::testing::TemporaryFolder;

TEST_CASE("an absent file is said to be absent") {
    const TemporaryFolder folder;
    const auto loaded = load(folder.path("pack.toml"));
    CHECK_FALSE(loaded.description);
    CHECK(loaded.said(folder) == "packproof: error: pack.toml is not there\n");
}

TEST_CASE("a folder is not an empty description") {
    const TemporaryFolder folder;
    std::filesystem::create_directory(folder.path("pack.toml"));
    const auto loaded = load(folder.path("pack.toml"));
    CHECK_FALSE(loaded.description);
    CHECK(loaded.said(folder) == "packproof: error: pack.toml is a folder, not a file\n");
}

TEST_CASE("a pipe is refused, so that nothing waits for it") {
    const TemporaryFolder folder;
    REQUIRE(::mkfifo(folder.path("pack.toml").c_str(), 0600) == 0);
    const auto loaded = load(folder.path("pack.toml"));
    CHECK_FALSE(loaded.description);
    CHECK(loaded.said(folder) == "packproof: error: pack.toml is not a regular file\n");
}

TEST_CASE("bytes that are not UTF-8 are shown where they stand") {
    const TemporaryFolder folder;
    const std::string path =
        folder.write("pack.toml", "[pack]\n# \xC2\xB0 is good, \xB0 is not\nseries = 16\n");
    const auto loaded = load(path);
    CHECK_FALSE(loaded.description);
    CHECK(loaded.said(folder) ==
          "pack.toml:2:14: error: the byte 0xB0 is not UTF-8 here\n"
          "pack.toml:2:14: note: save the file as UTF-8\n");
}

TEST_CASE("a NUL byte is shown where it stands") {
    const TemporaryFolder folder;
    const std::string path = folder.write("pack.toml", std::string("[pack]\nseries = 1\0006\n", 20));
    const auto loaded = load(path);
    CHECK_FALSE(loaded.description);
    CHECK(loaded.said(folder) == "pack.toml:2:11: error: a NUL byte stands here: this is not a text file\n");
}

TEST_CASE("a description without any item states nothing") {
    const TemporaryFolder folder;
    for (const char* text : {"", "\n\n", "# later\n", "format = 1\n", "\xEF\xBB\xBF", "\xEF\xBB\xBF\r\n"}) {
        const auto loaded = load(folder.write("pack.toml", text));
        CHECK_FALSE(loaded.description);
        CHECK(loaded.said(folder) ==
              "pack.toml:1:1: error: this description states nothing\n"
              "pack.toml:1:1: note: packproof new writes one to start from\n");
    }
}

TEST_CASE("only format 1 is read") {
    const TemporaryFolder folder;
    CHECK(load(folder.write("pack.toml", "format = 1\n[pack]\n")).description);
    for (const char* format : {"2", "\"1\"", "1.0", "true", "[1]"}) {
        const auto loaded = load(folder.write("pack.toml", std::string("format = ") + format + "\n[pack]\n"));
        CHECK_FALSE(loaded.description);
        CHECK(loaded.said(folder) ==
              "pack.toml:1:10: error: this format is not known; this program reads format 1\n"
              "pack.toml:1:10: note: write format = 1\n");
    }
}

TEST_CASE("a byte-order mark and CRLF change nothing but the bytes") {
    const TemporaryFolder folder;
    const auto loaded = load(folder.write("pack.toml", "\xEF\xBB\xBF[pack]\r\nseries = 16\r\n"));
    REQUIRE(loaded.description);
    CHECK(loaded.description->root.children[0].children[0].integer == 16);
}
