// Several files that make one description, and the folders that they may come from.
#include <doctest/doctest.h>

#include "tests/document/reading.hpp"

using packproof::testing::load;
using packproof::testing::TemporaryFolder;

namespace {

std::string names(const packproof::document::Node& node) {
    std::string result;
    for (const auto& child : node.children)
        result += child.key + " ";
    return result;
}

}  // namespace

TEST_CASE("parts come in the order in which they are named, each file once") {
    const TemporaryFolder folder;
    folder.write("parts/cell.toml", "[cell.a]\n");
    folder.write("parts/bolt.toml", "parts = [\"cell.toml\"]\n[bolt.b]\n");
    const auto loaded = load(folder.write(
        "pack.toml",
        "parts = [\"parts/bolt.toml\", \"parts/cell.toml\", \"./parts/../parts/bolt.toml\"]\n[pack]\n"));
    REQUIRE(loaded.description);
    REQUIRE(loaded.description->parts.size() == 2);
    CHECK(names(loaded.description->parts[0]) == "bolt ");
    CHECK(names(loaded.description->parts[1]) == "cell ");
    CHECK(names(loaded.description->root) == "pack ");
    CHECK(loaded.description->files.size() == 3);
}

TEST_CASE("a part outside the folder is refused, whichever way it leads there") {
    const TemporaryFolder outside;
    const std::string secret = outside.write("secret.toml", "[cell.s]\n");
    const TemporaryFolder folder;
    std::filesystem::create_symlink(secret, folder.path("link.toml"));
    std::filesystem::create_directory_symlink(outside.root(), folder.path("linked"));
    std::filesystem::create_directory(folder.path("inner"));
    const std::string up = "../" + outside.root().filename().string() + "/secret.toml";
    for (const std::string& name : {secret, up, std::string("link.toml"), std::string("linked/secret.toml"),
                                    "inner/../" + up, "missing/../" + up}) {
        const auto loaded = load(folder.write("pack.toml", "parts = [\"" + name + "\"]\n[pack]\n"));
        CHECK_FALSE(loaded.description);
        CHECK(loaded.sources.size() == 1);
        CHECK(loaded.said(folder).find("pack.toml:1:10: error: the file ") == 0);
        CHECK(loaded.said(folder).find("lies outside the description's folder") != std::string::npos);
    }
    // Whether something is there is not told either.
    const auto absent = load(folder.write("pack.toml", "parts = [\"../nowhere-at-all.toml\"]\n[pack]\n"));
    CHECK(absent.said(folder).find("lies outside") != std::string::npos);
    // A library folder makes it allowed.
    const auto allowed =
        load(folder.write("pack.toml", "parts = [\"secret.toml\"]\n[pack]\n"), {{outside.root().string()}});
    REQUIRE(allowed.description);
    CHECK(allowed.description->parts.size() == 1);
}

TEST_CASE("a library folder that is not there is an error, also where no part comes from it") {
    const TemporaryFolder folder;
    const std::string pack = folder.write("pack.toml", "[pack]\n");
    for (const std::string& library : {folder.path("nowhere"), pack}) {
        const auto loaded = load(pack, {{library}});
        CHECK(loaded.said(folder).find("is not a folder that can be read") != std::string::npos);
    }
    CHECK(load(pack, {{folder.root().string()}}).said(folder).empty());
}

TEST_CASE("what is checked is what is read, also behind a link to a folder") {
    const TemporaryFolder outside;
    const std::string secret = outside.write("secret.toml", "[cell.s]\n");
    const TemporaryFolder folder;
    folder.write("deep/below/x.txt", "");
    folder.write("deep/x.toml", "[cell.good]\n");
    // jump/../x.toml is deep/x.toml for the system; read as text alone it would be x.toml, a link outside.
    std::filesystem::create_directory_symlink(folder.path("deep/below"), folder.path("jump"));
    std::filesystem::create_symlink(secret, folder.path("x.toml"));
    const auto loaded = load(folder.write("pack.toml", "parts = [\"jump/../x.toml\"]\n[pack]\n"));
    REQUIRE(loaded.description);
    CHECK(names(loaded.description->parts[0].children[0]) == "good ");
}

TEST_CASE("a name with a NUL in it names no file") {
    const TemporaryFolder folder;
    folder.write("a.toml", "[cell]\n");
    CHECK_FALSE(load(folder.write("pack.toml", "parts = [\"a.toml\\u0000x\"]\n[pack]\n")).description);
}

TEST_CASE("an absent part, a folder as part and a wrong entry are all reported") {
    const TemporaryFolder folder;
    std::filesystem::create_directory(folder.path("inner"));
    const auto loaded = load(folder.write(
        "pack.toml", "parts = [\n  \"a.toml\",\n  \"inner\",\n  7,\n  \"pack.toml\",\n]\n[pack]\n"));
    CHECK_FALSE(loaded.description);
    CHECK(loaded.said(folder) ==
          "pack.toml:2:3: error: the file \"a.toml\" is not there\n"
          "pack.toml:3:3: error: inner is a folder, not a file\n"
          "pack.toml:4:3: error: a parts file is named by text, not a whole number\n"
          "pack.toml:4:3: note: write parts = [\"parts/cell.toml\"]\n"
          "pack.toml:5:3: error: a circle of parts: pack.toml, pack.toml\n"
          "pack.toml:5:3: note: one of these files must not name the next\n");
}

TEST_CASE("a circle of parts is named whole") {
    const TemporaryFolder folder;
    folder.write("a.toml", "parts = [\"b.toml\"]\n[cell.a]\n");
    folder.write("b.toml", "parts = [\"c.toml\"]\n[cell.b]\n");
    folder.write("c.toml", "parts = [\"a.toml\"]\n[cell.c]\n");
    const auto loaded = load(folder.write("pack.toml", "parts = [\"a.toml\"]\n[pack]\n"));
    CHECK_FALSE(loaded.description);
    CHECK(loaded.said(folder) ==
          "c.toml:1:10: error: a circle of parts: a.toml, b.toml, c.toml, a.toml\n"
          "c.toml:1:10: note: one of these files must not name the next\n");
}

TEST_CASE("a circle of extends is named whole") {
    const TemporaryFolder folder;
    folder.write("b.toml", "extends = \"c.toml\"\n[pack]\n");
    folder.write("c.toml", "extends = \"./a.toml\"\n[pack]\n");
    const auto loaded = load(folder.write("a.toml", "extends = \"b.toml\"\n[pack]\n"));
    CHECK_FALSE(loaded.description);
    CHECK(loaded.said(folder) ==
          "c.toml:1:11: error: a circle of extends: a.toml, b.toml, c.toml, a.toml\n"
          "c.toml:1:11: note: one of these files must not name the next\n");
    const auto self = load(folder.write("self.toml", "extends = \"self.toml\"\n[pack]\n"));
    CHECK(self.said(folder).find("a circle of extends: self.toml, self.toml") != std::string::npos);
}

TEST_CASE("a variant overrides single keys, adds and drops, and keeps the base's order") {
    const TemporaryFolder folder;
    folder.write("base.toml",
                 "[pack]\nseries = 16\nname = \"base\"\n[wire.a]\nlength = 1\n[wire.b]\nlength = 2\nsize = "
                 "7\n[fuse.f]\n");
    const auto loaded =
        load(folder.write("variant.toml",
                          "extends = \"base.toml\"\ndrop = [\"wire.b.size\", "
                          "\"fuse\"]\n[wire.c]\n[wire.b]\nlength = 3\n[pack]\nname = \"variant\"\n"));
    REQUIRE(loaded.description);
    const auto& root = loaded.description->root;
    CHECK(names(root) == "pack wire ");
    CHECK(names(*root.find("wire")) == "a b c ");
    CHECK(names(*root.find("pack")) == "series name ");
    CHECK(root.find("pack")->find("name")->text == "variant");
    CHECK(root.find("wire")->find("b")->find("length")->integer == 3);
    CHECK(root.find("wire")->find("b")->find("size") == nullptr);
    // Places lead to the file in which each thing is written.
    CHECK(loaded.sources.path(root.find("pack")->find("name")->span.source).find("variant.toml") !=
          std::string_view::npos);
    CHECK(loaded.sources.path(root.find("pack")->find("series")->span.source).find("base.toml") !=
          std::string_view::npos);
}

TEST_CASE("a variant of a variant takes the nearest word, and parts of the base come along") {
    const TemporaryFolder folder;
    folder.write("cell.toml", "[cell.c]\n");
    folder.write("one.toml", "parts = [\"cell.toml\"]\n[pack]\na = 1\nb = 1\nc = 1\n");
    folder.write("two.toml", "extends = \"one.toml\"\n[pack]\nb = 2\nc = 2\n");
    const auto loaded = load(folder.write("three.toml", "extends = \"two.toml\"\n[pack]\nc = 3\n"));
    REQUIRE(loaded.description);
    const auto& pack = *loaded.description->root.find("pack");
    CHECK(pack.find("a")->integer == 1);
    CHECK(pack.find("b")->integer == 2);
    CHECK(pack.find("c")->integer == 3);
    CHECK(loaded.description->parts.size() == 1);
}

TEST_CASE("dropping what is not there names the nearest, and drop alone is a mistake") {
    const TemporaryFolder folder;
    folder.write("base.toml", "[wire.spare]\nlength = 2\n");
    const auto loaded =
        load(folder.write("variant.toml", "extends = \"base.toml\"\ndrop = [\"wire.spar\", 3]\n[pack]\n"));
    CHECK(loaded.said(folder) ==
          "variant.toml:2:9: error: \"wire.spar\" is not in the description that this one extends\n"
          "variant.toml:2:9: note: did you mean \"spare\"?\n"
          "variant.toml:2:22: error: an item or field is named by text, not a whole number\n"
          "variant.toml:2:22: note: write drop = [\"kind.id\"]\n");
    const auto alone = load(folder.write("alone.toml", "drop = [\"wire.spare\"]\n[pack]\n"));
    CHECK_FALSE(alone.description);
}

TEST_CASE("mistakes in every file of a description are reported together") {
    const TemporaryFolder folder;
    folder.write("base.toml", "[pack]\nseries = 16 cells\n");
    folder.write("part.toml", "[cell.c\n");
    const auto loaded = load(folder.write(
        "pack.toml",
        "extends = \"base.toml\"\nparts = [\"part.toml\", \"gone.toml\"]\nformat = 9\n[pack]\n"));
    const std::string said = loaded.said(folder);
    CHECK(said.find("base.toml:2:10: error: \"16 cells\" is not a value") != std::string::npos);
    CHECK(said.find("part.toml:1:1: error: the header \"[cell.c\" is not closed") != std::string::npos);
    CHECK(said.find("pack.toml:2:23: error: the file \"gone.toml\" is not there") != std::string::npos);
    CHECK(said.find("pack.toml:3:10: error: this format is not known") != std::string::npos);
}

TEST_CASE("more than 64 files are refused once") {
    const TemporaryFolder folder;
    std::string list = "parts = [";
    for (int i = 0; i < 80; ++i) {
        const std::string name = "p" + std::to_string(i) + ".toml";
        folder.write(name, "[cell.c" + std::to_string(i) + "]\n");
        list += "\"" + name + "\", ";
    }
    const auto loaded = load(folder.write("pack.toml", list + "]\n[pack]\n"));
    CHECK_FALSE(loaded.description);
    CHECK(loaded.messages.error_count() == 1);
    CHECK(loaded.said(folder).find("more than 64 files in one description") != std::string::npos);
}

TEST_CASE("a parts file extends nothing") {
    const TemporaryFolder folder;
    folder.write("part.toml", "extends = \"pack.toml\"\n[cell.c]\n");
    const auto loaded = load(folder.write("pack.toml", "parts = [\"part.toml\"]\n[pack]\n"));
    CHECK(loaded.said(folder).find("part.toml:1:1: error: a parts file has no extends") == 0);
}
