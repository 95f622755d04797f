#include "engine/text/utf8.hpp"

namespace packproof::text {

namespace {

/// Length and least value of a sequence by its first byte; length 0: no first byte.
struct Sequence {
    std::size_t length;
    char32_t first_bits;
    char32_t least;
};

Sequence sequence_of(unsigned char first) {
    if (first < 0x80U) return {1, first, 0};
    if (first >= 0xC2U && first <= 0xDFU) return {2, first & 0x1FU, 0x80};
    if (first >= 0xE0U && first <= 0xEFU) return {3, first & 0x0FU, 0x800};
    if (first >= 0xF0U && first <= 0xF4U) return {4, first & 0x07U, 0x10000};
    return {0, 0, 0};
}

}  // namespace

CodePoint code_point_at(std::string_view text, std::size_t offset) {
    const Sequence sequence = sequence_of(static_cast<unsigned char>(text[offset]));
    if (sequence.length == 0 || offset + sequence.length > text.size()) return {};
    char32_t value = sequence.first_bits;
    for (std::size_t i = 1; i < sequence.length; ++i) {
        const auto byte = static_cast<unsigned char>(text[offset + i]);
        if ((byte & 0xC0U) != 0x80U) return {};
        value = (value << 6U) | (byte & 0x3FU);
    }
    const bool surrogate = value >= 0xD800 && value <= 0xDFFF;
    if (value < sequence.least || surrogate || value > 0x10FFFF) return {};
    return {value, sequence.length, true};
}

void append_utf8(std::string& text, char32_t code_point) {
    const auto put = [&text](char32_t byte) { text.push_back(static_cast<char>(byte)); };
    if (code_point < 0x80) {
        put(code_point);
    } else if (code_point < 0x800) {
        put(0xC0 | (code_point >> 6U));
        put(0x80 | (code_point & 0x3FU));
    } else if (code_point < 0x10000) {
        put(0xE0 | (code_point >> 12U));
        put(0x80 | ((code_point >> 6U) & 0x3FU));
        put(0x80 | (code_point & 0x3FU));
    } else {
        put(0xF0 | (code_point >> 18U));
        put(0x80 | ((code_point >> 12U) & 0x3FU));
        put(0x80 | ((code_point >> 6U) & 0x3FU));
        put(0x80 | (code_point & 0x3FU));
    }
}

}  // namespace packproof::text
