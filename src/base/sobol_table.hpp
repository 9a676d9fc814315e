#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

#include "heatside/base/random.hpp"

namespace heatside {

/// Direction numbers of as many Sobol dimensions as are used, for `boost::random::sobol_engine`. The library's own table has
/// 3667 dimensions and takes more room than all formulas of a program.
///
/// @par Source     S. Joe and F. Y. Kuo 2008, SIAM J. Sci. Comput. 30, 2635-2654: new-joe-kuo-6
/// @par Tested by  tests/base/random_test.cpp: against the library's own table
struct SobolTable {
  using value_type = std::uint16_t;
  static constexpr unsigned max_dimension = most_spread_dimensions;
  static constexpr unsigned num_polynomials = max_dimension - 1;
  static constexpr unsigned max_degree = 8;

  /// Bits of the coefficients of a primitive polynomial, for the dimension after the first one.
  [[nodiscard]] static constexpr value_type polynomial(std::size_t n) { return polynomials[n]; }
  /// Starting direction numbers of the same dimension; 0 from its degree on.
  [[nodiscard]] static constexpr value_type minit(std::size_t n, std::size_t degree) { return starts[n][degree]; }

 private:
  static constexpr std::array<value_type, num_polynomials> polynomials{
      3,   7,   11,  13,  19,  25,  37,  41,  47,  55,  59,  61,  67,  91,  97,  103, 109, 115, 131, 137,
      143, 145, 157, 167, 171, 185, 191, 193, 203, 211, 213, 229, 239, 241, 247, 253, 285, 299, 301};
  static constexpr std::array<std::array<value_type, max_degree>, num_polynomials> starts{{
      {1},
      {1, 3},
      {1, 3, 1},
      {1, 1, 1},
      {1, 1, 3, 3},
      {1, 3, 5, 13},
      {1, 1, 5, 5, 17},
      {1, 1, 5, 5, 5},
      {1, 1, 7, 11, 19},
      {1, 1, 5, 1, 1},
      {1, 1, 1, 3, 11},
      {1, 3, 5, 5, 31},
      {1, 3, 3, 9, 7, 49},
      {1, 1, 1, 15, 21, 21},
      {1, 3, 1, 13, 27, 49},
      {1, 1, 1, 15, 7, 5},
      {1, 3, 1, 15, 13, 25},
      {1, 1, 5, 5, 19, 61},
      {1, 3, 7, 11, 23, 15, 103},
      {1, 3, 7, 13, 13, 15, 69},
      {1, 1, 3, 13, 7, 35, 63},
      {1, 3, 5, 9, 1, 25, 53},
      {1, 3, 1, 13, 9, 35, 107},
      {1, 3, 1, 5, 27, 61, 31},
      {1, 1, 5, 11, 19, 41, 61},
      {1, 3, 5, 3, 3, 13, 69},
      {1, 1, 7, 13, 1, 19, 1},
      {1, 3, 7, 5, 13, 19, 59},
      {1, 1, 3, 9, 25, 29, 41},
      {1, 3, 5, 13, 23, 1, 55},
      {1, 3, 7, 3, 13, 59, 17},
      {1, 3, 1, 3, 5, 53, 69},
      {1, 1, 5, 5, 23, 33, 13},
      {1, 1, 7, 7, 1, 61, 123},
      {1, 1, 7, 9, 13, 61, 49},
      {1, 3, 3, 5, 3, 55, 33},
      {1, 3, 1, 15, 31, 13, 49, 245},
      {1, 3, 5, 15, 31, 59, 63, 97},
      {1, 3, 1, 11, 11, 11, 77, 249},
  }};
};

}  // namespace heatside
