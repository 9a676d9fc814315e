#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string_view>
#include <vector>

/// Random numbers by counter: every number is a pure function of (seed, name of the quantity, number of the draw).
/// No generator is passed about, so order, threads and other quantities change nothing, and platforms agree.

namespace heatside {

/// 64-bit FNV-1a hash of the bytes of a name; the same everywhere.
/// @par Source  Fowler, Noll, Vo; IETF draft-eastlake-fnv, offset basis 0xcbf29ce484222325, prime 0x100000001b3
[[nodiscard]] constexpr std::uint64_t hash_of(std::string_view name) {
  std::uint64_t hash = 0xcbf29ce484222325u;
  for (const char letter : name) hash = (hash ^ static_cast<unsigned char>(letter)) * 0x100000001b3u;
  return hash;
}

/// One unknown quantity under one seed.
struct RandomQuantity {
  std::uint64_t seed{};
  std::uint64_t name_hash{};  ///< of a name that no other quantity of the seed has
};

[[nodiscard]] constexpr RandomQuantity random_quantity(std::uint64_t seed, std::string_view name) {
  return {seed, hash_of(name)};
}

/// Random word of one draw: half of a block of Philox4x32-10 whose key is the seed and whose counter is made of the name's
/// hash and draw / 2.
///
/// @par Source     Salmon, Moraes, Dror, Shaw 2011, SC11, doi:10.1145/2063384.2063405
/// @par Tested by  tests/base/random_test.cpp, with the known answers of the generator's distribution
[[nodiscard]] std::uint64_t random_word(const RandomQuantity& quantity, std::uint64_t draw);

/// A block of Philox4x32-10. Written out here because the packaged headers of the generator refuse to compile for
/// WebAssembly.
[[nodiscard]] std::array<std::uint32_t, 4> philox_block(const std::array<std::uint32_t, 4>& counter,
                                                        const std::array<std::uint32_t, 2>& key);

/// The middle of one of 2^52 equal parts of (0, 1); never 0 or 1.
[[nodiscard]] constexpr double uniform_of(std::uint64_t word) { return (static_cast<double>(word >> 12u) + 0.5) * 0x1p-52; }

/// Value below which a standard normal variable falls with this probability, to 2e-15 of its value.
///
/// @param probability  within (0, 1)
/// @par Source     Wichura 1988, algorithm AS 241, Appl. Statist. 37(3), 477-484, doi:10.2307/2347330
/// @par Tested by  tests/base/random_test.cpp, against Boost.Math
[[nodiscard]] double normal_quantile(double probability);

/// Share of a standard normal variable that lies below a score: the inverse of `normal_quantile`.
[[nodiscard]] double normal_share(double score);

/// One draw, uniform on (0, 1), or standard normal.
[[nodiscard]] double uniform_draw(const RandomQuantity& quantity, std::uint64_t draw);
[[nodiscard]] double normal_draw(const RandomQuantity& quantity, std::uint64_t draw);

/// Draws first, first + 1, ...: element i is the single draw first + i, bit by bit.
[[nodiscard]] std::vector<double> uniform_draws(const RandomQuantity& quantity, std::size_t count, std::uint64_t first = 0);
[[nodiscard]] std::vector<double> normal_draws(const RandomQuantity& quantity, std::size_t count, std::uint64_t first = 0);

inline constexpr std::size_t most_spread_dimensions = 40;

/// Evenly spread points in (0, 1)^dimensions, one column a dimension: a Sobol sequence, scrambled anew by each seed.
///
/// Each point is uniform; the first 2^k of a column lie one each in 2^k equal parts. Point i and column d depend on seed, i
/// and d alone: more draws or a further dimension at the end leave the others as they are. 2^-32 is the finest step.
///
/// @param dimensions  1 to 40
/// @param draws       at most 2^32
/// @throws DomainError  too many or no dimensions, or too many draws
/// @par Source     Sobol 1967 with direction numbers of Joe & Kuo 2008 as in Boost.Random; nested scrambling by hashing:
///                 Owen 1995; Burley 2020, J. Comput. Graph. Tech. 9(4)
/// @par Tested by  tests/base/random_test.cpp
[[nodiscard]] std::vector<std::vector<double>> spread_points(std::uint64_t seed, std::size_t dimensions, std::size_t draws);

}  // namespace heatside
