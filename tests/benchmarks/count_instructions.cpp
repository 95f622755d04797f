// Runs one workload a given number of times and does nothing else, for counting instructions: what a program
// under callgrind counts for N + 10 repetitions less what it counts for N is ten repetitions, exactly.
//   count_instructions parse|inspect FILE N
//   count_instructions rules N
// For the script that calls it also `lines FILE` (of a description with its parts) and `generate FOLDER
// ROUNDS`.
#include <fmt/core.h>

#include <cstdio>
#include <cstdlib>
#include <string_view>

#include "engine/rules/built_in.hpp"
#include "tests/benchmarks/generate_description.hpp"
#include "tests/benchmarks/workload.hpp"

namespace {

using namespace packproof;

int usage() {
    fmt::print(
        stderr,
        "usage: count_instructions parse|inspect FILE N | rules N | lines FILE | generate FOLDER ROUNDS\n");
    return 2;
}

int repeat_parse(const std::string& path, long times) {
    const std::vector<std::string> texts = benchmarks::texts_of(path);
    std::size_t sum = 0;
    for (long i = 0; i < times; ++i)
        for (const std::string& text : texts)
            sum += benchmarks::parse_alone(text);
    return sum > 0 ? 0 : 1;
}

int repeat_inspect(const std::string& path, long times) {
    const rules::RuleSet rules = rules::built_in_rules();
    std::size_t sum = 0;
    for (long i = 0; i < times; ++i)
        sum += benchmarks::inspect_file(path, rules);
    return sum > 0 ? 0 : 1;
}

int repeat_rules(long times) {
    std::size_t sum = 0;
    for (long i = 0; i < times; ++i)
        sum += benchmarks::read_built_in_rules();
    return sum > 0 ? 0 : 1;
}

int print_lines(const std::string& path) {
    std::size_t lines = 0;
    for (const std::string& text : benchmarks::texts_of(path))
        lines += benchmarks::count_lines(text);
    fmt::print("{}\n", lines);
    return 0;
}

int generate(const std::string& folder, long rounds) {
    const std::string path = benchmarks::write_generated(folder, static_cast<std::size_t>(rounds));
    fmt::print("{}\n", path);
    return 0;
}

}  // namespace

int main(int argc, char** argv) {
    if (argc < 3) return usage();
    const std::string_view what = argv[1];
    if (what == "lines") return print_lines(argv[2]);
    const long number = std::strtol(argv[argc - 1], nullptr, 10);
    if (number <= 0) return usage();
    if (what == "rules") return repeat_rules(number);
    if (argc < 4) return usage();
    if (what == "parse") return repeat_parse(argv[2], number);
    if (what == "inspect") return repeat_inspect(argv[2], number);
    if (what == "generate") return generate(argv[2], number);
    return usage();
}
