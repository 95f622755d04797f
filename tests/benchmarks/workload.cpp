#include "tests/benchmarks/workload.hpp"

#include <fmt/core.h>

#include <cstdio>
#include <cstdlib>
#include <fstream>

#include "engine/document/parts.hpp"
#include "engine/inspect/inspect.hpp"
#include "engine/rules/built_in.hpp"
#include "tests/benchmarks/generate_description.hpp"

namespace packproof::benchmarks {

namespace {

[[noreturn]] void stop(const text::Messages& messages, const text::Sources& sources) {
    for (const text::Message& message : messages.sorted())
        fmt::print(stderr, "{}\n", text::print_message(message, sources));
    std::exit(2);
}

}  // namespace

std::vector<std::string> texts_of(const std::string& path) {
    text::Sources sources;
    text::Messages messages;
    const auto description = document::load_description(path, sources, messages);
    if (!description) stop(messages, sources);
    std::vector<std::string> texts;
    for (const text::SourceIndex file : description->files)
        texts.emplace_back(sources.bytes(file));
    return texts;
}

std::size_t inspect_file(const std::string& path, const rules::RuleSet& rules) {
    text::Sources sources;
    text::Messages messages;
    const auto report = inspect::inspect(path, rules, sources, messages);
    if (!report) stop(messages, sources);
    return report->coverage.applicable;
}

std::size_t read_built_in_rules() {
    return rules::built_in_rules().rules.size();
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
