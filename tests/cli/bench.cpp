#include "bench.hpp"

#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>
#include <stdexcept>
#include <vector>

#include "engine/rules/built_in.hpp"
#include "engine/rules/load_rules.hpp"

namespace packproof::bench {

namespace {

constexpr std::string_view small_rules = R"(
[kind.pack]
about = "The pack"
single = true
[kind.pack.field]
name = { form = "text", about = "its name" }
series = { form = "count", least = 1, about = "cells in series" }

[kind.device]
about = "What protects"
[kind.device.field]
rated_current = { form = "quantity", unit = "A", more_than = 0, about = "rated current", ask = "read the label" }

[kind.conductor]
about = "A cable"
caution = "live"
[kind.conductor.field]
capacity = { form = "quantity", unit = "A", more_than = 0, about = "current it may carry" }
length = { form = "quantity", unit = "m", more_than = 0, about = "length", assume = "1 m", assume_basis = [{ status = "common practice" }] }
protected_by = { form = "reference", kinds = ["device"], about = "the device before it" }

[caution.live]
text = "Its terminals stay live."

[quantity.conductor.largest_device]
unit = "A"
value = "capacity * 1"
about = "largest device that may protect it"

[rule.device-protects-conductor]
asks = "Does the device open before the conductor overheats?"
of = "conductor"
when = "protected_by is stated"
demands = "protected_by.rated_current <= largest_device"
class = "critical"
because = "It would overheat."
basis = [{ document = "Invented handbook", clause = "1", status = "recalled" }]
clears = ["protected_by.rated_current"]
[[rule.device-protects-conductor.example]]
verdict = "conforms"
note = "at its limit"
with.device.d = { rated_current = "174 A" }
with.conductor.c = { capacity = "174 A", protected_by = "d" }
[[rule.device-protects-conductor.example]]
verdict = "fails"
with.device.d = { rated_current = "175 A" }
with.conductor.c = { capacity = "174 A", protected_by = "d" }

[rule.conductor-is-short]
asks = "Is the conductor short?"
of = "conductor"
demands = "length <= 5 m"
class = "minor"
because = "Length costs voltage."
basis = [{ status = "common practice", note = "invented" }]
[[rule.conductor-is-short.example]]
verdict = "conforms"
with.conductor.c = { length = "5 m" }
[[rule.conductor-is-short.example]]
verdict = "fails"
with.conductor.c = { length = "5.1 m" }
)";

constexpr std::string_view small_starter = R"([pack]
name = "{{name|My pack|what it is called}}"
series = {{series|16|cells in series}}
)";

std::vector<rules::BuiltInFile> small_files() {
    return {{"rules/small.toml", small_rules}, {"rules/starter.toml.txt", small_starter}};
}

[[noreturn]] void give_up(const text::Messages& messages, const text::Sources& sources) {
    std::string all;
    for (const auto& message : messages.sorted())
        all += text::print_message(message, sources) + "\n";
    throw std::runtime_error(all);
}

rules::RuleSet loaded(text::Sources& sources, std::span<const text::SourceIndex> files,
                      text::Messages& messages) {
    auto set = rules::load_rules(files, sources, messages, nullptr);
    if (!set) give_up(messages, sources);
    return *std::move(set);
}

rules::RuleSet small_rule_set() {
    text::Sources sources;
    text::Messages messages;
    const std::vector files{sources.add("rules/small.toml", std::string(small_rules))};
    return loaded(sources, files, messages);
}

// Takes no byte, as a full disk.
class NoRoom : public std::streambuf {
  protected:
    int overflow(int) override { return traits_type::eof(); }
};

Outcome run_on(const std::vector<std::string>& arguments, cli::Surroundings& around,
               std::ostringstream& err) {
    cli::Workspace workspace;
    const std::vector<std::string> list(arguments);
    Outcome outcome;
    outcome.code = cli::run(list, around, workspace);
    outcome.err = err.str();
    return outcome;
}

}  // namespace

Outcome call(const std::vector<std::string>& arguments, const Terminal& terminal) {
    std::ostringstream out;
    std::ostringstream err;
    cli::Surroundings around{
        out, err, terminal.out, terminal.err, terminal.no_color, terminal.term, small_rule_set, small_files};
    Outcome outcome = run_on(arguments, around, err);
    outcome.out = out.str();
    return outcome;
}

Outcome call_with_real_rules(const std::vector<std::string>& arguments) {
    std::ostringstream out;
    std::ostringstream err;
    cli::Surroundings around{out, err, false, false, "", "", rules::built_in_rules, rules::built_in_files};
    Outcome outcome = run_on(arguments, around, err);
    outcome.out = out.str();
    return outcome;
}

Outcome call_with_full_disk(const std::vector<std::string>& arguments) {
    NoRoom room;
    std::ostream out(&room);
    std::ostringstream err;
    cli::Surroundings around{out, err, false, false, "", "", small_rule_set, small_files};
    return run_on(arguments, around, err);
}

Folder::Folder() {
    std::string pattern = (std::filesystem::temp_directory_path() / "packproof-XXXXXX").string();
    if (mkdtemp(pattern.data()) == nullptr) throw std::runtime_error("no folder for the test");
    path_ = pattern;
}

Folder::~Folder() {
    std::error_code ignored;  // what stays behind lies in the folder for temporary files
    std::filesystem::remove_all(path_, ignored);
}

std::string Folder::path(const std::string& name) const {
    return name.empty() ? path_ : path_ + "/" + name;
}

std::string Folder::write(const std::string& name, const std::string& text) const {
    const std::string whole = path(name);
    std::filesystem::create_directories(std::filesystem::path(whole).parent_path());
    std::ofstream(whole, std::ios::binary) << text;
    return whole;
}

std::string read(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

const std::string conforming = R"([pack]
name = "Good"
[device.d]
rated_current = "100 A"
[conductor.c]
capacity = "174 A"
protected_by = "d"
)";

const std::string failing = R"([pack]
name = "Bad"
[device.d]
rated_current = "200 A"
[conductor.c]
capacity = "174 A"
protected_by = "d"
)";

const std::string undecided = R"([pack]
name = "Open"
[device.d]
rated_current = "174 ± 5 A"
[conductor.c]
capacity = "174 A"
protected_by = "d"
)";

const std::string broken = R"([pack]
nmae = "Broken"
[device.d]
rated_current = "200 mm"
)";

}  // namespace packproof::bench
