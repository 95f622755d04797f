// The same workloads by the stopwatch, for shape: times here move by a quarter from run to run, so that
// nothing is accepted or refused by them.
#include <benchmark/benchmark.h>

#include <cstdlib>
#include <filesystem>

#include "engine/document/read_toml.hpp"
#include "engine/language/check.hpp"
#include "engine/language/evaluate.hpp"
#include "engine/model/build_model.hpp"
#include "engine/rules/built_in.hpp"
#include "tests/benchmarks/workload.hpp"

namespace {

using namespace packproof;

const std::string& example() {
    static const std::string path = PACKPROOF_SOURCE_DIR "/specs/cabin/pack.toml";
    return path;
}

void parser_library_alone(benchmark::State& state) {
    const std::vector<std::string> texts = benchmarks::texts_of(example());
    for (auto _ : state)
        for (const std::string& text : texts)
            benchmark::DoNotOptimize(benchmarks::parse_alone(text));
}
BENCHMARK(parser_library_alone)->Unit(benchmark::kMicrosecond);

void inspection_of_the_example(benchmark::State& state) {
    const rules::RuleSet rules = rules::built_in_rules();
    for (auto _ : state)
        benchmark::DoNotOptimize(benchmarks::inspect_file(example(), rules));
}
BENCHMARK(inspection_of_the_example)->Unit(benchmark::kMicrosecond);

void inspection_by_size(benchmark::State& state) {
    const rules::RuleSet rules = rules::built_in_rules();
    const std::string folder = std::filesystem::temp_directory_path().string();
    const std::string path = benchmarks::write_generated(folder, static_cast<std::size_t>(state.range(0)));
    for (auto _ : state)
        benchmark::DoNotOptimize(benchmarks::inspect_file(path, rules));
    state.SetComplexityN(state.range(0));
}
BENCHMARK(inspection_by_size)->RangeMultiplier(2)->Range(1, 16)->Complexity()->Unit(benchmark::kMicrosecond);

void built_in_rules_from_flat_form(benchmark::State& state) {
    for (auto _ : state)
        benchmark::DoNotOptimize(benchmarks::read_built_in_rules());
}
BENCHMARK(built_in_rules_from_flat_form)->Unit(benchmark::kMicrosecond);

/// A vocabulary of one kind with three lengths, so that the expression is all that is measured.
model::Vocabulary three_lengths() {
    model::Kind kind;
    kind.name = "beam";
    for (const char* name : {"a", "b", "c"}) {
        model::Field field;
        field.name = name;
        field.unit = *units::read_unit("mm");
        field.most = 1e9;
        kind.fields.push_back(field);
    }
    model::Vocabulary vocabulary;
    vocabulary.kinds.push_back(kind);
    return vocabulary;
}

void one_expression(benchmark::State& state) {
    const model::Vocabulary vocabulary = three_lengths();
    text::Sources sources;
    text::Messages messages;
    document::Description description;
    description.source =
        sources.add("beam.toml", "[beam.x]\na = \"12 ± 0.1 mm\"\nb = \"3 mm\"\nc = \"40 mm\"\n");
    if (const auto root = document::read_toml(description.source, sources, messages))
        description.root = *root;
    const auto model = model::build_model(description, vocabulary, sources, messages);

    std::vector<language::Mistake> mistakes;
    auto expression = language::parse("a * b * 1.25 <= c * c", mistakes);
    language::Names names;
    names.vocabulary = &vocabulary;
    if (!model || !expression || !language::check(*expression, 0, names, mistakes)) std::abort();
    language::Context context;
    context.model = &*model;
    for (auto _ : state)
        benchmark::DoNotOptimize(language::evaluate(*expression, 0, context));
}
BENCHMARK(one_expression);

}  // namespace

BENCHMARK_MAIN();
