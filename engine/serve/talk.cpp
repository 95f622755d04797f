#include <poll.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <ostream>

#include "engine/serve/session.hpp"

namespace packproof::serve {

namespace {

bool more_waits(int input) {
    pollfd waiting{input, POLLIN, 0};
    return ::poll(&waiting, 1, 0) > 0 && (waiting.revents & (POLLIN | POLLHUP)) != 0;
}

}  // namespace

int talk(int input, std::ostream& output, Session& session) {
    std::array<char, 65536> block;
    while (!session.ended()) {
        const ssize_t count = ::read(input, block.data(), block.size());
        if (count < 0 && errno == EINTR) continue;
        if (count <= 0) break;
        output << session.receive({block.data(), static_cast<std::size_t>(count)});
        if (!session.ended() && !more_waits(input)) output << session.settle();
        output.flush();
        if (!output) return 1;
    }
    return session.exit_code();
}

}  // namespace packproof::serve
