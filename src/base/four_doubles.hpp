#pragma once

#include <cstddef>
#include <cstdint>
#include <cstring>

/// Four doubles at a time, and an exponential, a logarithm and a normal share of our own: the same digits from every
/// compiler, instruction set and C library. Needs arithmetic without contraction, as the whole project is compiled.
///
/// Functions here take references: by value, the way of passing would depend on the instruction set.

namespace heatside {

using FourDoubles = double __attribute__((vector_size(32)));
using FourWords = std::int64_t __attribute__((vector_size(32)));
using FourNaturals = std::uint64_t __attribute__((vector_size(32)));

#define HEATSIDE_INLINE_ALWAYS inline __attribute__((always_inline))

/// A function marked so may use registers that hold all four lanes; call it only where `wide_registers()` says so.
/// It gives the same digits as its plain twin. Benchmarks can ask for the plain ones alone.
#if defined(__x86_64__) && defined(__GNUC__) && !defined(HEATSIDE_PLAIN_REGISTERS)
#define HEATSIDE_WIDE_REGISTERS __attribute__((target("avx2")))
inline bool wide_registers() { return __builtin_cpu_supports("avx2") != 0; }
#else
#define HEATSIDE_WIDE_REGISTERS
constexpr bool wide_registers() { return false; }
#endif

HEATSIDE_INLINE_ALWAYS void load(FourDoubles& lanes, const double* from) { std::memcpy(&lanes, from, sizeof lanes); }
HEATSIDE_INLINE_ALWAYS void store(const FourDoubles& lanes, double* to) { std::memcpy(to, &lanes, sizeof lanes); }

/// Replaces each x by e^x, to 1 unit in the last place.
///
/// @par Valid where  |x| <= 700
/// @par Source       reduction by ln 2 in two parts: Cody & Waite 1980, Software Manual for the Elementary Functions;
///                   Taylor polynomial of degree 13 on +-ln(2)/2, truncation below 1e-17
/// @par Tested by    tests/base/four_doubles_test.cpp
HEATSIDE_INLINE_ALWAYS void exponential(FourDoubles& x) {
  constexpr double to_integer = 0x1.8p52;            // adding it rounds to the nearest whole number
  constexpr double ln2_high = 0x1.62e42fee00000p-1;  // 32 bits, so that its products below are exact
  constexpr double ln2_low = 0x1.a39ef35793c76p-33;
  constexpr double log2_e = 1.4426950408889634;
  const FourDoubles shifted = x * log2_e + to_integer;
  const FourDoubles whole = shifted - to_integer;
  const FourDoubles high = x - whole * ln2_high;
  const FourDoubles r = high - whole * ln2_low;
  // Even and odd halves of the polynomial: two short chains of products instead of one long one.
  const FourDoubles r2 = r * r;
  const FourDoubles even =
      ((((1.0 / 479001600.0 * r2 + 1.0 / 3628800.0) * r2 + 1.0 / 40320.0) * r2 + 1.0 / 720.0) * r2 + 1.0 / 24.0) * r2 + 0.5;
  const FourDoubles odd =
      ((((1.0 / 6227020800.0 * r2 + 1.0 / 39916800.0) * r2 + 1.0 / 362880.0) * r2 + 1.0 / 5040.0) * r2 + 1.0 / 120.0) * r2 +
      1.0 / 6.0;
  const FourDoubles power = 1.0 + (r + r2 * (even + r * odd));
  x = reinterpret_cast<FourDoubles>(reinterpret_cast<FourWords>(power) + (reinterpret_cast<FourWords>(shifted) << 52));
}

/// Replaces each x by ln x, to 1 unit in the last place.
///
/// @par Valid where  x is finite and at least 2.3e-308: neither 0 nor subnormal
/// @par Source       ln(1 + f) = 2 artanh(f / (2 + f)), its series on sqrt(1/2) .. sqrt(2), truncation below 1e-17
/// @par Tested by    tests/base/four_doubles_test.cpp
HEATSIDE_INLINE_ALWAYS void logarithm(FourDoubles& x) {
  constexpr double ln2_high = 0x1.62e42fee00000p-1;
  constexpr double ln2_low = 0x1.a39ef35793c76p-33;
  constexpr std::uint64_t root_half = 0x3fe6a09e00000000u;  // bits of a number near sqrt(1/2)
  constexpr std::uint64_t mantissa = 0x000fffffffffffffu, bias = 0x4000000000000000u, two_to_52 = 0x4330000000000000u;
  const FourNaturals above = reinterpret_cast<FourNaturals>(x) - root_half;
  // The power of two as a double: put into the last places of 2^52. The bias keeps it from below 0.
  const FourDoubles power = reinterpret_cast<FourDoubles>(((above + bias) >> 52) | two_to_52) - (0x1p52 + 1024.0);
  const FourDoubles f = reinterpret_cast<FourDoubles>((above & mantissa) + root_half) - 1.0;
  const FourDoubles s = f / (2.0 + f);
  const FourDoubles z = s * s, z2 = z * z;
  const FourDoubles even = (((2.0 / 19.0 * z2 + 2.0 / 15.0) * z2 + 2.0 / 11.0) * z2 + 2.0 / 7.0) * z2 + 2.0 / 3.0;
  const FourDoubles odd = (((2.0 / 21.0 * z2 + 2.0 / 17.0) * z2 + 2.0 / 13.0) * z2 + 2.0 / 9.0) * z2 + 2.0 / 5.0;
  const FourDoubles rest = z * (even + z * odd);
  const FourDoubles half_square = 0.5 * f * f;
  x = power * ln2_high - ((half_square - (s * (half_square + rest) + power * ln2_low)) - f);
}

/// Replaces each x by the share of a standard normal variable that lies below it, to 1e-14 of itself where x < 0 and to
/// 6e-16 where x > 0. Beyond -37.4 it is exactly 0, beyond 37.4 exactly 1.
///
/// @par Valid where  x is a number; infinite ones too
/// @par Source       own approximation: the tail without its exponential, times x + 5, as a polynomial of degree 21 in
///                   1/(x + 5) through Chebyshev nodes, worked out with 50 digits
/// @par Tested by    tests/base/four_doubles_test.cpp, against erfc of the C library
HEATSIDE_INLINE_ALWAYS void normal_share(FourDoubles& x) {
  constexpr double furthest = 37.4;
  constexpr std::int64_t sign = INT64_MIN, upper_bits = ~((std::int64_t{1} << 27) - 1);
  const FourWords words = reinterpret_cast<FourWords>(x);
  const FourDoubles size = reinterpret_cast<FourDoubles>(words & ~sign);
  const FourWords within = size <= furthest;
  // Beyond, any number does: it is blanked out.
  const FourDoubles a = reinterpret_cast<FourDoubles>(reinterpret_cast<FourWords>(size) & within);
  const FourDoubles r = 1.0 / (a + 5.0);
  const FourDoubles u = 1.263157894736842 - 11.31578947368421 * r, u2 = u * u;
  FourDoubles even = 1.8637045665804914e-10 * u2 - 3.0589344853408926e-09;
  even = (even * u2 + 3.2108265785524274e-08) * u2 - 2.7598129087813185e-07;
  even = (even * u2 + 1.7315851123816932e-06) * u2 + 4.907573539236627e-06;
  even = (even * u2 - 5.170351066461888e-04) * u2 + 1.0886455839231788e-02;
  even = (even * u2 + 0.12782105422764514) * u2 + 0.48357981526923144;
  even = even * u2 + 0.8537846698997347;
  FourDoubles odd = 1.6191202185727082e-10 * u2 - 2.0836836088213108e-09;
  odd = (odd * u2 + 1.7988933943897463e-08) * u2 - 1.5486723723042517e-07;
  odd = (odd * u2 + 1.5356555154230134e-06) * u2 - 1.7297591048521104e-05;
  odd = (odd * u2 + 1.879657186380978e-04) * u2 - 8.325940627026425e-04;
  odd = (odd * u2 - 4.548683669893482e-02) * u2 - 0.2762711629836726;
  odd = odd * u2 - 0.7020201186954604;
  // a^2/2 of the upper bits is exact; what is left of the exponent is below 2e-5.
  const FourDoubles upper = reinterpret_cast<FourDoubles>(reinterpret_cast<FourWords>(a) & upper_bits);
  const FourDoubles left = -0.5 * (a - upper) * (a + upper);
  FourDoubles tail = -0.5 * upper * upper;
  exponential(tail);
  tail *= (1.0 + left * (1.0 + 0.5 * left)) * ((even + u * odd) * r);
  tail = reinterpret_cast<FourDoubles>(reinterpret_cast<FourWords>(tail) & within);
  const FourWords is_above = x > 0.0;
  const FourDoubles share = 1.0 - tail;
  x = reinterpret_cast<FourDoubles>((reinterpret_cast<FourWords>(share) & is_above) |
                                    (reinterpret_cast<FourWords>(tail) & ~is_above));
}

/// The same for columns: each of `count` values is replaced, with the widest registers there are.
void exponentials(double* values, std::size_t count);
void logarithms(double* values, std::size_t count);
void normal_shares(double* values, std::size_t count);

}  // namespace heatside
