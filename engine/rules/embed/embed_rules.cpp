// Build tool: loads rules/, checks it, and writes one C++ file that holds it twice: flat for quick starts,
// and as text. A mistake in rules/ stops the build with its place. Call: embed_rules RULES_FOLDER OUTPUT.cpp
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iostream>

#include "engine/document/read_toml.hpp"
#include "engine/rules/flatten.hpp"
#include "engine/rules/load_rules.hpp"

namespace {

using namespace packproof;

void write_literal(std::ostream& out, std::string_view bytes) {
    constexpr std::size_t line_length = 120;
    out << "\"";
    std::size_t column = 0;
    for (const char c : bytes) {
        const auto byte = static_cast<unsigned char>(c);
        if (byte >= 0x20 && byte < 0x7f && c != '"' && c != '\\' && c != '?') {
            out << c;
            column += 1;
        } else {
            const char digits[] = {'\\', static_cast<char>('0' + (byte >> 6U)),
                                   static_cast<char>('0' + ((byte >> 3U) & 7U)),
                                   static_cast<char>('0' + (byte & 7U)), '\0'};
            out << digits;
            column += 4;
        }
        if (column >= line_length) {
            out << "\"\n    \"";
            column = 0;
        }
    }
    out << "\"";
}

void write_source(std::ostream& out, const rules::RuleSet& set, const text::Sources& sources,
                  const std::vector<text::SourceIndex>& files, const std::filesystem::path& folder) {
    const std::string bytes = rules::flatten(set);
    out << "// Made by embed_rules from rules/. Do not edit.\n#include \"engine/rules/built_in.hpp\"\n\n"
        << "namespace packproof::rules {\n\nstd::string_view built_in_bytes() {\n    static constexpr char "
           "bytes[] =\n    ";
    write_literal(out, bytes);
    out << ";\n    return {bytes, " << bytes.size()
        << "};\n}\n\nstd::vector<BuiltInFile> built_in_files() {\n    return {\n";
    auto write_file = [&](const std::string& path, std::string_view text) {
        out << "        {\"rules/" << path << "\", {";
        write_literal(out, text);
        out << ", " << text.size() << "}},\n";
    };
    for (const text::SourceIndex file : files)
        write_file(std::filesystem::relative(std::string(sources.path(file)), folder).string(),
                   sources.bytes(file));
    const std::filesystem::path starter = folder / "starter.toml.txt";
    if (std::ifstream in(starter, std::ios::binary); in)
        write_file("starter.toml.txt", std::string(std::istreambuf_iterator<char>(in), {}));
    out << "    };\n}\n\n} // namespace packproof::rules\n";
}

}  // namespace

int main(int argc, char** argv) {
    if (argc != 3) {
        std::cerr << "usage: embed_rules RULES_FOLDER OUTPUT.cpp\n";
        return 2;
    }
    text::Sources sources;
    text::Messages messages;
    const auto files = rules::read_rule_folder(argv[1], sources, messages);
    const auto set = rules::load_rules(files, sources, messages, nullptr);
    for (const text::Message& message : messages.sorted())
        std::cerr << text::print_message(message, sources) << "\n";
    if (!set || messages.has_errors()) return 2;
    std::ofstream out(argv[2], std::ios::binary);
    write_source(out, *set, sources, files, argv[1]);
    out.flush();
    return out ? 0 : 2;
}
