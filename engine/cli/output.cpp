#include "engine/cli/output.hpp"

#include <fmt/format.h>

#include <cerrno>
#include <fstream>
#include <ostream>
#include <system_error>

#include "engine/text/safe_print.hpp"

namespace packproof::cli {

void print_messages(const text::Messages& messages, const text::Sources& sources, Surroundings& around) {
    for (const text::Message& message : messages.sorted())
        around.err << text::print_message(message, sources) << '\n';
}

void print_trouble(std::string_view text, std::string_view hint, Surroundings& around) {
    around.err << fmt::format("packproof: error: {}\n", text::safe_print(text));
    if (!hint.empty()) around.err << fmt::format("packproof: note: {}\n", text::safe_print(hint));
}

void print_note(std::string_view text, Surroundings& around) {
    around.err << fmt::format("packproof: note: {}\n", text::safe_print(text));
}

int put_out(std::string_view text, int code, Surroundings& around) {
    around.out << text;
    around.out.flush();
    if (around.out) return code;
    print_trouble("the result could not be written whole to standard output",
                  "the disk may be full, or the program that reads it has ended", around);
    return exit_trouble;
}

int put_into(const std::string& file, std::string_view text, int code, Surroundings& around) {
    errno = 0;
    std::ofstream out(file, std::ios::binary | std::ios::trunc);
    out << text;
    out.close();
    if (out) return code;
    const std::string why = errno != 0 ? std::generic_category().message(errno) : "the disk may be full";
    print_trouble(fmt::format("the report {} could not be written: {}", file, why), "", around);
    return exit_trouble;
}

bool colour_wanted(Colour asked, const Surroundings& around) {
    if (asked == Colour::always) return true;
    if (asked == Colour::never) return false;
    if (!around.no_color.empty() || around.term == "dumb") return false;
    return around.out_is_terminal;
}

}  // namespace packproof::cli
