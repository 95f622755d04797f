#include "engine/cli/log.hpp"

#include <spdlog/sinks/null_sink.h>
#include <spdlog/sinks/ostream_sink.h>
#include <spdlog/spdlog.h>

#include <array>

#include "engine/text/safe_print.hpp"

namespace packproof::cli {

namespace {

constexpr std::array<std::string_view, 6> levels{"off", "error", "warning", "info", "debug", "trace"};

}  // namespace

std::span<const std::string_view> log_levels() {
    return levels;
}

void open_log(std::ostream& err, const std::string& level) {
    auto logger = std::make_shared<spdlog::logger>(
        "packproof", std::make_shared<spdlog::sinks::ostream_sink_mt>(err, true));
    logger->set_pattern("packproof: %l: %v");
    logger->set_level(spdlog::level::from_str(level));
    spdlog::set_default_logger(std::move(logger));
}

// spdlog's own default writes to standard output, where only results may stand.
void close_log() {
    spdlog::set_default_logger(
        std::make_shared<spdlog::logger>("", std::make_shared<spdlog::sinks::null_sink_mt>()));
}

void log_debug(std::string_view text) {
    spdlog::debug("{}", text::safe_print(text));
}

}  // namespace packproof::cli
