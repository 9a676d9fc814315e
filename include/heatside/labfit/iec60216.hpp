#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "heatside/labfit/oven_test.hpp"

namespace heatside::labfit {

/// A statistic set against its 95 % limit.
struct LimitTest {
  double statistic, limit;
  double probability;  ///< of a statistic at least as large by chance alone
  [[nodiscard]] bool accepted() const { return statistic <= limit; }
};

/// Calculation of IEC 60216-3 for complete data, every step of it. All logarithms natural, of hours; x = 1/T [1/K].
struct Iec60216 {
  struct Group {
    Kelvin temperature{ice_point_kelvin};
    std::size_t specimens{};
    double mean_ln{};
    std::optional<double> variance_ln;  ///< empty with one specimen
  };
  std::vector<Group> groups;  ///< coolest first
  std::size_t specimens{};    ///< N
  double mean_x{};            ///< [1/K]
  double mean_ln{};
  double spread_x{};  ///< mu2(x) = sum n (x - mean)^2 / N [1/K2]
  double intercept{};
  double slope{};                        ///< [K]
  double within_variance{};              ///< s1 squared, about the group means
  std::optional<double> about_variance;  ///< s2 squared, of the group means about the line; empty with two temperatures
  double dispersion_correction{};        ///< c
  std::optional<LimitTest> dispersion;   ///< empty where it cannot be tested
  std::string dispersion_note;           ///< why it could not be tested, or which groups were left out
  std::optional<LimitTest> linearity;    ///< empty with two temperatures
  double variance{};                     ///< s squared, pooled; s1 inflated by F/F0 first where linearity fails
  double student_t{};                    ///< one-sided 95 %, N - 2 degrees

  Hours hours{20000.0};                    ///< life that the index is stated for
  std::optional<Kelvin> index;             ///< TI; empty where life does not fall with temperature
  std::optional<Kelvin> lower_limit;       ///< TC, lower 95 % limit; empty where the slope is too uncertain to have one
  std::optional<KelvinRise> halving;       ///< HIC, from the index up to half the hours
  std::optional<double> dispersion_ratio;  ///< (TI - TC)/HIC
  std::optional<Kelvin> adjusted_index;    ///< TC + 0.6 HIC where the ratio lies between 0.6 and 1.6
};

/// Lower one-sided 95 % limit of mean ln life at x: a + b x - t s sqrt(1/N + (x - mean)^2/(N mu2)).
[[nodiscard]] double lower_limit_ln(const Iec60216& chain, Kelvin temperature);

/// @param test   every life exact, at least two temperatures, at least one group of two or more specimens
/// @param hours  life of the index, above 0
/// @throws DomainError  the data are not of that kind, or do not scatter at all; the text says which
/// @par Source    IEC 60216-3 (formulas and the rules of reporting from memory; the limit is Fieller's inverse regression)
/// @par Tested by tests/labfit/iec60216_test.cpp against a published data set
[[nodiscard]] Iec60216 iec60216(const LifeTest& test, Hours hours = Hours{20000.0});

/// True where every life is known to the hour, so that the chain can be run.
[[nodiscard]] bool is_complete(const LifeTest& test);

}  // namespace heatside::labfit
