// How far a long run has come, on a terminal only, on one line that is wiped at the end.
#pragma once

#include <cstddef>
#include <string_view>

#include "engine/cli/surroundings.hpp"

namespace packproof::cli {

class Progress {
  public:
    /// Shown only on a terminal, and only if there is enough to do to wait for it.
    Progress(Surroundings& around, std::size_t total);
    ~Progress();
    Progress(const Progress&) = delete;
    Progress& operator=(const Progress&) = delete;

    void step();
    /// Before anything else is printed.
    void wipe();

  private:
    Surroundings& around_;
    std::size_t total_;
    std::size_t done_ = 0;
    bool shown_ = false;
    bool on_line_ = false;
};

}  // namespace packproof::cli
