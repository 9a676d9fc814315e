#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "heatside/base/units.hpp"

namespace heatside::labfit {

/// A point of a straight line, in units of the caller's.
struct LinePoint {
  double x, y;
  double weight = 1.0;  ///< above 0; the variance of y is taken as residual variance / weight
};

/// y = intercept + slope x by least squares.
struct StraightLine {
  double intercept, slope;
  double mean_x;                          ///< weighted
  double level;                           ///< y at mean_x, the point of least uncertainty
  double residual_sum;                    ///< weighted sum of squared residuals
  std::size_t degrees;                    ///< points - 2
  std::optional<double> residual_sd;      ///< empty with two points
  std::optional<double> intercept_error;  ///< standard error
  std::optional<double> slope_error;
  double share_explained;  ///< R squared
};

/// Weighted least-squares line, computed about the mean so that a shift or a rescaling of x costs no digits.
///
/// @throws DomainError  fewer than two points, or all at one x
/// @par Tested by  tests/labfit/straight_line_test.cpp against published regressions
[[nodiscard]] StraightLine straight_line(const std::vector<LinePoint>& points);

/// Ea = R slope of ln life on 1/T, or of minus ln rate on 1/T.
/// @param slope  [K]
[[nodiscard]] JoulePerMole activation_energy_from_slope(KelvinRise slope);

/// Plotting positions (i - 0.3)/(n + 0.4) of ordered lives: failures in rising order of `n` specimens on test.
/// @par Source  median ranks after Bernard and Bos-Levenbach, as in NIST/SEMATECH e-Handbook 8.4.2.1
[[nodiscard]] std::vector<double> plotting_positions(std::size_t failures, std::size_t specimens);

}  // namespace heatside::labfit
