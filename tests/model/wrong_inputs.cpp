// Every tests/wrong-inputs/NAME.toml must be said of exactly what NAME.expected holds. Read with this
// folder's small vocabulary. To see what is said of a new one: run this test, which prints it.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <vector>

#include "tests/model/small_vocabulary.hpp"

namespace files = std::filesystem;
using packproof::testing::Built;

namespace {

const files::path corpus = files::path(PACKPROOF_SOURCE_DIR) / "tests" / "wrong-inputs";

std::string contents(const files::path& path) {
    std::ifstream stream(path, std::ios::binary);
    std::ostringstream text;
    text << stream.rdbuf();
    return text.str();
}

std::string without_folder(std::string text) {
    const std::string prefix = corpus.string() + "/";
    for (std::size_t at = text.find(prefix); at != std::string::npos; at = text.find(prefix))
        text.erase(at, prefix.size());
    return text;
}

std::vector<files::path> descriptions() {
    std::vector<files::path> result;
    for (const auto& entry : files::directory_iterator(corpus))
        if (entry.path().extension() == ".toml") result.push_back(entry.path());
    std::sort(result.begin(), result.end());
    return result;
}

}  // namespace

TEST_CASE("every wrong description of the corpus is refused with its whole set of messages") {
    const auto all = descriptions();
    CHECK(all.size() >= 40);
    for (const files::path& path : all) {
        const auto built = Built::from_file(path.string());
        const std::string said = without_folder(built->said());
        files::path expected = path;
        expected.replace_extension(".expected");
        INFO(path.filename().string());
        CHECK(said == contents(expected));
        CHECK_FALSE(built->model);
        CHECK(built->messages.has_errors());
    }
}

TEST_CASE("every message of the corpus has a place inside its file, and its text is one harmless sentence") {
    for (const files::path& path : descriptions()) {
        const auto built = Built::from_file(path.string());
        INFO(path.filename().string());
        for (const auto& message : built->messages.sorted()) {
            REQUIRE(message.span.source != packproof::text::no_source);
            CHECK(message.span.begin <= message.span.end);
            CHECK(message.span.end <= built->sources.bytes(message.span.source).size());
            CHECK_FALSE(message.text.empty());
            CHECK(message.text.back() != '.');
            CHECK(message.text.size() < 400);
            for (const std::string& part : {message.text, message.hint})
                for (char c : part)
                    CHECK((static_cast<unsigned char>(c) >= 0x20 && c != 0x7F));
        }
    }
}

TEST_CASE("a hundred mistakes in one file are a hundred messages") {
    std::string text = "[breaker.b]\n";
    for (int i = 0; i < 100; ++i)
        text += "[conductor.c" + std::to_string(i) + "]\nlength = \"" + std::to_string(i + 1) + " mn\"\n";
    const Built built(text);
    CHECK_FALSE(built.model);
    CHECK(built.messages.error_count() == 100);
}

TEST_CASE("thousands of wrong references cost no more than a moment") {
    std::string text;
    for (int i = 0; i < 1900; ++i)
        text += "[conductor.conductor-number-" + std::to_string(i) + "]\nprotected_by = \"conductor-numbr-" +
                std::to_string(i) + "\"\nlenght = \"1 m\"\n";
    const Built built(text);
    CHECK(built.messages.error_count() == 3800);
}
