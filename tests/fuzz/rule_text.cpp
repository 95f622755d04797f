// Any text as a file of rules: alone and on top of the built-in ones.
#include <vector>

#include "engine/rules/built_in.hpp"
#include "engine/rules/flatten.hpp"
#include "engine/rules/load_rules.hpp"
#include "tests/fuzz/oracle.hpp"

namespace {

using namespace packproof;

std::string load(std::string_view text, const rules::RuleSet* base) {
    text::Sources sources;
    text::Messages messages;
    const std::vector<text::SourceIndex> files{sources.add("rules.toml", std::string{text})};
    const auto loaded = rules::load_rules(files, sources, messages, base);
    fuzz::demand(loaded.has_value() != messages.has_errors(), "rules load unless there is an error");
    fuzz::demand_good_messages(messages, sources);
    std::string result = fuzz::print_messages(messages, sources);
    if (!loaded) return result;
    const std::string bytes = rules::flatten(*loaded);
    fuzz::demand(rules::flatten(rules::unflatten(bytes)) == bytes,
                 "the flat form keeps everything that it has");
    return result + bytes;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    static const rules::RuleSet built_in = rules::built_in_rules();
    const std::string_view text = fuzz::as_text(data, size);
    fuzz::demand(load(text, nullptr) == load(text, nullptr), "a second run gives the same bytes");
    load(text, &built_in);
    return 0;
}
