// A short fingerprint of text, to tell versions of inputs and rules apart (FNV-1a, 64 bit: no protection
// against forgery).
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

namespace packproof::text {

class Digest {
  public:
    void add(std::string_view bytes) {
        for (const char c : bytes)
            state_ = (state_ ^ static_cast<unsigned char>(c)) * 0x100000001b3ULL;
        state_ = (state_ ^ 0xffU) * 0x100000001b3ULL;  // so that "ab","c" and "a","bc" differ
    }
    /// Sixteen hexadecimal digits.
    [[nodiscard]] std::string print() const {
        std::string digits(16, '0');
        std::uint64_t rest = state_;
        for (std::size_t i = 16; i-- > 0; rest >>= 4U)
            digits[i] = "0123456789abcdef"[rest & 15U];
        return digits;
    }

  private:
    std::uint64_t state_ = 0xcbf29ce484222325ULL;
};

}  // namespace packproof::text
