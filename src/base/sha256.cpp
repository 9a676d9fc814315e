#include "base/sha256.hpp"

#include <array>
#include <bit>
#include <cstdint>

namespace heatside {

namespace {

using Word = std::uint32_t;
using Words = std::array<Word, 8>;
constexpr std::size_t block_bytes = 64;

constexpr std::array<unsigned, 64> first_primes() {
  std::array<unsigned, 64> primes{};
  std::size_t found = 0;
  for (unsigned number = 2; found < primes.size(); ++number) {
    bool divided = false;
    for (std::size_t i = 0; i < found; ++i) divided = divided || number % primes[i] == 0;
    if (!divided) primes[found++] = number;
  }
  return primes;
}

// The first 32 bits of the part of the power-th root of n behind the point, by whole numbers alone: the largest r with
// r^power <= n 2^(32 power), less its whole part.
constexpr Word root_fraction(unsigned n, unsigned power) {
  __extension__ using Wide = unsigned __int128;
  Wide root = 0;
  for (int bit = 36; bit >= 0; --bit) {
    const Wide tried = root | (Wide{1} << bit);
    Wide raised = 1;
    for (unsigned i = 0; i < power; ++i) raised *= tried;
    if (raised <= Wide{n} << (32 * power)) root = tried;
  }
  return static_cast<Word>(root);
}

constexpr std::array<Word, 64> round_constants() {
  std::array<Word, 64> constants{};
  const auto primes = first_primes();
  for (std::size_t i = 0; i < constants.size(); ++i) constants[i] = root_fraction(primes[i], 3);
  return constants;
}

constexpr Words start_words() {
  Words words{};
  const auto primes = first_primes();
  for (std::size_t i = 0; i < words.size(); ++i) words[i] = root_fraction(primes[i], 2);
  return words;
}

std::array<Word, 64> schedule(std::string_view block) {
  std::array<Word, 64> w{};
  for (std::size_t i = 0; i < block_bytes; ++i) w[i / 4] = w[i / 4] << 8 | static_cast<unsigned char>(block[i]);
  for (std::size_t i = 16; i < w.size(); ++i) {
    const Word low = std::rotr(w[i - 15], 7) ^ std::rotr(w[i - 15], 18) ^ w[i - 15] >> 3;
    const Word high = std::rotr(w[i - 2], 17) ^ std::rotr(w[i - 2], 19) ^ w[i - 2] >> 10;
    w[i] = w[i - 16] + low + w[i - 7] + high;
  }
  return w;
}

void mix_in(std::string_view block, Words& state) {
  static constexpr std::array<Word, 64> constants = round_constants();
  const std::array<Word, 64> w = schedule(block);
  auto [a, b, c, d, e, f, g, h] = state;
  for (std::size_t i = 0; i < w.size(); ++i) {
    const Word choice = (e & f) ^ (~e & g), majority = (a & b) ^ (a & c) ^ (b & c);
    const Word one = h + (std::rotr(e, 6) ^ std::rotr(e, 11) ^ std::rotr(e, 25)) + choice + constants[i] + w[i];
    const Word two = (std::rotr(a, 2) ^ std::rotr(a, 13) ^ std::rotr(a, 22)) + majority;
    h = g, g = f, f = e, e = d + one;
    d = c, c = b, b = a, a = one + two;
  }
  const Words mixed{a, b, c, d, e, f, g, h};
  for (std::size_t i = 0; i < state.size(); ++i) state[i] += mixed[i];
}

// What is left after the whole blocks, a one bit, noughts, and the length in bits.
std::string tail_of(std::string_view bytes) {
  std::string tail{bytes.substr(bytes.size() / block_bytes * block_bytes)};
  tail += '\x80';
  while (tail.size() % block_bytes != block_bytes - 8) tail += '\0';
  const std::uint64_t bits = std::uint64_t{bytes.size()} * 8;
  for (int shift = 56; shift >= 0; shift -= 8) tail += static_cast<char>(bits >> shift & 0xffu);
  return tail;
}

}  // namespace

std::string sha256_bytes(std::string_view bytes) {
  static constexpr Words start = start_words();
  Words state = start;
  const std::string tail = tail_of(bytes);
  for (std::size_t at = 0; at + block_bytes <= bytes.size(); at += block_bytes) mix_in(bytes.substr(at, block_bytes), state);
  for (std::size_t at = 0; at < tail.size(); at += block_bytes)
    mix_in(std::string_view{tail}.substr(at, block_bytes), state);
  std::string digest;
  for (const Word word : state) {
    for (int shift = 24; shift >= 0; shift -= 8) digest += static_cast<char>(word >> shift & 0xffu);
  }
  return digest;
}

std::string sha256(std::string_view bytes) {
  constexpr std::string_view digits = "0123456789abcdef";
  std::string hex;
  for (const char byte : sha256_bytes(bytes)) {
    hex += digits[static_cast<unsigned char>(byte) >> 4];
    hex += digits[static_cast<unsigned char>(byte) & 0xfu];
  }
  return hex;
}

std::string base64(std::string_view bytes) {
  constexpr std::string_view letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string text;
  for (std::size_t at = 0; at < bytes.size(); at += 3) {
    Word group = 0;
    for (std::size_t i = at; i < at + 3; ++i)
      group = group << 8 | (i < bytes.size() ? static_cast<unsigned char>(bytes[i]) : 0u);
    for (std::size_t i = 0; i < 4; ++i) text += i <= bytes.size() - at ? letters[group >> (18 - 6 * i) & 0x3fu] : '=';
  }
  return text;
}

}  // namespace heatside
