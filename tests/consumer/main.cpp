// Inspects one description with the built-in rules and prints digest, rules, and findings in the form of
// lines.
#include <iostream>

#include "engine/inspect/inspect.hpp"
#include "engine/rules/built_in.hpp"

int main(int argc, char** argv) {
    if (argc != 2) return 2;
    const auto rules = packproof::rules::built_in_rules();
    packproof::text::Sources sources;
    packproof::text::Messages messages;
    const auto report = packproof::inspect::inspect(argv[1], rules, sources, messages);
    if (!report) return 2;
    std::cout << rules.digest << ' ' << rules.rules.size() << '\n';
    for (const auto& finding : report->findings)
        std::cout << finding.rule_name << ' ' << static_cast<int>(finding.verdict) << '\n';
    return 0;
}
