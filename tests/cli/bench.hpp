// A run of the program on streams, a folder of its own and a small invented rule set.
#pragma once

#include <string>

#include "engine/cli/run.hpp"

namespace packproof::bench {

struct Outcome {
    int code = -1;
    std::string out;
    std::string err;
};

struct Terminal {
    bool out = false;
    bool err = false;
    std::string no_color;
    std::string term = "xterm";
};

[[nodiscard]] Outcome call(const std::vector<std::string>& arguments, const Terminal& terminal = {});

/// The rules that are built in instead of the small set.
[[nodiscard]] Outcome call_with_real_rules(const std::vector<std::string>& arguments);

/// Standard output is a device that takes nothing.
[[nodiscard]] Outcome call_with_full_disk(const std::vector<std::string>& arguments);

/// An empty folder that is gone after the test.
class Folder {
  public:
    Folder();
    ~Folder();
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;

    /// Writes a file, with the folders that it needs, and gives its path.
    std::string write(const std::string& name, const std::string& text) const;
    [[nodiscard]] std::string path(const std::string& name = "") const;

  private:
    std::string path_;
};

[[nodiscard]] std::string read(const std::string& path);

/// Descriptions under the small rule set.
extern const std::string conforming;  ///< 100 A device, 174 A conductor
extern const std::string failing;     ///< 200 A device, 174 A conductor: critical
extern const std::string undecided;   ///< 174 A ± 5 A device, 174 A conductor
extern const std::string broken;      ///< two mistakes

}  // namespace packproof::bench
