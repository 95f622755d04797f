#include "tests/benchmarks/workload.hpp"

#include <fmt/core.h>

#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <sstream>

#include "engine/inspect/inspect.hpp"
#include "engine/rules/built_in.hpp"
#include "tests/benchmarks/generate_description.hpp"

namespace packproof::benchmarks {

std::size_t inspect_file(const std::string& path, const rules::RuleSet& rules) {
    text::Sources sources;
    text::Messages messages;
    const auto report = inspect::inspect(path, rules, sources, messages);
    if (!report) {
        for (const text::Message& message : messages.sorted())
            fmt::print(stderr, "{}\n", text::print_message(message, sources));
        std::exit(2);
    }
    return report->findings.size();
}

std::size_t read_built_in_rules() {
    return rules::built_in_rules().rules.size();
}

std::string read_whole_file(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    std::ostringstream text;
    text << file.rdbuf();
    if (!file || text.str().empty()) {
        fmt::print(stderr, "benchmarks: cannot read {}\n", path);
        std::exit(2);
    }
    return text.str();
}

std::string write_generated(const std::string& folder, std::size_t rounds) {
    const rules::RuleSet rules = rules::built_in_rules();
    const std::size_t fields = fields_for(rules.vocabulary, 150);
    const std::string text = generate_description(rules.vocabulary, rounds, fields);
    const std::string path = fmt::format("{}/generated-{}.toml", folder, rounds);
    std::ofstream(path, std::ios::binary) << text;
    return path;
}

}  // namespace packproof::benchmarks
