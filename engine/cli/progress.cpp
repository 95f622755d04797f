#include "engine/cli/progress.hpp"

#include <fmt/format.h>

#include <ostream>

namespace packproof::cli {

namespace {

constexpr std::size_t worth_showing = 16;  // files; fewer are done before the eye has found the line

}  // namespace

Progress::Progress(Surroundings& around, std::size_t total)
    : around_(around),
      total_(total),
      shown_(around.err_is_terminal && around.term != "dumb" && total >= worth_showing) {}

Progress::~Progress() {
    wipe();
}

void Progress::step() {
    ++done_;
    if (!shown_) return;
    around_.err << fmt::format("\r{} of {} inspected", done_, total_) << std::flush;
    on_line_ = true;
}

void Progress::wipe() {
    if (on_line_) around_.err << "\r\x1b[K" << std::flush;
    on_line_ = false;
}

}  // namespace packproof::cli
