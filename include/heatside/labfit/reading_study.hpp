#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "heatside/labfit/oven_test.hpp"
#include "heatside/labfit/straight_line.hpp"

/// Readings of a property over time: when its end point is crossed, and how much faster it changes in a hotter oven.
///
/// @par Tested by  tests/labfit/readings_test.cpp

namespace heatside::labfit {

/// How the crossing of one specimen is found.
enum class CrossingRule {
  interpolate,   ///< straight between the readings before and after
  through_start  ///< least-squares line through the value at 0 h, drawn on to the end point
};

/// A value of the property that ends life: stated, or as a share of the value at 0 h.
struct EndPoint {
  std::optional<double> value;     ///< in the unit of the property
  std::optional<double> retained;  ///< of the initial value, inside (0, 1)
  std::optional<double> initial;   ///< value at 0 h; empty: the mean of the readings at 0 h
  CrossingRule rule = CrossingRule::interpolate;
};

/// When the mean of the readings at one temperature crosses the end point.
struct Crossing {
  Kelvin temperature{ice_point_kelvin};
  std::size_t readings{};
  std::optional<Hours> hours;      ///< empty: not reached within the test
  std::optional<double> ln_error;  ///< standard error of ln hours, from the scatter of the readings beside the crossing
  bool crosses_again = false;      ///< later means lie on the near side again
};

/// How far the curve of one temperature lies behind that of the reference temperature on the axis of ln time.
struct ShiftFactor {
  Kelvin temperature{ice_point_kelvin};
  double ln_factor{};  ///< ln of hours there over hours at the reference temperature
  std::optional<double>
      ln_error;  ///< standard error; empty for the reference temperature and where nothing is left to judge it
};

/// Two ways of ageing side by side: rate = A exp(-E1/RT) + B exp(-E2/RT).
struct TwoPaths {
  double low_energy{}, high_energy{};  ///< kJ/mol
  double low_share{};                  ///< of the rate at the reference temperature
  double residual_sum{};               ///< of ln factors
};

/// Curves of all temperatures laid over each other by moving them along ln time.
struct Superposition {
  Kelvin reference{ice_point_kelvin};
  std::vector<double> levels;                  ///< values of the property at which distances are taken
  std::vector<Hours> master;                   ///< hours at the reference temperature to each level
  std::vector<ShiftFactor> factors;            ///< coolest first
  double residual_sd{};                        ///< of ln hours, about the master curve
  StraightLine line;                           ///< of ln factor on 1/T
  double energy{};                             ///< kJ/mol
  std::optional<double> energy_lo, energy_hi;  ///< 95 %, from the scatter of the factors about the line; Student's t
  std::optional<TwoPaths> two_paths;  ///< empty with fewer than five temperatures, or where two paths do no better than one
  std::optional<double> curvature_probability;  ///< F test of two paths against one; empty where it cannot be made
  std::string verdict;                          ///< whether one path or two, in words, and how far the data bear it
};

/// Readings that fall in proportion to themselves: ln value = ln start - k(T) t, k Arrhenius, all temperatures at once.
struct FirstOrder {
  double ln_start{};
  double rate{};    ///< at the mean temperature [1/h]
  double energy{};  ///< kJ/mol
  double energy_error{};
  double residual_sd{};  ///< of ln value
};

struct ReadingStudy {
  double end_point{};             ///< in the unit of the property
  std::optional<double> initial;  ///< value at 0 h
  bool falling{};
  bool repeated{};                            ///< specimens were read more than once, so each has a life of its own
  std::vector<Crossing> crossings;            ///< of the mean readings, coolest first
  std::optional<StraightLine> crossing_line;  ///< ln hours on 1/T, weighed by certainty where it is known
  /// Of that line at its mean 1/T, where level and slope are not entangled: from the errors of the crossings, or from their
  /// scatter about the line where that is larger. Empty where neither is known.
  std::optional<double> level_variance, slope_variance;          ///< [1], [K2]
  std::optional<double> crossing_energy, crossing_energy_error;  ///< kJ/mol
  std::optional<Superposition> superposition;
  std::string superposition_why_not;
  std::optional<FirstOrder> first_order;
  std::vector<std::string> warnings;
};

/// @throws DomainError  no end point, an end point on the far side of the start, readings of one temperature only
[[nodiscard]] ReadingStudy reading_study(const ReadingTest& test, const EndPoint& end_point);

/// Lives of specimens that were read more than once: exact where the end point was crossed, else still alive.
/// @throws DomainError  as `reading_study`; or the rule draws a line that never gets to the end point
[[nodiscard]] LifeTest lives_of(const ReadingTest& test, const EndPoint& end_point);

}  // namespace heatside::labfit
