#pragma once

#include <cstdint>
#include <cstring>

/// Four doubles at a time and an exponential of our own: the same digits from every compiler, instruction set and
/// C library. Needs arithmetic without contraction, as the whole project is compiled.
///
/// Functions here take references: by value, the way of passing would depend on the instruction set.

namespace heatside {

using FourDoubles = double __attribute__((vector_size(32)));
using FourWords = std::int64_t __attribute__((vector_size(32)));

#define HEATSIDE_INLINE_ALWAYS inline __attribute__((always_inline))

/// A function marked so may use registers that hold all four lanes; call it only where `wide_registers()` says so.
/// It gives the same digits as its plain twin.
#if defined(__x86_64__) && defined(__GNUC__)
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

}  // namespace heatside
