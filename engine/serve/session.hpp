// One conversation with an editor: the Language Server Protocol 3.17 from bytes to bytes. Whatever comes in,
// the answer is a message or silence, never a crash.
#pragma once

#include <iosfwd>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "engine/rules/rule_set.hpp"

namespace packproof::serve {

struct Setting {
    rules::RuleSet built_in;
    std::vector<std::string> rule_folders;
    std::vector<std::string> libraries;
    std::string version;  ///< of the program
};

class Session {
  public:
    explicit Session(Setting setting);
    ~Session();
    Session(const Session&) = delete;
    Session& operator=(const Session&) = delete;

    /// Takes bytes as they come in, in pieces of any size, and gives the bytes of all answers. Findings are
    /// not told before settle().
    [[nodiscard]] std::string receive(std::string_view bytes);
    /// What is to be told of the texts as they are now.
    [[nodiscard]] std::string settle();

    /// After `exit`, or when no further message can be read.
    [[nodiscard]] bool ended() const;
    /// 0 after `shutdown` and `exit`, else 1.
    [[nodiscard]] int exit_code() const;

  private:
    struct State;
    std::unique_ptr<State> state_;
};

/// Talks on a descriptor and a stream until the end. Everything that has come in is taken in before anything
/// is inspected. Gives the exit code; the end of the input ends it too.
[[nodiscard]] int talk(int input, std::ostream& output, Session& session);

}  // namespace packproof::serve
