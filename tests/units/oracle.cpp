#include "oracle.hpp"

#include <array>
#include <charconv>
#include <cstdio>
#include <memory>

#include <doctest/doctest.h>

namespace packproof::tests {

namespace {

struct Close {
    void operator()(std::FILE* file) const { exit_status = pclose(file); }
    int& exit_status;
};

std::string run(const std::string& command, const char* package) {
    std::string output;
    int status = -1;
    {
        const std::unique_ptr<std::FILE, Close> pipe(popen((command + " 2>&1").c_str(), "r"), Close{status});
        REQUIRE(pipe != nullptr);
        std::array<char, 256> part{};
        while (std::fgets(part.data(), static_cast<int>(part.size()), pipe.get()) != nullptr)
            output += part.data();
    }
    if (status != 0) FAIL("install the Debian package \"", package, "\": ", command, " gave: ", output);
    return output;
}

double number_in(const std::string& text, std::size_t begin) {
    double value = 0.0;
    const auto result = std::from_chars(text.data() + begin, text.data() + text.size(), value);
    REQUIRE_MESSAGE(result.ec == std::errc{}, text);
    return value;
}

}  // namespace

double ask_gnu_units(const std::string& from, const std::string& to) {
    return number_in(run("LC_ALL=C units -t -o '%.15g' '" + from + "' '" + to + "'", "units"), 0);
}

double ask_udunits(const std::string& from, const std::string& to) {
    const std::string output = run("udunits2 -A -H '" + from + "' -W '" + to + "' </dev/null", "udunits-bin");
    const std::size_t equals = output.find("= ");  // "    1 lbf = 4.44822 N"
    REQUIRE_MESSAGE(equals != std::string::npos, output);
    return number_in(output, equals + 2);
}

}  // namespace packproof::tests
