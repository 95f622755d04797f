// The README shows real output and a worked rule: both are held to what the program does.
#include <doctest/doctest.h>

#include <cctype>
#include <filesystem>
#include <iterator>
#include <sstream>

#include "tests/cli/bench.hpp"

using namespace packproof;

namespace {

/// The source tree as working folder for the length of a test.
class InSourceTree {
  public:
    InSourceTree() : before_(std::filesystem::current_path()) {
        std::filesystem::current_path(PACKPROOF_SOURCE_DIR);
    }
    ~InSourceTree() { std::filesystem::current_path(before_); }
    InSourceTree(const InSourceTree&) = delete;
    InSourceTree& operator=(const InSourceTree&) = delete;

  private:
    std::filesystem::path before_;
};

struct Shown {
    std::string command;
    std::string output;
};

/// Without the digests, which change with every example that a rule gains.
std::string without_digests(std::string text) {
    static const std::string word = "digest ";
    for (std::size_t at = text.find(word); at != std::string::npos; at = text.find(word, at + 1))
        for (std::size_t i = at + word.size();
             i < text.size() && std::isxdigit(static_cast<unsigned char>(text[i])); ++i)
            text[i] = '.';
    return text;
}

/// Blocks that begin with "$ build/packproof ...".
std::vector<Shown> shown_runs(const std::string& readme) {
    static const std::string opening = "```console\n$ build/packproof ";
    std::vector<Shown> found;
    for (std::size_t at = readme.find(opening); at != std::string::npos; at = readme.find(opening, at)) {
        at += opening.size();
        const std::size_t line_end = readme.find('\n', at);
        const std::size_t end = readme.find("\n```", line_end);
        REQUIRE(end != std::string::npos);
        found.push_back({readme.substr(at, line_end - at), readme.substr(line_end + 1, end - line_end)});
        at = end;
    }
    return found;
}

}  // namespace

TEST_CASE("every run that the README shows prints what the README shows") {
    const InSourceTree here;
    const std::vector<Shown> runs = shown_runs(bench::read("README.md"));
    CHECK(runs.size() >= 2);
    for (const Shown& shown : runs) {
        CAPTURE(shown.command);
        std::istringstream words(shown.command);
        const std::vector<std::string> call{std::istream_iterator<std::string>(words), {}};
        const bench::Outcome outcome = bench::call_with_real_rules(call);
        CHECK(outcome.err == "");
        CHECK(without_digests(outcome.out) == without_digests(shown.output));
    }
}

TEST_CASE("the README's worked rule is the one that the tests run") {
    const InSourceTree here;
    const std::string readme = bench::read("README.md");
    CHECK(readme.find("```toml\n" + bench::read("tests/inspect/team/house.toml") + "```") !=
          std::string::npos);
    CHECK(readme.find("```toml\n" + bench::read("specs/ten-lines.toml") + "```") != std::string::npos);
    const bench::Folder folder;
    folder.write("house/house.toml", bench::read("tests/inspect/team/house.toml"));
    const bench::Outcome proved =
        bench::call_with_real_rules({"rules", "prove", "--rules", folder.path("house")});
    CHECK(proved.code == 0);
    const bench::Outcome inspected =
        bench::call_with_real_rules({"inspect", "--rules", folder.path("house"),
                                     "specs/cabin/faulty-breaker-too-large-for-the-cable.toml"});
    CHECK(inspected.err == "");
    CHECK(inspected.out.find("house-section") != std::string::npos);
}
